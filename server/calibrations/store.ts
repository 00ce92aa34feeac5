import { sql, type Transaction } from 'kysely';
import { localDay } from '../clock.ts';
import type { Reading } from '../db/logbook.ts';
import { prebuilt } from '../db/prebuilt.ts';
import type { CalibrationStandingTable, CalibrationTable, ConditionReadingTable, Tables } from '../db/tables.ts';
import { vesselOf, type StoredVessel } from '../glassware/store.ts';
import { findInstrumentRevisions, type StoredInstrument } from '../instruments/store.ts';
import { inspectedAmong } from '../lots/store-inspections.ts';
import type {
  Basis,
  CalibrationRecord,
  ConditionFacts,
  ConditionReading,
  CoverageProbability,
  DecisionRule,
  InstrumentFacts,
  LaboratoryFacts,
  RepeatabilityChoice,
  TrialFacts,
} from '../metrology/record.ts';
import type { CalibrationResult } from '../metrology/result.ts';
import type { CalibrationState } from './contract.ts';
import { grouped, loadTrials } from './store-trials.ts';

/** Instruments of a calibration, each in the revision it had when the calibration began. */
export interface InstrumentChoice {
  id: string;
  version: number;
}
export const INSTRUMENT_ROLES = ['balance', 'thermometer', 'barometer', 'hygrometer', 'airThermometer'] as const;
export type InstrumentRole = (typeof INSTRUMENT_ROLES)[number];
export type InstrumentChoices = Partial<Record<InstrumentRole, InstrumentChoice>>;

export interface CalibrationAct {
  act: string;
  state: CalibrationState;
  vesselVersion: number | null;
  /** What the act settled, for example the pooled spread taken when measuring ended. */
  facts: object | null;
  reason: string | null;
  at: string;
  by: string;
}

/** A calibration as stored: its immutable head, how it stands, and all rows that hang on it. */
export interface StoredCalibration {
  id: string;
  state: CalibrationState;
  version: number;
  trialsRecorded: number;
  vessel: StoredVessel;
  instruments: InstrumentChoices;
  note: string | null;
  recordedAt: string;
  recordedBy: string;
  acts: CalibrationAct[];
  /** The result as issued, which stands whatever the tables say later; null in every other state. */
  frozen: CalibrationResult | null;
  /** What `evaluate` takes. */
  record: CalibrationRecord & {
    basis: Basis;
    points: string[];
    plannedTrials: number;
    performedOn: string;
    decisionRule: DecisionRule;
    coverageProbability: CoverageProbability;
    repeatability: RepeatabilityChoice;
    conditions: ConditionFacts & { note?: string };
    conditionReadings: (ConditionReading & { recordedAt: string; recordedBy: string })[];
  };
}

const factsForModel = (stored: StoredInstrument): object => {
  const { facts } = stored;
  return { ...facts, dueOn: facts.dueOn ?? null };
};

const instrumentKey = ({ id, version }: InstrumentChoice): string => `${id}/${version}`;

export const loadInstruments = async (
  db: Reading,
  choices: readonly InstrumentChoices[],
): Promise<(choice: InstrumentChoices) => InstrumentFacts> => {
  const wanted = choices.flatMap((choice) => Object.values(choice));
  const revisions = await findInstrumentRevisions(db, wanted);
  const loaded = new Map(revisions.map((stored) => [instrumentKey(stored), factsForModel(stored)]));
  return (choice) => {
    const facts: Record<string, object> = {};
    for (const role of INSTRUMENT_ROLES) {
      const one = choice[role];
      const found = one && loaded.get(instrumentKey(one));
      if (found) facts[role] = found;
    }
    return facts;
  };
};

export type HeadRow = CalibrationTable &
  Pick<CalibrationStandingTable, 'state' | 'version' | 'trials_recorded'> & {
    standing_planned_trials: number;
    standing_decision_rule: string;
    standing_coverage_probability: string;
  };

