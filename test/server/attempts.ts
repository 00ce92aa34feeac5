/** Scenario tables: one row per attempt, how it is answered, and that a refusal leaves the record as it was. */
import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { PROBLEMS, type ProblemCode } from '../../server/problem-codes.ts';
import { entriesIn } from '../db/support.ts';
import type { Reply, TestServer } from './support.ts';

/** What a refusal says: its name and the fields it points at. `undefined` stands for an accepted attempt. */
export type Expected = readonly [code: ProblemCode, ...pointers: string[]] | undefined;

/** Every row of every table, in an order of its own: equal before and after means that nothing was changed. */
export const everything = (server: TestServer): Record<string, unknown[]> => {
  const handle = new Database(server.logbook.file, { readonly: true });
  try {
    const names = handle
      .prepare<[], string>(
        "select name from sqlite_master where type = 'table' and name not like 'sqlite_%' order by 1",
      )
      .pluck()
      .all();
    return Object.fromEntries(
      names.map((name) => [name, handle.prepare(`select * from "${name}" order by 1, 2`).all()]),
    );
  } finally {
    handle.close();
  }
};

const onlookers = new WeakMap<TestServer, Database.Database>();

/** A number that changes with every change to the file of a logbook, whoever makes it; far cheaper than every row. */
export const changeCount = (server: TestServer): unknown => {
  const known = onlookers.get(server);
  const onlooker = known?.name === server.logbook.file ? known : new Database(server.logbook.file, { readonly: true });
  onlookers.set(server, onlooker);
  return onlooker.pragma('data_version', { simple: true });
};

/** Stack lines, SQL, paths and names of what the server is built of. */
const INSIDE = /\\n\s+at |node_modules|\bselect \w|\binsert into|sqlite|zod|fastify|FST_|\.[tj]s\b/i;

/** RFC 9457 members, the one media type, nothing of the inside. */
export const expectProblem = (reply: Reply, [code, ...pointers]: NonNullable<Expected>): void => {
  const { status, title } = PROBLEMS[code];
  expect({ type: reply.body['type'], detail: reply.body['detail'] }).toEqual({
    type: `/problems/${code}`,
    detail: expect.stringMatching(/\S/) as string,
  });
  expect(reply.status).toBe(status);
  expect(reply.headers['content-type']).toBe('application/problem+json; charset=utf-8');
  expect(reply.body).toMatchObject({ title, status, instance: expect.stringMatching(/^[\w-]{8,}$/) as string });
  const errors = (reply.body['errors'] ?? []) as { pointer: string; detail: string }[];
  expect(errors.map((error) => error.pointer)).toEqual(pointers);
  for (const error of errors) expect(error.detail).toMatch(/^.{3,}[.?]$/s);
  const { instance: _instance, ...said } = reply.body;
  expect(JSON.stringify(said)).not.toMatch(INSIDE);
};

/**
 * One test: the attempt is answered as expected; a refusal changes nothing in the logbook, and an accepted one adds to
 * the journal.
 */
export const attempt = (
  name: string,
  expected: Expected,
  server: () => TestServer,
  act: () => Promise<Reply>,
): void => {
  it(`${expected === undefined ? 'takes' : `refuses (${expected[0]})`} ${name}`, async () => {
    const before = { changes: changeCount(server()), entries: entriesIn(server().logbook.file) };
    const reply = await act();
    if (expected === undefined) {
      expect(reply).toMatchObject({ status: expect.toSatisfy((status) => status === 201 || status === 200) as number });
      expect(entriesIn(server().logbook.file)).toBeGreaterThan(before.entries);
      // The count that refusals are held by does see a change.
      expect(changeCount(server())).not.toBe(before.changes);
      return;
    }
    expectProblem(reply, expected);
    expect(changeCount(server())).toBe(before.changes);
  });
};
