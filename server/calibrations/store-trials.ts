/** Trials with everything that was later said about them. */
import type { Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables, TrialTable } from '../db/tables.ts';
import { sameDecimal } from '../metrology/decimal.ts';
import type { TrialCorrection, TrialFacts } from '../metrology/record.ts';

export const grouped = <T extends { calibration_id: string }>(rows: readonly T[]): Map<string, T[]> => {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(row.calibration_id);
    if (group) group.push(row);
    else groups.set(row.calibration_id, [row]);
  }
  return groups;
};

const trialOf = (row: TrialTable): TrialFacts => ({
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
  waterTemperatureSource: row.water_temperature_source as TrialFacts['waterTemperatureSource'],
  tip: row.tip,
  channel: row.channel,
  drainPosition: row.drain_position,
  note: row.note,
  corrections: [],
  exclusion: null,
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
});

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

/** Trials that count at a point, whichever way it was typed. */
export const countedAt = async (trx: Transaction<Tables>, id: string, pointMl: string): Promise<number> => {
  const trials = (await loadTrials(trx, [id])).get(id) ?? [];
  return trials.filter((trial) => trial.exclusion == null && sameDecimal(trial.pointMl, pointMl)).length;
};
