/** Summaries of calibrations that have left the bench, computed once: a list shows hundreds of them again and again. */
import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { CalibrationSummary } from '../glassware/contract.ts';
import { summariesOf } from './view-strip.ts';

/** One or two kilobytes each. */
const MOST_KEPT = 4_000;
const kept = new Map<string, CalibrationSummary>();

const keep = (key: string, summary: CalibrationSummary): void => {
  const oldest = kept.keys().next().value;
  if (kept.size >= MOST_KEPT && oldest !== undefined) kept.delete(oldest);
  kept.set(key, summary);
};

/**
 * What a summary depends on, in a few letters: the last entries of the journal that name the calibration and its vessel.
 * Each holds the hash of all entries before it, so that a restored copy or another logbook never shares a key by chance.
 * Null while it is open: then it can depend on other vessels too.
 */
const keysOf = async (db: Reading, ids: readonly string[]): Promise<Map<string, string | null>> => {
  const lastHash = (kind: 'calibration' | 'vessel', id: 'calibration.id' | 'calibration.vessel_id') =>
    sql<string>`(select hash from journal_entry where object = ${sql.lit(`${kind}/`)} || ${sql.ref(id)} order by number desc limit 1)`;
  const rows = await db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .select(['calibration.id', 'calibration_standing.state'])
    .select([
      lastHash('calibration', 'calibration.id').as('ownHash'),
      lastHash('vessel', 'calibration.vessel_id').as('vesselHash'),
    ])
    .where('calibration.id', 'in', ids)
    .execute();
  return new Map(
    rows.map(({ id, state, ownHash, vesselHash }) => [
      id,
      state === 'open' ? null : [id, state, ownHash, vesselHash].join(' '),
    ]),
  );
};

/**
 * The same as `summariesOf`, of committed rows only: within a write the journal does not tell yet what has changed.
 * @param db of `Logbook.read`
 */
export const keptSummariesOf = async (
  db: Reading,
  ids: readonly string[],
): Promise<Map<string, CalibrationSummary>> => {
  if (ids.length === 0) return new Map();
  const keys = await keysOf(db, ids);
  const found = new Map<string, CalibrationSummary>();
  for (const id of ids) {
    const summary = kept.get(keys.get(id) ?? '');
    if (summary) found.set(id, summary);
  }
  const computed = await summariesOf(
    db,
    ids.filter((id) => !found.has(id)),
  );
  for (const [id, summary] of computed) {
    found.set(id, summary);
    const key = keys.get(id) ?? null;
    if (key !== null) keep(key, summary);
  }
  return found;
};
