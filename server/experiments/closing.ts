/**
 * The hash of what a class measured, for the journal. It is salted, so that nobody finds the readings from it, and leaves
 * out names and words, so that it holds also once those were removed.
 */
import { createHash } from 'node:crypto';
import type { Reading } from '../db/logbook.ts';
import { canonical } from '../journal/canonical.ts';
import { withoutGaps } from '../journal/values.ts';
import { soleBalance } from './register.ts';
import { groupsOf } from './store-groups.ts';
import { predictionsOf, trialsOf } from './store-trials.ts';
import { saltOf, type StoredExperiment } from './store.ts';

const dataOf = async (db: Reading, { id, plan }: StoredExperiment): Promise<object> => {
  const groups = await groupsOf(db, id);
  const ids = groups.map((group) => group.id);
  const trials = await trialsOf(db, ids);
  const balance = soleBalance(plan);
  return {
    rows: plan.rows,
    conditions: plan.conditions,
    // Named where there is one, so that hashes made before such a thing could be chosen still hold.
    ...(balance === null ? {} : { balance }),
    groups: groups.map(({ id: groupId, number }) => ({ id: groupId, number })),
    predictions: (await predictionsOf(db, ids)).map(({ recordedAt: _at, ...prediction }) => prediction),
    trials: trials.map(({ groupId, rowKey, number, typed, vesselId, corrections, exclusion }) => ({
      groupId,
      rowKey,
      number,
      ...typed,
      ...(vesselId === null ? {} : { vesselId }),
      corrections: corrections.map(({ field, value }) => ({ field, value })),
      excluded: exclusion === null ? null : exclusion.cause,
    })),
  };
};

/** Lower-case hex of SHA-256( salt ‖ newline ‖ RFC 8785 text of the data ). */
export const closingHashOf = async (db: Reading, stored: StoredExperiment): Promise<string> =>
  createHash('sha256')
    .update(`${await saltOf(db, stored.id)}\n`, 'utf8')
    .update(canonical(withoutGaps(await dataOf(db, stored))), 'utf8')
    .digest('hex');

/** Whether the data are still those that were closed. */
export const holdsAtClosing = async (db: Reading, stored: StoredExperiment, hash: string): Promise<boolean> =>
  (await closingHashOf(db, stored)) === hash;
