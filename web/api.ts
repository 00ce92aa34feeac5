import type { FieldProblem } from '../server/problem.ts';
import type { ProblemCode } from '../server/problem-codes.ts';
import { text } from './messages/en.ts';
import { noteSignedOut, whenSignedIn } from './signed-out.ts';

/** A refusal by the server, as it came (RFC 9457). `fields` names the fields it is about. */
export class ProblemError extends Error {
  override readonly name = 'ProblemError';
  readonly code: ProblemCode;
  readonly status: number;
  readonly title: string;
  readonly fields: readonly FieldProblem[];
  /** The whole body, with further members such as the present record of a stale edit. */
  readonly body: Readonly<Record<string, unknown>>;

  constructor(status: number, body: Record<string, unknown>) {
    super(typeof body.detail === 'string' ? body.detail : text.api.unreadableAnswer(status));
    const type = typeof body.type === 'string' ? body.type : '/problems/internal';
    this.code = type.slice(type.lastIndexOf('/') + 1) as ProblemCode;
    this.status = status;
    this.title = typeof body.title === 'string' ? body.title : text.api.refused;
    this.fields = Array.isArray(body.errors) ? (body.errors as FieldProblem[]) : [];
    this.body = body;
  }
}

/** The request did not reach the server, or its answer did not come back. */
export class NetworkError extends Error {
  override readonly name = 'NetworkError';
  constructor() {
    super(text.api.unreachable);
  }
}

export type Refusal = ProblemError | NetworkError;

interface Call {
  method: 'GET' | 'POST' | 'PATCH' | 'DELETE';
  body?: unknown;
  headers?: Record<string, string>;
  signal?: AbortSignal;
  /** The answer is a file, unless it is refused. */
  isFile?: true;
  /** Answered at once when nobody is signed in, in place of waiting for it. */
  isPatient?: false;
}

async function call<T>(path: string, sent: Call): Promise<T> {
  const { method, body, headers = {}, signal, isPatient, isFile } = sent;
  let response: Response;
  let answer: string;
  try {
    response = await fetch(path, {
      method,
      headers: {
        accept: 'application/json',
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...headers,
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      ...(signal ? { signal } : {}),
    });
    if (isFile && response.ok) return (await response.blob()) as T;
    answer = await response.text();
  } catch (error) {
    if (signal?.aborted && !isTimeout(signal)) throw error;
    throw new NetworkError();
  }
  const parsed = parse(answer);
  if (response.ok) return parsed as T;
  const problem = new ProblemError(response.status, isRecord(parsed) ? parsed : {});
  if (problem.code !== 'not-signed-in') throw problem;
  noteSignedOut();
  if (isPatient === false) throw problem;
  // The page keeps what it shows and what was typed; the same request goes again once somebody signed in.
  await whenSignedIn(signal);
  return call<T>(path, sent);
}

/** No answer for too long is no answer. */
const isTimeout = ({ reason }: AbortSignal): boolean =>
  reason instanceof DOMException && reason.name === 'TimeoutError';

const parse = (answer: string): unknown => {
  try {
    return answer === '' ? null : JSON.parse(answer);
  } catch {
    return null;
  }
};
const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;

export const get = <T>(path: string, signal?: AbortSignal): Promise<T> =>
  call<T>(path, { method: 'GET', ...(signal ? { signal } : {}) });

/** `key` makes sending twice harmless: the same act sent again gets the first answer. */
export const post = <T>(path: string, body: unknown, key: string): Promise<T> =>
  call<T>(path, { method: 'POST', body, headers: { 'idempotency-key': key } });

/** `version` is the one the change was made on; another’s change meanwhile is refused, not overwritten. */
export const patch = <T>(path: string, body: unknown, version: number): Promise<T> =>
  call<T>(path, { method: 'PATCH', body, headers: { 'if-match': `"${version}"` } });

/** Acts that are neither made twice by being sent twice nor guarded by a version: signing in and out, new codes. */
export const send = <T>(method: 'POST' | 'DELETE', path: string, body?: unknown): Promise<T> =>
  call<T>(path, { method, ...(body === undefined ? {} : { body }) });

/** A file made of what is sent; nothing is kept. */
export const fetchFile = (path: string, body: unknown): Promise<Blob> =>
  call<Blob>(path, { method: 'POST', body, isFile: true });

/** Like `get`, but refused at once while nobody is signed in: for pages of a class, where nobody signs in. */
export const getNow = <T>(path: string, signal?: AbortSignal): Promise<T> =>
  call<T>(path, { method: 'GET', isPatient: false, ...(signal ? { signal } : {}) });

/** Like `post`, but refused at once while nobody is signed in: for what waits by itself. */
export const postNow = <T>(path: string, body: unknown, key: string, signal?: AbortSignal): Promise<T> =>
  call<T>(path, {
    ...{ method: 'POST', body, headers: { 'idempotency-key': key }, isPatient: false },
    ...(signal ? { signal } : {}),
  });

/** Idempotency key: 128 random bits. `crypto.randomUUID` does not exist on plain http, `getRandomValues` does. */
export const newKey = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');

export const isRefusal = (error: unknown): error is Refusal =>
  error instanceof ProblemError || error instanceof NetworkError;

/** Path with a query string of the parameters that have a value. */
export const withQuery = (path: string, parameters: Record<string, string | undefined>): string => {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(parameters)) if (value) query.set(name, value);
  return query.size > 0 ? `${path}?${query}` : path;
};
