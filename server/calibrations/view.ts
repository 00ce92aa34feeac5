/** A stored calibration with its result, as the wire shows it. */
import { evaluate } from '../metrology/evaluate.ts';
import type { CalibrationResult } from '../metrology/result.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import type { Calibration } from './contract.ts';
import { INSTRUMENT_ROLES, type StoredCalibration } from './store.ts';

/** The result in the shape of its contract: lists that may be absent in the computation are lists here. */
export const resultOnWire = (result: CalibrationResult) => ({
  ...result,
  trials: result.trials.map((trial) => ({
    ...trial,
    corrections: [...(trial.corrections ?? [])],
    exclusion: trial.exclusion ?? null,
  })),
});

const instrumentIds = (stored: StoredCalibration): Calibration['instruments'] => {
  const ids: Record<string, string> = {};
  for (const role of INSTRUMENT_ROLES) {
    const choice = stored.instruments[role];
    if (choice) ids[`${role}Id`] = choice.id;
  }
  return ids;
};

export const calibrationOnWire = (stored: StoredCalibration): Calibration => {
  const { record, vessel } = stored;
  return {
    ...resultOnWire(evaluate(record, toleranceRows)),
    id: stored.id,
    version: stored.version,
    state: stored.state,
    vessel: {
      id: vessel.id,
      tag: vessel.tag,
      kind: vessel.kind,
      nominalVolumeMl: vessel.nominalVolumeMl,
      basis: vessel.basis,
      referenceTemperatureC: vessel.referenceTemperatureC,
      material: vessel.material,
      expansionPerK: vessel.expansionPerK ?? null,
      divisionMl: vessel.divisionMl ?? null,
      neckDiameterMm: vessel.neckDiameterMm ?? null,
      waitingTimeS: vessel.waitingTimeS ?? null,
      tolerance: (vessel.tolerance ?? null) as Calibration['vessel']['tolerance'],
      inUse: vessel.inUse,
    },
    plannedPoints: record.points,
    plannedTrials: record.plannedTrials,
    performedOn: record.performedOn,
    repeatability: record.repeatability as Calibration['repeatability'],
    conditions: record.conditions as Calibration['conditions'],
    conditionReadings: record.conditionReadings as Calibration['conditionReadings'],
    instruments: instrumentIds(stored),
    instrumentFacts: record.instruments as Calibration['instrumentFacts'],
    laboratory: { altitudeM: record.laboratory?.altitudeM ?? null },
    note: stored.note,
    recordedAt: stored.recordedAt,
    recordedBy: stored.recordedBy,
    acts: stored.acts.map(({ act, at, by, reason }) => ({ act, at, by, reason })),
  };
};
