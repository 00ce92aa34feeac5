/** Requests of the demonstration, and the ids their answers gave. */
import { DemoRefused } from './refused.ts';

export interface DemoRequest {
  method: 'GET' | 'POST' | 'PATCH';
  url: string;
  payload?: Record<string, unknown>;
  headers?: Record<string, string>;
}

/** The application as the load sees it: something that answers requests. */
export type Send = (request: DemoRequest) => Promise<{ statusCode: number; body: string }>;

interface Answered {
  id: string;
  version: number;
}

/** Ids by the tags and keys of the tables. */
export class Ledger {
  readonly #ids = new Map<string, string>();
  set(name: string, id: string): void {
    this.#ids.set(name, id);
  }
  get(name: string): string {
    const id = this.#ids.get(name);
    if (id === undefined) throw new DemoRefused(`The demonstration's tables name ${name} before it is registered.`);
    return id;
  }
}

const explained = (what: string, body: string): DemoRefused => {
  const problem = JSON.parse(body) as { title?: string; detail?: string };
  return new DemoRefused(`${what} was not taken: ${problem.detail ?? problem.title ?? body}`);
};

const ask = async <T>(send: Send, what: string, request: DemoRequest): Promise<T> => {
  const reply = await send(request);
  if (reply.statusCode >= 300) throw explained(what, reply.body);
  return JSON.parse(reply.body) as T;
};

export const post = <T = Answered>(
  send: Send,
  key: string,
  url: string,
  payload: Record<string, unknown>,
): Promise<T> => ask(send, key, { method: 'POST', url, payload, headers: { 'idempotency-key': `demo:${key}` } });

/** Edits a record that stands at `version`; one that is further on was edited by an earlier load. */
export const patch = async (
  send: Send,
  what: string,
  url: string,
  version: number,
  payload: Record<string, unknown>,
): Promise<void> => {
  const present = await ask<Answered>(send, what, { method: 'GET', url });
  if (present.version > version) return;
  await ask(send, what, { method: 'PATCH', url, payload, headers: { 'if-match': `"${version}"` } });
};
