/** Appends to the evidence of a calibration and keeps how it stands in step. */
import { sql, type Transaction } from 'kysely';
import { prebuilt, prebuiltInsert } from '../db/prebuilt.ts';
import type { Tables, TrialTable } from '../db/tables.ts';
import type { ConditionFacts } from '../metrology/record.ts';
import { VERSIONS } from '../metrology/versions.ts';
import type { Settled } from './beginning.ts';
import type { CalibrationState, TrialBody } from './contract.ts';

interface Authorship {
  at: string;
  actor: string;
}

export interface NewCalibration extends Authorship {
  id: string;
  vesselId: string;
  settled: Settled;
  /** Where the readings come from, if not from the bench. */
  origin?: 'sheet' | 'paper' | undefined;
}

export const insertCalibration = async (trx: Transaction<Tables>, calibration: NewCalibration): Promise<void> => {
  const { id, vesselId, settled, at, actor } = calibration;
  const { body } = settled;
  const { confirm: _confirm, ...conditions } = body.conditions;
  await trx
    .insertInto('calibration')
    .values({
      id,
      vessel_id: vesselId,
      basis: settled.basis,
      points: JSON.stringify(body.points),
      planned_trials: body.plannedTrials,
      performed_on: settled.performedOn,
      decision_rule: body.decisionRule,
      coverage_probability: body.coverageProbability,
      repeatability: JSON.stringify(body.repeatability),
      conditions: JSON.stringify(conditions),
      instruments: JSON.stringify(settled.choices),
      laboratory: JSON.stringify(settled.laboratory),
      note: body.note ?? null,
      versions: JSON.stringify(VERSIONS),
      recorded_at: at,
      recorded_by: actor,
      origin: calibration.origin ?? null,
    })
    .execute();
  await trx
    .insertInto('calibration_standing')
    .values({
      calibration_id: id,
      vessel_id: vesselId,
      version: 1,
      state: 'open',
      planned_trials: body.plannedTrials,
      decision_rule: body.decisionRule,
      coverage_probability: body.coverageProbability,
      trials_recorded: 0,
      touched_at: at,
    })
    .execute();
};

/** The formulas and tables in force, kept with each trial; one text for all of them. */
export const FORMULAS = [VERSIONS.model, VERSIONS.waterDensity, VERSIONS.airDensity].join(' ');

const insertTrialRow = prebuiltInsert('trial', [
  'calibration_id',
  'number',
  'point_ml',
  'empty_g',
  'filled_g',
  'water_temperature_c',
  'water_temperature_half_width_c',
  'empty_source',
  'empty_of',
  'empty_state',
  'air_temperature_c',
  'air_pressure_hpa',
  'relative_humidity_percent',
  'delivery_time_s',
  'waiting_time_s',
  'open_time_s',
  'note',
  'confirmed',
  'formulas',
  'request_key',
  'recorded_at',
  'recorded_by',
  'water_temperature_source',
  'tip',
  'channel',
  'drain_position',
]);

const countTrial = prebuilt((db, trialsRecorded: number, at: string, calibrationId: string) =>
  db
    .updateTable('calibration_standing')
    .set({ trials_recorded: trialsRecorded, touched_at: at, version: sql<number>`version + 1` })
    .where('calibration_id', '=', calibrationId),
);

export const insertTrial = async (
  trx: Transaction<Tables>,
  trial: Authorship & { calibrationId: string; number: number; body: TrialBody; requestKey: string },
): Promise<void> => {
  const { calibrationId, number, body, at, actor } = trial;
  const row: TrialTable = {
    calibration_id: calibrationId,
    number,
    point_ml: body.pointMl,
    empty_g: body.emptyG,
    filled_g: body.filledG,
    water_temperature_c: body.waterTemperatureC,
    water_temperature_half_width_c: body.waterTemperatureHalfWidthC ?? null,
    empty_source: body.emptySource ?? 'own',
    empty_of: body.emptyOf ?? null,
    empty_state: body.emptyState ?? null,
    air_temperature_c: body.airTemperatureC ?? null,
    air_pressure_hpa: body.airPressureHpa ?? null,
    relative_humidity_percent: body.relativeHumidityPercent ?? null,
    delivery_time_s: body.deliveryTimeS ?? null,
    waiting_time_s: body.waitingTimeS ?? null,
    open_time_s: body.openTimeS ?? null,
    note: body.note || null,
    confirmed: body.confirm ? JSON.stringify(body.confirm) : null,
    formulas: FORMULAS,
    request_key: trial.requestKey,
    recorded_at: at,
    recorded_by: actor,
    water_temperature_source: body.waterTemperatureSource ?? null,
    tip: body.tip || null,
    channel: body.channel ?? null,
    drain_position: body.drainPosition || null,
  };
  await insertTrialRow(trx, row);
  await countTrial(trx, number, at, calibrationId);
};

