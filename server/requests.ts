/** How routes read a request: keys, versions, cursors. */
import { createHash, randomBytes } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Answer, WriteRequest } from './db/write.ts';
import { Problem } from './problem.ts';

const KEY = /^[\x21-\x7e]{1,200}$/;

/** A quick hash of a body would let somebody with the file try passphrases quickly. */
const withoutSecrets = (field: string, value: unknown): unknown =>
  field === 'password' || field === 'secondFactor' ? undefined : value;

/**
 * A write that creates: its Idempotency-Key and a fingerprint of who asked for what, so that the same request sent
 * again gets the first answer and another one under the same key is refused.
 */
export const creating = (request: FastifyRequest): WriteRequest & { key: NonNullable<WriteRequest['key']> } => {
  const value = request.headers['idempotency-key'];
  if (typeof value !== 'string' || !KEY.test(value)) throw new Problem('idempotency-key-missing');
  const fingerprint = createHash('sha256')
    .update(JSON.stringify([request.actor, request.method, request.url, request.body], withoutSecrets))
    .digest('hex');
  return { actor: request.actor, requestId: request.id, key: { value, fingerprint } };
};

/** A write that edits a record in place; guarded by its version instead of a key. */
export const editing = (request: FastifyRequest): WriteRequest => ({ actor: request.actor, requestId: request.id });

/** Version named in If-Match: `"3"`, weak form allowed. */
export const expectedVersion = (request: FastifyRequest): number => {
  const header = request.headers['if-match'];
  if (header === undefined) throw new Problem('version-missing');
  const match = /^(?:W\/)?"?(\d{1,9})"?$/.exec(header.trim());
  if (!match) throw new Problem('version-missing', { detail: 'If-Match holds the record’s version, for example "3".' });
  return Number(match[1]);
};

export const requireVersion = (expected: number, present: number, record: unknown): void => {
  if (expected !== present)
    throw new Problem('stale-edit', {
      detail: `You changed version ${expected}, but the record is at version ${present} now.`,
      members: { currentVersion: present, current: record },
    });
};

export const send = <T>(reply: FastifyReply, answer: Answer<T>): FastifyReply =>
  reply.code(answer.status).send(answer.body);

/** Names one request in its answer, in the journal and in the server's log. */
export const newRequestId = (): string => {
  requests += 1;
  return `${PROCESS_NAME}-${requests.toString(36)}`;
};

/** Tells the requests of one start of the server from those of the next. */
const PROCESS_NAME = randomBytes(6).toString('base64url');
let requests = 0;

/** Bodies are JSON in UTF-8 and nothing else: a byte that is not UTF-8 would be kept as another character. */
export const readJsonOnly = (app: FastifyInstance): void => {
  const parse = app.getDefaultJsonParser('error', 'error');
  const utf8 = new TextDecoder('utf-8', { fatal: true });
  app.removeAllContentTypeParsers();
  app.addContentTypeParser('application/json', { parseAs: 'buffer' }, (request, body: Buffer, done) => {
    let text: string;
    try {
      text = utf8.decode(body);
    } catch {
      done(new Problem('unreadable-request', { detail: 'The body is not UTF-8.' }));
      return;
    }
    void parse(request, text, done);
  });
};

const ALPHABET = 'abcdefghjkmnpqrstuvwxyz23456789';

/** 80 random bits in 16 characters that are hard to confuse when read aloud. */
export const newId = (): string => Array.from(randomBytes(16), (byte) => ALPHABET[byte % ALPHABET.length]).join('');

export const encodeCursor = (parts: readonly string[]): string =>
  Buffer.from(JSON.stringify(parts), 'utf8').toString('base64url');

/** @throws Problem `unreadable-request` for a cursor this server did not make */
export const decodeCursor = (cursor: string, length: number): string[] => {
  try {
    const parts: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
    if (Array.isArray(parts) && parts.length === length && parts.every((part) => typeof part === 'string'))
      return parts;
  } catch {
    // falls through to the refusal below
  }
  throw new Problem('unreadable-request', {
    detail: 'The cursor of this list is not one of ours. Start from the first page.',
  });
};
