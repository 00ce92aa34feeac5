/** The calibration on the page as the computation takes it, so that the page computes while somebody types. */
import type { Calibration, TrialBody } from '../../../server/calibrations/contract.ts';
import type { CalibrationRecord } from '../../../server/metrology/record.ts';

/** Wire to record: the same words, a few places moved. */
export const recordOf = (calibration: Calibration): CalibrationRecord => ({
  vessel: calibration.vessel,
  basis: calibration.basis,
  points: calibration.plannedPoints,
  plannedTrials: calibration.plannedTrials,
  performedOn: calibration.performedOn,
  decisionRule: calibration.decisionRule,
  repeatability: calibration.repeatability,
  conditions: calibration.conditions,
  conditionReadings: calibration.conditionReadings,
  instruments: calibration.instrumentFacts,
  laboratory: calibration.laboratory,
  origin: calibration.origin,
  trials: calibration.trials,
});

/** The record with further trials behind those it has. */
export const withTrials = (record: CalibrationRecord, bodies: readonly TrialBody[]): CalibrationRecord => {
  const last = record.trials.reduce((most, trial) => Math.max(most, trial.number ?? 0), 0);
  return {
    ...record,
    trials: [...record.trials, ...bodies.map((body, index) => ({ ...body, number: last + index + 1 }))],
  };
};

export const isAtPoint = (pointMl: string, trial: { pointMl: string }): boolean =>
  Number(trial.pointMl) === Number(pointMl);
