import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Audit, Sample } from './contract-audit.ts';

const LONGEST = 50;

const countOf = async (db: Reading, table: 'instrument' | 'trial_correction'): Promise<number> => {
  const row = await db
    .selectFrom(table)
    .select((count) => count.fn.countAll<number>().as('n'))
    .executeTakeFirstOrThrow();
  return row.n;
};

const standingCounts = async (db: Reading): Promise<Pick<Audit['counts'], 'calibrations' | 'trials'>> => {
  const rows = await db
    .selectFrom('calibration_standing')
    .select((of) => ['state', of.fn.countAll<number>().as('n'), of.fn.sum<number>('trials_recorded').as('trials')])
    .groupBy('state')
    .execute();
  const calibrations = { open: 0, measured: 0, checked: 0, issued: 0, abandoned: 0 };
  for (const row of rows) calibrations[row.state as keyof typeof calibrations] = row.n;
  return { calibrations, trials: rows.reduce((sum, row) => sum + row.trials, 0) };
};

/** The latest word on each trial: excluded, or taken back in. */
const latestExclusions = (db: Reading) =>
  db
    .selectFrom('trial_exclusion as one')
    .where('one.excluded', '=', 1)
    .where((where) =>
      where.not(
        where.exists(
          where
            .selectFrom('trial_exclusion as later')
            .select('later.number')
            .whereRef('later.calibration_id', '=', 'one.calibration_id')
            .whereRef('later.trial_number', '=', 'one.trial_number')
            .whereRef('later.number', '>', 'one.number'),
        ),
      ),
    );

export const auditCounts = async (db: Reading): Promise<Omit<Audit['counts'], 'certificates' | 'entries'>> => {
  const vessels = await db
    .selectFrom('vessel')
    .select((of) => [
      of.fn.countAll<number>().as('n'),
      of.fn.coalesce(of.fn.sum<number>('in_use'), of.lit(0)).as('inUse'),
      of.fn.count<number>('latest_calibration_id').as('calibrated'),
    ])
    .executeTakeFirstOrThrow();
  const { excluded } = await latestExclusions(db)
    .select((of) => of.fn.countAll<number>().as('excluded'))
    .executeTakeFirstOrThrow();
  return {
    vessels: vessels.n,
    vesselsInUse: vessels.inUse,
    neverCalibrated: vessels.n - vessels.calibrated,
    instruments: await countOf(db, 'instrument'),
    ...(await standingCounts(db)),
    corrections: await countOf(db, 'trial_correction'),
    exclusions: excluded,
  };
};

export const certificateCounts = async (db: Reading): Promise<Audit['counts']['certificates']> => {
  const count = async (state: 'all' | 'replaced' | 'withdrawn'): Promise<number> => {
    if (state === 'withdrawn') {
      const { n } = await db
        .selectFrom('certificate_withdrawal')
        .select((of) => of.fn.countAll<number>().as('n'))
        .executeTakeFirstOrThrow();
      return n;
    }
    let query = db.selectFrom('certificate').select((of) => of.fn.countAll<number>().as('n'));
    if (state === 'replaced') query = query.where('replaces', 'is not', null);
    return (await query.executeTakeFirstOrThrow()).n;
  };
  const [all, replaced, withdrawn] = [await count('all'), await count('replaced'), await count('withdrawn')];
  return { valid: all - replaced - withdrawn, replaced, withdrawn };
};

const withCalibration = (row: { calibration_id: string; tag: string; performed_on: string }) => ({
  calibrationId: row.calibration_id,
  tag: row.tag,
  performedOn: row.performed_on,
});

export const excludedTrials = async (db: Reading): Promise<Audit['gaps']['excludedTrials']> => {
  const rows = await latestExclusions(db)
    .innerJoin('calibration', 'calibration.id', 'one.calibration_id')
    .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
    .select(['one.calibration_id', 'vessel.tag', 'calibration.performed_on', 'one.trial_number', 'one.cause'])
    .select(['one.reason', 'one.recorded_by'])
    .orderBy('one.recorded_at', 'desc')
    .limit(LONGEST)
    .execute();
  return rows.map((row) => ({
    ...withCalibration(row),
    trial: row.trial_number,
    cause: row.cause,
    reason: row.reason,
    by: row.recorded_by,
  }));
};

