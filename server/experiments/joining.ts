/** How a class comes in: the codes of an experiment, new groups with their names and words, and where phones go. */
import { randomInt } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import type { Reading } from '../db/logbook.ts';
import type { Writing } from '../db/write.ts';
import { Problem } from '../problem.ts';
import { newId } from '../requests.ts';
import { GROUP_NAMES } from './contract-names.ts';
import type { Invitation, Joining } from './contract-class.ts';
import { newHelperCode, newJoinCode, newWordBeside } from './join-codes.ts';
import { codesOf, groupsOf, insertGroup, wordsOf, type Codes, type StoredGroup } from './store-groups.ts';
import type { StoredExperiment } from './store.ts';

export const newCodes = (): Codes => ({
  join_code: newJoinCode(),
  board_code: newHelperCode(),
  assistant_code: newHelperCode(),
});
export const NO_CODES: Codes = { join_code: null, board_code: null, assistant_code: null };

/**
 * Where phones go: the listener for classes, or this one where there is none. The code stands behind the sign #, which
 * browsers send to nobody.
 */
const addressFor = (request: FastifyRequest, code: string | null): string => {
  const base = request.server.classDoor.address ?? `${request.protocol}://${request.host}`;
  return `${base}/join${code === null ? '' : `#${code.toUpperCase()}`}`;
};

const squareCode = async (text: string): Promise<string> => {
  const { toSVG } = await import('bwip-js/node');
  return toSVG({ bcid: 'qrcode', text, scale: 4, padding: 4, backgroundcolor: 'FFFFFF' });
};

const invitationWith = async (request: FastifyRequest, code: string | null): Promise<Invitation> => {
  const address = addressFor(request, code);
  return { code, address, svg: code === null ? null : await squareCode(address) };
};

/** What everybody in the room may see of how to come in. */
export const invitationOf = async (
  db: Reading,
  { id, state, joiningOpen }: StoredExperiment,
  request: FastifyRequest,
): Promise<Invitation> => {
  const isShown = joiningOpen && state === 'open';
  return invitationWith(request, isShown ? (await codesOf(db, id)).join_code : null);
};

/** Everything the teacher shows while groups come in. */
export const joiningOf = async (db: Reading, stored: StoredExperiment, request: FastifyRequest): Promise<Joining> => {
  const codes = await codesOf(db, stored.id);
  const words = await wordsOf(db, stored.id);
  return {
    open: stored.joiningOpen,
    endsAt: stored.endsAt,
    ...(await invitationWith(request, codes.join_code)),
    boardCode: codes.board_code,
    assistantCode: codes.assistant_code,
    words: (await groupsOf(db, stored.id)).flatMap(({ id: groupId, number }) => {
      const word = words.get(groupId);
      return word === undefined ? [] : [{ groupId, number, word }];
    }),
  };
};

/**
 * The next group, with a name that is free, drawn so that it tells nothing of the order.
 * @throws Problem `too-many-groups`
 */
export const addGroup = async (
  { trx, at }: Pick<Writing, 'trx' | 'at'>,
  experimentId: string,
  madeBy: StoredGroup['madeBy'],
): Promise<{ group: StoredGroup & { name: string }; word: string }> => {
  const others = await groupsOf(trx, experimentId);
  const taken = new Set(others.map(({ name }) => name));
  const free = GROUP_NAMES.filter((name) => !taken.has(name));
  const name = free.length === 0 ? undefined : free[randomInt(free.length)];
  if (name === undefined) throw new Problem('too-many-groups');
  const number = (others.at(-1)?.number ?? 0) + 1;
  const group = { id: newId(), experimentId, number, name, hidden: false, madeBy, recordedAt: at };
  const word = newWordBeside(new Set((await wordsOf(trx, experimentId)).values()));
  await insertGroup(trx, group, word);
  return { group, word };
};