type Standing = {
  state?: CalibrationState;
  planned_trials?: number;
  decision_rule?: string;
  coverage_probability?: string;
};

const touch = async (
  trx: Transaction<Tables>,
  calibrationId: string,
  at: string,
  standing: Standing = {},
): Promise<void> => {
  await trx
    .updateTable('calibration_standing')
    .set({ ...standing, version: sql<number>`version + 1`, touched_at: at })
    .where('calibration_id', '=', calibrationId)
    .execute();
};

export const insertExclusion = async (
  trx: Transaction<Tables>,
  facts: Authorship & {
    calibrationId: string;
    trialNumber: number;
    excluded: boolean;
    cause: string | null;
    reason: string;
  },
): Promise<void> => {
  const { calibrationId, trialNumber, at } = facts;
  await trx
    .insertInto('trial_exclusion')
    .values((values) => ({
      calibration_id: calibrationId,
      trial_number: trialNumber,
      number: values
        .selectFrom('trial_exclusion')
        .select((count) => sql<number>`${count.fn.countAll()} + 1`.as('number'))
        .where('calibration_id', '=', calibrationId)
        .where('trial_number', '=', trialNumber),
      excluded: facts.excluded ? 1 : 0,
      cause: facts.cause,
      reason: facts.reason,
      recorded_at: at,
      recorded_by: facts.actor,
    }))
    .execute();
  await touch(trx, calibrationId, at);
};

export const insertCorrection = async (
  trx: Transaction<Tables>,
  facts: Authorship & {
    calibrationId: string;
    trialNumber: number;
    field: string;
    previousValue: string | null;
    value: string;
    reason: string;
    note: string | null;
  },
): Promise<void> => {
  const { calibrationId, trialNumber, at } = facts;
  await trx
    .insertInto('trial_correction')
    .values((values) => ({
      calibration_id: calibrationId,
      trial_number: trialNumber,
      number: values
        .selectFrom('trial_correction')
        .select((count) => sql<number>`${count.fn.countAll()} + 1`.as('number'))
        .where('calibration_id', '=', calibrationId)
        .where('trial_number', '=', trialNumber),
      field: facts.field,
      previous_value: facts.previousValue,
      value: facts.value,
      reason: facts.reason,
      note: facts.note,
      recorded_at: at,
      recorded_by: facts.actor,
    }))
    .execute();
  await touch(trx, calibrationId, at);
};

export const insertConditionReading = async (
  trx: Transaction<Tables>,
  facts: Authorship & { calibrationId: string; number: number; afterTrial: number; conditions: ConditionFacts },
): Promise<void> => {
  await trx
    .insertInto('condition_reading')
    .values({
      calibration_id: facts.calibrationId,
      number: facts.number,
      after_trial: facts.afterTrial,
      conditions: JSON.stringify(facts.conditions),
      recorded_at: facts.at,
      recorded_by: facts.actor,
    })
    .execute();
  await touch(trx, facts.calibrationId, facts.at);
};

/** An act that moves the calibration or changes its plan, with the reason. */
export const insertAct = async (
  trx: Transaction<Tables>,
  facts: Authorship & {
    calibrationId: string;
    number: number;
    act: string;
    state: CalibrationState;
    vesselVersion: number | null;
    facts: object | null;
    reason: string | null;
    standing?: Standing;
  },
): Promise<void> => {
  await trx
    .insertInto('calibration_act')
    .values({
      calibration_id: facts.calibrationId,
      number: facts.number,
      act: facts.act,
      state: facts.state,
      vessel_version: facts.vesselVersion,
      facts: facts.facts === null ? null : JSON.stringify(facts.facts),
      reason: facts.reason,
      recorded_at: facts.at,
      recorded_by: facts.actor,
    })
    .execute();
  await touch(trx, facts.calibrationId, facts.at, { ...facts.standing, state: facts.state });
};
