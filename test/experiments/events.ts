/** A board's stream as a browser keeps it: events one by one, taken up again from the last one after a drop. */
import { request as httpRequest, type ClientRequest } from 'node:http';
import type { Board } from '../../server/experiments/contract-class.ts';

export interface StreamOptions {
  port: number;
  url: string;
  cookie: string;
  lastEventId?: number;
}

export class BoardStream {
  readonly #sent: ClientRequest;
  readonly boards: Board[] = [];
  readonly comments: string[] = [];
  lastId = 0;
  status = 0;
  headers: Record<string, unknown> = {};
  hasEnded = false;
  #rest = '';
  #heard: () => void = () => undefined;

  constructor({ port, url, cookie, lastEventId = 0 }: StreamOptions) {
    const headers = {
      cookie,
      accept: 'text/event-stream',
      ...(lastEventId > 0 ? { 'last-event-id': lastEventId } : {}),
    };
    this.lastId = lastEventId;
    this.#sent = httpRequest({ port, host: '127.0.0.1', path: url, headers }, (reply) => {
      this.status = reply.statusCode ?? 0;
      this.headers = reply.headers;
      reply.setEncoding('utf8');
      reply.on('data', (text: string) => this.#take(text));
      for (const end of ['end', 'close', 'error'])
        reply.on(end, () => {
          this.hasEnded = true;
          this.#heard();
        });
      this.#heard();
    });
    this.#sent.on('error', () => {
      this.hasEnded = true;
      this.#heard();
    });
    this.#sent.end();
  }

  drop(): void {
    this.#sent.destroy();
  }

  /** Waits until something is so. @throws after ten seconds */
  async until(isSo: (stream: BoardStream) => boolean): Promise<void> {
    const deadline = Date.now() + 10_000;
    while (!isSo(this)) {
      if (Date.now() > deadline) throw new Error(`waited in vain; last board ${this.lastId}, status ${this.status}`);
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, 50);
        this.#heard = () => {
          clearTimeout(timer);
          resolve();
        };
      });
    }
  }

  get board(): Board | undefined {
    return this.boards.at(-1);
  }

  #take(text: string): void {
    const pieces = (this.#rest + text).split('\n\n');
    this.#rest = pieces.pop() ?? '';
    for (const piece of pieces) this.#event(piece.split('\n'));
    this.#heard();
  }

  #event(lines: readonly string[]): void {
    const field = (name: string) => lines.find((line) => line.startsWith(`${name}: `))?.slice(name.length + 2);
    this.comments.push(...lines.filter((line) => line.startsWith(':')));
    const data = field('data');
    if (data === undefined) return;
    this.lastId = Number(field('id'));
    this.boards.push(JSON.parse(data) as Board);
  }
}
