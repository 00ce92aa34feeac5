/** A calibration put together from its evidence rows alone, without any code of the server that reads rows. */
import type Database from 'better-sqlite3';
import type { CalibrationRecord, TrialFacts, VesselFacts } from '../../server/metrology/record.ts';

type Row = Record<string, string | number | null>;

const read = (row: Row | undefined, column: string): string => String(row?.[column]);
const json = (row: Row | undefined, column: string): never => JSON.parse(read(row, column)) as never;

/** `water_temperature_c` → `waterTemperatureC`; empty columns are left out. */
const camel = (row: Row): Record<string, string | number> =>
  Object.fromEntries(
    Object.entries(row).flatMap(([column, value]) =>
      value === null ? [] : [[column.replaceAll(/_(\w)/g, (_, letter: string) => letter.toUpperCase()), value]],
    ),
  );

export const stateOf = (acts: readonly Row[]): string => read(acts.at(-1) ?? { state: 'open' }, 'state');

export const recordFromRows = (handle: Database.Database, id: string): { record: CalibrationRecord; state: string } => {
  const all = (statement: string, ...values: unknown[]) => handle.prepare<unknown[], Row>(statement).all(...values);
  const [head] = all('select * from calibration where id = ?', id);
  const acts = all('select * from calibration_act where calibration_id = ? order by number', id);
  const plans = acts
    .filter((act) => act['act'] === 'plan-changed')
    .map((act) => json(act, 'facts') as { after: object });
  const state = stateOf(acts);
  const record: CalibrationRecord = {
    vessel: vesselOf(all, head, state === 'open' ? undefined : acts.findLast((act) => act['vessel_version'] !== null)),
    basis: read(head, 'basis') as 'contain',
    points: json(head, 'points'),
    plannedTrials: Number(head?.['planned_trials']),
    performedOn: read(head, 'performed_on'),
    enteredOn: read(head, 'recorded_at').slice(0, 10),
    decisionRule: read(head, 'decision_rule') as 'guarded',
    coverageProbability: read(head, 'coverage_probability') as '0.95',
    repeatability: json(head, 'repeatability'),
    conditions: json(head, 'conditions'),
    conditionReadings: all('select * from condition_reading where calibration_id = ? order by number', id).map(
      (row) => ({
        ...(json(row, 'conditions') as object),
        afterTrial: Number(row['after_trial']),
        recordedAt: read(row, 'recorded_at'),
      }),
    ),
    instruments: instrumentsOf(all, json(head, 'instruments')),
    laboratory: json(head, 'laboratory'),
    trials: all('select * from trial where calibration_id = ? order by number', id).map((row) => trialOf(all, row)),
  };
  return { record: plans.reduce((sum, plan) => ({ ...sum, ...plan.after }), record), state };
};

type All = (statement: string, ...values: unknown[]) => Row[];

const vesselOf = (all: All, head: Row | undefined, left: Row | undefined): VesselFacts => {
  const revisions = all('select * from vessel_revision where vessel_id = ? order by version', head?.['vessel_id']);
  const row = left ? revisions.find((one) => one['version'] === left['vessel_version']) : revisions.at(-1);
  const { marks, tolerance, ...facts } = camel(row ?? {});
  return {
    ...(facts as unknown as VesselFacts),
    ...(marks === undefined ? {} : { marks: JSON.parse(String(marks)) as string[] }),
    ...(tolerance === undefined ? {} : { tolerance: JSON.parse(String(tolerance)) as object }),
  };
};

const instrumentsOf = (all: All, chosen: Record<string, { id: string; version: number }>): object =>
  Object.fromEntries(
    Object.entries(chosen).map(([role, { id, version }]) => {
      const [row] = all('select facts from instrument_revision where instrument_id = ? and version = ?', id, version);
      return [role, json(row, 'facts')];
    }),
  );

const trialOf = (all: All, row: Row): TrialFacts => {
  const { calibration_id: id, number } = row;
  const of = (table: string) =>
    all(`select * from ${table} where calibration_id = ? and trial_number = ? order by number`, id, number);
  const last = of('trial_exclusion').at(-1);
  return {
    ...(camel(row) as unknown as TrialFacts),
    corrections: of('trial_correction').map(
      (one) => camel(one) as unknown as { field: string; value: string; reason: string },
    ),
    exclusion:
      last?.['excluded'] === 1 ? { cause: read(last, 'cause') as 'spill', reason: read(last, 'reason') } : null,
  };
};
