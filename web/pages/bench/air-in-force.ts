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
