/**
 * Boards that grow by themselves, as server-sent events. An event is the whole board as the database has it, with its
 * change number as id: whatever was missed, the next one makes good. Only whoever teaches and projectors hold a stream.
 */
import type { ServerResponse } from 'node:http';
import { Problem } from '../problem.ts';
import type { Board } from './contract-class.ts';

/** A burst of saving becomes one event. */
const PAUSE_MS = 250;
/** So that nothing on the way takes a quiet stream for a dead one. */
const COMMENT_EVERY_MS = 15_000;
const MOST_FOR_ONE = 12;

interface Listener {
  raw: ServerResponse;
  /** Whether whoever listens may still. */
  mayListen: () => boolean;
  /** Change number sent last. */
  sent: number;
  isFull: boolean;
}

interface Channel {
  listeners: Set<Listener>;
  isBusy: boolean;
  isStale: boolean;
}

export class Boards {
  readonly #read: (experimentId: string) => Promise<Board | null>;
  readonly #channels = new Map<string, Channel>();
  #comments: NodeJS.Timeout | null = null;

  /** @param read the board from the database */
  constructor(read: (experimentId: string) => Promise<Board | null>) {
    this.#read = read;
  }

  /** How many streams are open. */
  get open(): number {
    return [...this.#channels.values()].reduce((sum, { listeners }) => sum + listeners.size, 0);
  }

  /** @throws Problem `too-many-boards` */
  requireRoom(experimentId: string): void {
    if ((this.#channels.get(experimentId)?.listeners.size ?? 0) >= MOST_FOR_ONE)
      throw new Problem('too-many-boards', { headers: { 'retry-after': '30' } });
  }

  /** @param sent the change number the other side has already; 0 for none */
  add(experimentId: string, facts: { raw: ServerResponse; mayListen: () => boolean; sent: number }): void {
    const channel = this.#channels.get(experimentId) ?? { listeners: new Set(), isBusy: false, isStale: false };
    this.#channels.set(experimentId, channel);
    const listener: Listener = { ...facts, isFull: false };
    channel.listeners.add(listener);
    facts.raw.once('close', () => this.#remove(experimentId, listener));
    this.#comments ??= setInterval(() => this.#comment(), COMMENT_EVERY_MS).unref();
    this.changed(experimentId);
  }

  /** Something of an experiment was committed. */
  changed(experimentId: string): void {
    const channel = this.#channels.get(experimentId);
    if (!channel) return;
    channel.isStale = true;
    if (!channel.isBusy) void this.#send(experimentId, channel);
  }

  /** Ends every stream; the server closes. */
  close(): void {
    if (this.#comments) clearInterval(this.#comments);
    this.#comments = null;
    for (const { listeners } of this.#channels.values()) for (const { raw } of listeners) raw.end();
    this.#channels.clear();
  }

  async #send(experimentId: string, channel: Channel): Promise<void> {
    channel.isBusy = true;
    channel.isStale = false;
    const board = await this.#read(experimentId).catch(() => undefined);
    if (board !== undefined) this.#sendAll(experimentId, channel, board);
    setTimeout(() => {
      channel.isBusy = false;
      if (channel.isStale) void this.#send(experimentId, channel);
    }, PAUSE_MS).unref();
  }

  #sendAll(experimentId: string, { listeners }: Channel, board: Board | null): void {
    const event = board && `id: ${board.change}\nevent: board\ndata: ${JSON.stringify(board)}\n\n`;
    for (const listener of listeners) {
      const isOver = board === null || board.state === 'closed';
      // The last board of a closed experiment still arrives, though its codes have ended.
      if (!isOver && !listener.mayListen()) listener.raw.end();
      else if (board !== null && event !== null && board.change > listener.sent) {
        this.#write(experimentId, listener, event, board.change);
      }
      if (isOver) listener.raw.end();
    }
  }

  #write(experimentId: string, listener: Listener, event: string, change: number): void {
    // Whoever reads slowly gets the newest board later, not all of those between.
    if (listener.isFull) return;
    listener.sent = change;
    if (listener.raw.write(event)) return;
    listener.isFull = true;
    listener.raw.once('drain', () => {
      listener.isFull = false;
      this.changed(experimentId);
    });
  }

  #comment(): void {
    for (const { listeners } of this.#channels.values())
      for (const { raw, mayListen, isFull } of listeners) {
        if (!mayListen()) raw.end();
        else if (!isFull) raw.write(': still here\n\n');
      }
  }

  #remove(experimentId: string, listener: Listener): void {
    const channel = this.#channels.get(experimentId);
    channel?.listeners.delete(listener);
    if (channel?.listeners.size === 0) this.#channels.delete(experimentId);
    if (this.#channels.size === 0 && this.#comments) {
      clearInterval(this.#comments);
      this.#comments = null;
    }
  }
}