const headRows = (db: Reading, ids: readonly string[]): Promise<HeadRow[]> =>
  db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .selectAll('calibration')
    .select([
      'calibration_standing.state',
      'calibration_standing.version',
      'calibration_standing.trials_recorded',
      'calibration_standing.planned_trials as standing_planned_trials',
      'calibration_standing.decision_rule as standing_decision_rule',
      'calibration_standing.coverage_probability as standing_coverage_probability',
    ])
    .where('calibration.id', 'in', ids)
    .execute();

const loadActs = async (db: Reading, ids: readonly string[]): Promise<Map<string, CalibrationAct[]>> => {
  const rows = await db
    .selectFrom('calibration_act')
    .selectAll()
    .where('calibration_id', 'in', ids)
    .orderBy('calibration_id')
    .orderBy('number')
    .execute();
  const acts = new Map<string, CalibrationAct[]>();
  for (const [id, group] of grouped(rows))
    acts.set(
      id,
      group.map((row) => ({
        act: row.act,
        state: row.state as CalibrationState,
        vesselVersion: row.vessel_version,
        facts: row.facts === null ? null : (JSON.parse(row.facts) as object),
        reason: row.reason,
        at: row.recorded_at,
        by: row.recorded_by,
      })),
    );
  return acts;
};

/** While open a calibration follows the vessel as it stands; from `measured` on it keeps the revision it left with. */
const loadVessels = async (
  db: Reading,
  heads: readonly HeadRow[],
  acts: Map<string, CalibrationAct[]>,
): Promise<Map<string, StoredVessel>> => {
  const rows = await db
    .selectFrom('vessel_revision')
    .selectAll()
    .where('vessel_id', 'in', [...new Set(heads.map((head) => head.vessel_id))])
    .orderBy('version')
    .execute();
  const vessels = new Map<string, StoredVessel>();
  for (const head of heads) {
    const kept = head.state === 'open' ? null : acts.get(head.id)?.findLast((act) => act.vesselVersion !== null);
    const row =
      rows.find((one) => one.vessel_id === head.vessel_id && one.version === kept?.vesselVersion) ??
      rows.findLast((one) => one.vessel_id === head.vessel_id);
    if (row) vessels.set(head.id, vesselOf(row));
  }
  return vessels;
};

export const readingsOf = prebuilt((db, id: string) =>
  db.selectFrom('condition_reading').selectAll().where('calibration_id', '=', id).orderBy('number'),
);

const loadReadings = async (db: Reading, ids: readonly string[]) =>
  grouped(
    await db
      .selectFrom('condition_reading')
      .selectAll()
      .where('calibration_id', 'in', ids)
      .orderBy('calibration_id')
      .orderBy('number')
      .execute(),
  );

export const assemble = (
  head: HeadRow,
  parts: {
    vessel: StoredVessel;
    acts: CalibrationAct[];
    instruments: InstrumentFacts;
    readings: readonly ConditionReadingTable[];
    trials: TrialFacts[];
    /** Looked over and found fit, by an entry of its own. */
    isInspected?: boolean;
    frozen?: CalibrationResult | undefined;
  },
): StoredCalibration => ({
  id: head.id,
  state: head.state as CalibrationState,
  version: head.version,
  trialsRecorded: head.trials_recorded,
  vessel: parts.vessel,
  instruments: JSON.parse(head.instruments) as InstrumentChoices,
  note: head.note,
  recordedAt: head.recorded_at,
  recordedBy: head.recorded_by,
  acts: parts.acts,
  frozen: parts.frozen ?? null,
  record: {
    vessel: parts.vessel,
    basis: head.basis as Basis,
    points: JSON.parse(head.points) as string[],
    plannedTrials: head.standing_planned_trials,
    performedOn: head.performed_on,
    enteredOn: localDay(new Date(head.recorded_at)),
    decisionRule: head.standing_decision_rule as DecisionRule,
    coverageProbability: head.standing_coverage_probability as CoverageProbability,
    repeatability: JSON.parse(head.repeatability) as RepeatabilityChoice,
    conditions: {
      ...(JSON.parse(head.conditions) as ConditionFacts),
      ...(parts.isInspected ? { inspected: true } : {}),
    },
    conditionReadings: parts.readings.map((row) => ({
      ...(JSON.parse(row.conditions) as ConditionFacts),
      afterTrial: row.after_trial,
      recordedAt: row.recorded_at,
      recordedBy: row.recorded_by,
    })),
    instruments: parts.instruments,
    laboratory: JSON.parse(head.laboratory) as LaboratoryFacts,
    ...(head.origin === null ? {} : { origin: head.origin as 'sheet' | 'paper' }),
    trials: parts.trials,
  },
});

