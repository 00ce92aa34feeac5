import type { Transaction } from 'kysely';
import { localDay } from '../clock.ts';
import type { Reading } from '../db/logbook.ts';
import { prebuilt } from '../db/prebuilt.ts';
import type {
  CalibrationStandingTable,
  CalibrationTable,
  ConditionReadingTable,
  Tables,
  TrialTable,
} from '../db/tables.ts';
import { vesselOf, type StoredVessel } from '../glassware/store.ts';
import { findInstrumentRevisions, type StoredInstrument } from '../instruments/store.ts';
import { sameDecimal } from '../metrology/decimal.ts';
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
  TrialCorrection,
  TrialFacts,
} from '../metrology/record.ts';
import type { CalibrationState } from './contract.ts';

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

const grouped = <T extends { calibration_id: string }>(rows: readonly T[]): Map<string, T[]> => {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(row.calibration_id);
    if (group) group.push(row);
    else groups.set(row.calibration_id, [row]);
  }
  return groups;
};

export const trialOf = (row: TrialTable): TrialFacts => ({
  number: row.number,
  pointMl: row.point_ml,
  emptyG: row.empty_g,
  filledG: row.filled_g,
  waterTemperatureC: row.water_temperature_c,
  waterTemperatureHalfWidthC: row.water_temperature_half_width_c,
  emptySource: row.empty_source as TrialFacts['emptySource'],
  emptyOf: row.empty_of,
  emptyState: row.empty_state as TrialFacts['emptyState'],
  airTemperatureC: row.air_temperature_c,
  airPressureHpa: row.air_pressure_hpa,
  relativeHumidityPercent: row.relative_humidity_percent,
  deliveryTimeS: row.delivery_time_s,
  waitingTimeS: row.waiting_time_s,
  openTimeS: row.open_time_s,
  note: row.note,
  corrections: [],
  exclusion: null,
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
});

const factsForModel = (stored: StoredInstrument): object => {
  const { facts } = stored;
  return { ...facts, dueOn: facts.dueOn ?? null };
};

const instrumentKey = ({ id, version }: InstrumentChoice): string => `${id}/${version}`;

const loadInstruments = async (
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

type HeadRow = CalibrationTable &
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

const readingsOf = prebuilt((db, id: string) =>
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

/** Trials with what was corrected and excluded later, whole and in order. */
export const loadTrials = async (db: Reading, ids: readonly string[]): Promise<Map<string, TrialFacts[]>> => {
  const trials = new Map<string, TrialFacts[]>();
  const rows = await db
    .selectFrom('trial')
    .selectAll()
    .where('calibration_id', 'in', ids)
    .orderBy('calibration_id')
    .orderBy('number')
    .execute();
  for (const [id, group] of grouped(rows)) trials.set(id, group.map(trialOf));
  const corrections = await db
    .selectFrom('trial_correction')
    .selectAll()
    .where('calibration_id', 'in', ids)
    .orderBy('number')
    .execute();
  for (const row of corrections) {
    const trial = trials.get(row.calibration_id)?.[row.trial_number - 1];
    const correction: TrialCorrection = {
      field: row.field,
      value: row.value,
      reason: row.reason,
      recordedAt: row.recorded_at,
      recordedBy: row.recorded_by,
    };
    if (trial) trial.corrections = [...(trial.corrections ?? []), correction];
  }
  const exclusions = await db
    .selectFrom('trial_exclusion')
    .selectAll()
    .where('calibration_id', 'in', ids)
    .orderBy('number')
    .execute();
  for (const row of exclusions) {
    const trial = trials.get(row.calibration_id)?.[row.trial_number - 1];
    if (!trial) continue;
    trial.exclusion =
      row.excluded === 1
        ? {
            cause: row.cause as NonNullable<TrialFacts['exclusion']>['cause'],
            reason: row.reason,
            recordedAt: row.recorded_at,
            recordedBy: row.recorded_by,
          }
        : null;
  }
  return trials;
};

const assemble = (
  head: HeadRow,
  parts: {
    vessel: StoredVessel;
    acts: CalibrationAct[];
    instruments: InstrumentFacts;
    readings: readonly ConditionReadingTable[];
    trials: TrialFacts[];
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
    conditions: JSON.parse(head.conditions) as ConditionFacts,
    conditionReadings: parts.readings.map((row) => ({
      ...(JSON.parse(row.conditions) as ConditionFacts),
      afterTrial: row.after_trial,
      recordedAt: row.recorded_at,
      recordedBy: row.recorded_by,
    })),
    instruments: parts.instruments,
    laboratory: JSON.parse(head.laboratory) as LaboratoryFacts,
    trials: parts.trials,
  },
});

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

const headWithVessel = prebuilt((db, id: string) =>
  db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
    .innerJoin('vessel_revision', (join) =>
      join.onRef('vessel_revision.vessel_id', '=', 'vessel.id').onRef('vessel_revision.version', '=', 'vessel.version'),
    )
    .selectAll('vessel_revision')
    .select([
      'vessel_revision.version as vessel_version',
      'calibration.id',
      'calibration.basis as calibration_basis',
      'calibration.points',
      'calibration.performed_on',
      'calibration.repeatability',
      'calibration.conditions',
      'calibration.instruments',
      'calibration.laboratory',
      'calibration.recorded_at as begun_at',
      'calibration.recorded_by as begun_by',
      'calibration_standing.state',
      'calibration_standing.version as standing_version',
      'calibration_standing.trials_recorded',
      'calibration_standing.planned_trials',
      'calibration_standing.decision_rule',
      'calibration_standing.coverage_probability',
    ])
    .select((count) =>
      count
        .selectFrom('condition_reading')
        .select((all) => all.fn.countAll<number>().as('count'))
        .whereRef('condition_reading.calibration_id', '=', 'calibration.id')
        .as('condition_readings'),
    )
    .where('calibration.id', '=', id),
);

/**
 * A calibration without its trials, for recording the next one: a bench has hundreds of trials, and none of them is
 * needed to accept another, except one whose reading is taken over.
 */
export const findForNextTrial = async (
  trx: Transaction<Tables>,
  id: string,
  takenOver: number | undefined,
): Promise<StoredCalibration | null> => {
  const [row] = await headWithVessel(trx, id);
  if (!row) return null;
  const choices = JSON.parse(row.instruments) as InstrumentChoices;
  const instrumentsOf = await loadInstruments(trx, [choices]);
  const readings = row.condition_readings ? await readingsOf(trx, id) : [];
  const trials = takenOver === undefined ? [] : ((await loadTrials(trx, [id])).get(id) ?? []);
  const head: HeadRow = {
    ...row,
    vessel_id: row.vessel_id,
    basis: row.calibration_basis,
    version: row.standing_version,
    standing_planned_trials: row.planned_trials,
    standing_decision_rule: row.decision_rule,
    standing_coverage_probability: row.coverage_probability,
    versions: '',
    recorded_at: row.begun_at,
    recorded_by: row.begun_by,
  };
  const vessel = vesselOf({ ...row, version: row.vessel_version });
  return assemble(head, { vessel, acts: [], instruments: instrumentsOf(choices), readings, trials });
};

/** Trials that count at a point, whichever way it was typed. */
export const countedAt = async (trx: Transaction<Tables>, id: string, pointMl: string): Promise<number> => {
  const trials = (await loadTrials(trx, [id])).get(id) ?? [];
  return trials.filter((trial) => trial.exclusion == null && sameDecimal(trial.pointMl, pointMl)).length;
};

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