export const correctedTrials = async (db: Reading): Promise<Audit['gaps']['correctedTrials']> => {
  const rows = await db
    .selectFrom('trial_correction as one')
    .innerJoin('calibration', 'calibration.id', 'one.calibration_id')
    .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
    .select(['one.calibration_id', 'vessel.tag', 'calibration.performed_on', 'one.trial_number', 'one.field'])
    .select(['one.previous_value', 'one.value', 'one.reason', 'one.recorded_by'])
    .orderBy('one.recorded_at', 'desc')
    .limit(LONGEST)
    .execute();
  return rows.map((row) => ({
    ...withCalibration(row),
    trial: row.trial_number,
    field: row.field,
    before: row.previous_value,
    after: row.value,
    reason: row.reason,
    by: row.recorded_by,
  }));
};

const inState = (db: Reading, state: string) =>
  db
    .selectFrom('calibration_standing')
    .innerJoin('calibration', 'calibration.id', 'calibration_standing.calibration_id')
    .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
    .select(['calibration_standing.calibration_id', 'vessel.tag', 'calibration.performed_on'])
    .where('calibration_standing.state', '=', state)
    .limit(LONGEST);

export const uncheckedCalibrations = async (db: Reading): Promise<Audit['gaps']['unchecked']> => {
  const rows = await inState(db, 'measured')
    .select('calibration_standing.touched_at')
    .orderBy('calibration_standing.touched_at')
    .execute();
  return rows.map((row) => ({ ...withCalibration(row), since: row.touched_at }));
};

export const abandonedCalibrations = async (db: Reading): Promise<Audit['gaps']['abandoned']> => {
  const rows = await inState(db, 'abandoned')
    .innerJoin('calibration_act', 'calibration_act.calibration_id', 'calibration.id')
    .where('calibration_act.act', '=', 'calibration-abandoned')
    .select(['calibration_act.reason', 'calibration_act.recorded_by'])
    .orderBy('calibration_act.recorded_at', 'desc')
    .execute();
  return rows.map((row) => ({ ...withCalibration(row), reason: row.reason, by: row.recorded_by }));
};

const FINISHED = ['measured', 'checked', 'issued'];

/** Calibrations a sample can be drawn from, in a fixed order. */
const drawable = (db: Reading, states: readonly string[]) =>
  db.selectFrom('calibration_standing').where('state', 'in', states).where('trials_recorded', '>', 0);

const countIn = async (db: Reading, states: readonly string[]): Promise<number> => {
  const { n } = await drawable(db, states)
    .select((of) => of.fn.countAll<number>().as('n'))
    .executeTakeFirstOrThrow();
  return n;
};

/** Issued calibrations where there are any, finished ones otherwise. */
export const samplingFrame = async (db: Reading): Promise<{ states: readonly string[]; count: number }> => {
  const issued = await countIn(db, ['issued']);
  return issued > 0 ? { states: ['issued'], count: issued } : { states: FINISHED, count: await countIn(db, FINISHED) };
};

/** The calibration at a place of that order, one of its trials, its certificate and the entry of the reading. */
export const drawn = async (
  db: Reading,
  states: readonly string[],
  place: number,
  chooseTrial: (count: number) => number,
): Promise<Sample['items'][number]> => {
  const { calibration_id: id, trials_recorded: trials } = await drawable(db, states)
    .select(['calibration_id', 'trials_recorded'])
    .orderBy('calibration_id')
    .offset(place)
    .limit(1)
    .executeTakeFirstOrThrow();
  const number = chooseTrial(trials) + 1;
  const row = await db
    .selectFrom('trial')
    .innerJoin('calibration', 'calibration.id', 'trial.calibration_id')
    .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
    .select(['trial.calibration_id', 'vessel.tag', 'calibration.performed_on', 'trial.number', 'trial.empty_g'])
    .select(['trial.point_ml', 'trial.filled_g', 'trial.water_temperature_c', 'trial.recorded_at', 'trial.recorded_by'])
    .where('trial.calibration_id', '=', id)
    .where('trial.number', '=', number)
    .executeTakeFirstOrThrow();
  const entry = await db
    .selectFrom('journal_entry')
    .select('number')
    .where('object', '=', `calibration/${id}`)
    .where('act', '=', 'trial-recorded')
    .where(sql<boolean>`json_extract(after, '$.number') = ${number}`)
    .executeTakeFirst();
  const certificate = await db
    .selectFrom('certificate')
    .select('number')
    .where('calibration_id', '=', id)
    .orderBy('number', 'desc')
    .limit(1)
    .executeTakeFirst();
  return {
    ...withCalibration(row),
    certificate: certificate?.number ?? null,
    trial: {
      number,
      emptyG: row.empty_g,
      pointMl: row.point_ml,
      filledG: row.filled_g,
      waterTemperatureC: row.water_temperature_c,
      recordedAt: row.recorded_at,
      recordedBy: row.recorded_by,
    },
    entry: entry?.number ?? null,
  };
};