/** Results of issued calibrations as their latest certificate froze them. */
const loadFrozen = async (db: Reading, heads: readonly HeadRow[]): Promise<Map<string, CalibrationResult>> => {
  const ids = heads.filter((head) => head.state === 'issued').map((head) => head.id);
  if (ids.length === 0) return new Map();
  const rows = await db
    .selectFrom('certificate')
    .select(['calibration_id', sql<string>`json_extract(frozen, '$.result')`.as('result')])
    .where('calibration_id', 'in', ids)
    .orderBy('number')
    .execute();
  return new Map(rows.map((row) => [row.calibration_id, JSON.parse(row.result) as CalibrationResult]));
};

/** Calibrations by id, ready to evaluate. `trials: false` leaves the trials out, for acts that do not need them. */
export const loadCalibrations = async (
  db: Reading,
  ids: readonly string[],
  options: { trials: boolean } = { trials: true },
): Promise<Map<string, StoredCalibration>> => {
  const loaded = new Map<string, StoredCalibration>();
  if (ids.length === 0) return loaded;
  const heads = await headRows(db, ids);
  if (heads.length === 0) return loaded;
  const acts = await loadActs(db, ids);
  const vessels = await loadVessels(db, heads, acts);
  const instrumentsOf = await loadInstruments(
    db,
    heads.map((head) => JSON.parse(head.instruments) as InstrumentChoices),
  );
  const readings = await loadReadings(db, ids);
  const inspected = await inspectedAmong(db, ids);
  const frozen = options.trials ? await loadFrozen(db, heads) : new Map<string, CalibrationResult>();
  const trials = options.trials ? await loadTrials(db, ids) : new Map<string, TrialFacts[]>();
  for (const head of heads) {
    const vessel = vessels.get(head.id);
    if (!vessel) continue;
    const instruments = instrumentsOf(JSON.parse(head.instruments) as InstrumentChoices);
    loaded.set(
      head.id,
      assemble(head, {
        vessel,
        acts: acts.get(head.id) ?? [],
        instruments,
        readings: readings.get(head.id) ?? [],
        trials: trials.get(head.id) ?? [],
        isInspected: inspected.has(head.id),
        frozen: frozen.get(head.id),
      }),
    );
  }
  return loaded;
};

export const findCalibration = async (
  db: Reading,
  id: string,
  options: { trials: boolean } = { trials: true },
): Promise<StoredCalibration | null> => (await loadCalibrations(db, [id], options)).get(id) ?? null;

/** Calibrations of one vessel, newest first. */
export const calibrationIdsOf = async (db: Reading, vesselId: string): Promise<string[]> => {
  const rows = await db
    .selectFrom('calibration')
    .select('id')
    .where('vessel_id', '=', vesselId)
    .orderBy('performed_on', 'desc')
    .orderBy('recorded_at', 'desc')
    .execute();
  return rows.map((row) => row.id);
};

/** The newest calibration of a vessel that was not abandoned. */
export const latestCalibrationOf = async (trx: Transaction<Tables>, vesselId: string): Promise<string | null> => {
  const row = await trx
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .select('calibration.id')
    .where('calibration.vessel_id', '=', vesselId)
    .where('calibration_standing.state', '!=', 'abandoned')
    .orderBy('calibration.performed_on', 'desc')
    .orderBy('calibration.recorded_at', 'desc')
    .executeTakeFirst();
  return row?.id ?? null;
};
