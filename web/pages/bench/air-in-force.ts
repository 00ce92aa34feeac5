import type { Calibration, ConditionsBody } from '../../../server/calibrations/contract.ts';

/** When the air of a calibration was read last. */
export const airReadAt = (calibration: Pick<Calibration, 'conditionReadings' | 'recordedAt'>): string =>
  calibration.conditionReadings.at(-1)?.recordedAt ?? calibration.recordedAt;

const ABOUT_READING = ['afterTrial', 'recordedAt', 'recordedBy'];

/** Conditions in force at the end of a calibration: each later reading overlays what it knows. */
export const conditionsInForce = (calibration: Pick<Calibration, 'conditions' | 'conditionReadings'>): ConditionsBody =>
  calibration.conditionReadings.reduce<ConditionsBody>((known, reading) => {
    const read = Object.entries(reading).filter(([field]) => !ABOUT_READING.includes(field));
    return { ...known, ...Object.fromEntries(read) };
  }, calibration.conditions);

type AirRead = Pick<Calibration, 'conditions' | 'conditionReadings' | 'recordedAt'>;

const HOUR_MS = 3_600_000;
/** Common practice, no source. */
const AIR_KEEPS_MS = HOUR_MS;
/** The same change that the result reports as a drift. */
const MOST_K_PER_HOUR = 1;

/** Why the air should be read again: its reading is old, or the two last ones are far apart; null while neither. */
export const airReminder = (read: AirRead, nowMs: number): 'old' | 'drifting' | null => {
  const readings = [{ ...read.conditions, recordedAt: read.recordedAt }, ...read.conditionReadings].filter(
    ({ airTemperatureC }) => airTemperatureC !== undefined,
  );
  const [before, last] = readings.length < 2 ? [] : readings.slice(-2);
  if (nowMs - Date.parse(airReadAt(read)) > AIR_KEEPS_MS) return 'old';
  if (!before || !last) return null;
  const hours = (Date.parse(last.recordedAt) - Date.parse(before.recordedAt)) / HOUR_MS;
  const changeK = Math.abs(Number(last.airTemperatureC) - Number(before.airTemperatureC));
  // Since it was read, it may have gone on as fast; a few minutes later that is worth another look.
  const sinceMs = nowMs - Date.parse(last.recordedAt);
  return hours > 0 && changeK / hours > MOST_K_PER_HOUR && sinceMs > AIR_KEEPS_MS / 4 ? 'drifting' : null;
};
