/**
 * The board as the database has it: a stream while there is one, questions after a drop, what another tab hears. Every
 * event is the whole board with its change number, so whatever was missed, the next one makes good.
 */
import type { Board } from '../../../server/experiments/contract-class.ts';
import { getNow, ProblemError } from '../../api.ts';
import { OneStream } from './one-stream.ts';
import { standingIn } from './standing.ts';
import { timeLimit } from './time-limit.ts';

export interface FeedState {
  board: Board | null;
  /** When the board was last known to be the present one, ms. */
  asOfMs: number;
  isLost: boolean;
  /** The board is not for this browser, or no more. */
  isRefused: boolean;
  /** The class was erased: nothing of it is shown any more. */
  isErased: boolean;
}

interface Answer {
  change: number;
  board: Board | null;
}
type News = Pick<FeedState, 'board' | 'isLost' | 'isRefused' | 'isErased'>;

const ASK_EVERY_MS = 2_000;
/** A stream can be dead without a word: a cable was pulled. */
const CHECK_EVERY_MS = 10_000;
/** A board that grows no more asks only whether its class is still there. */
const STANDING_EVERY_MS = 10_000;
/** A stream that the browser gave up is opened anew. */
const REOPEN_MS = 10_000;

export class BoardFeed {
  readonly #address: string;
  readonly #listeners = new Set<() => void>();
  #state: FeedState = { board: null, asOfMs: Date.now(), isLost: false, isRefused: false, isErased: false };
  #tabs: OneStream<News> | null = null;
  #stream: EventSource | null = null;
  #asking: ReturnType<typeof setInterval> | undefined;
  #checking: ReturnType<typeof setInterval> | undefined;
  #reopening: ReturnType<typeof setTimeout> | undefined;
  #standing: ReturnType<typeof setInterval> | undefined;

  constructor(readonly experimentId: string) {
    this.#address = `/api/experiments/${experimentId}/board`;
  }

  readonly state = (): FeedState => this.#state;
  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  /** @returns how to end it */
  readonly start = (): (() => void) => {
    void this.#ask();
    this.#tabs = OneStream.open<News>(`tarebook.board.${this.experimentId}`, {
      onLead: () => this.#listen(),
      onFollow: () => this.#endStream(),
      onNews: (news) => this.#hear(news),
      latest: () => (this.#state.board === null ? null : this.#news()),
    });
    if (this.#tabs === null) this.#askOn();
    return () => {
      this.#endStream();
      clearInterval(this.#standing);
      this.#tabs?.close();
    };
  };

  #news(): News {
    const { board, isLost, isRefused, isErased } = this.#state;
    return { board, isLost, isRefused, isErased };
  }

  #listen(): void {
    this.#endStream();
    if (this.#isOver()) return;
    const stream = new EventSource(`${this.#address}/stream`);
    this.#stream = stream;
    this.#checking = setInterval(() => void this.#ask(), CHECK_EVERY_MS);
    stream.addEventListener('board', ({ data }: MessageEvent<string>) => this.#take(JSON.parse(data) as Board));
    stream.onopen = () => this.#askNoMore();
    stream.onerror = () => {
      if (this.#isOver()) return this.#endStream();
      this.#askOn();
      // The browser tries again by itself unless the answer was a refusal.
      if (stream.readyState !== EventSource.CLOSED) return;
      clearTimeout(this.#reopening);
      this.#reopening = setTimeout(() => this.#listen(), REOPEN_MS);
    };
  }

  #isOver(): boolean {
    return this.#state.isRefused || this.#state.board?.state === 'closed';
  }

  #endStream(): void {
    this.#stream?.close();
    this.#stream = null;
    clearInterval(this.#checking);
    clearTimeout(this.#reopening);
    this.#askNoMore();
  }

  #askOn(): void {
    if (this.#asking !== undefined) return;
    this.#asking = setInterval(() => void this.#ask(), ASK_EVERY_MS);
    void this.#ask();
  }

  #askNoMore(): void {
    clearInterval(this.#asking);
    this.#asking = undefined;
    // What came between the last answer and the stream is in its first event.
    if (this.#stream) this.#set({ isLost: false, asOfMs: Date.now() });
  }

  async #ask(): Promise<void> {
    const { board } = this.#state;
    try {
      const after = board === null ? '' : `?after=${board.change}`;
      const answer = await getNow<Answer>(this.#address + after, timeLimit());
      if (answer.board) this.#take(answer.board);
      else this.#set({ isLost: false, asOfMs: Date.now() });
    } catch (error) {
      if (error instanceof ProblemError && error.status < 500 && error.status !== 429) this.#refused();
      else this.#lost();
    }
    this.#tabs?.tell(this.#news());
  }

  #lost(): void {
    this.#set({ isLost: true });
    // A stream that still takes itself for open is opened anew, and so says by itself when the server is back.
    if (this.#stream?.readyState === EventSource.OPEN) this.#listen();
  }

  #refused(): void {
    this.#set({ isRefused: true });
    this.#endStream();
    this.#watchStanding();
  }

  #watchStanding(): void {
    if (this.#standing !== undefined || this.#state.isErased) return;
    this.#standing = setInterval(() => void this.#askStanding(), STANDING_EVERY_MS);
    void this.#askStanding();
  }

  async #askStanding(): Promise<void> {
    const standing = await standingIn(this.experimentId, 'board').catch(() => null);
    if (standing !== 'erased') return;
    clearInterval(this.#standing);
    this.#set({ isErased: true, isRefused: true, board: null });
    this.#tabs?.tell(this.#news());
  }

  #take(board: Board): void {
    if (this.#state.isErased || board.change < (this.#state.board?.change ?? 0)) return;
    this.#set({ board, isLost: false, asOfMs: Date.now() });
    this.#tabs?.tell(this.#news());
    if (!this.#isOver()) return;
    this.#endStream();
    this.#watchStanding();
  }

  #hear({ board, isLost, isRefused, isErased }: News): void {
    if (isErased) return this.#set({ isErased, isRefused, isLost, board: null });
    const isOlder = (board?.change ?? 0) < (this.#state.board?.change ?? 0);
    this.#set({
      ...(board && !isOlder ? { board } : {}),
      isLost,
      isRefused,
      ...(isLost ? {} : { asOfMs: Date.now() }),
    });
  }

  #set(changed: Partial<FeedState>): void {
    this.#state = { ...this.#state, ...changed };
    for (const listener of this.#listeners) listener();
  }
}
