/** Calibrations as strips: what lists and histories show of them. */
import type { Reading } from '../db/logbook.ts';
import type { CalibrationSummary } from '../glassware/contract.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { sameDecimal } from '../metrology/decimal.ts';
import type { CalibrationResult, PointResult } from '../metrology/result.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { withPools } from './store-pool.ts';
import { calibrationIdsOf, loadCalibrations, type StoredCalibration } from './store.ts';

const pointSummary = (point: PointResult, result: CalibrationResult): CalibrationSummary['points'][number] => {
  const trials = result.trials.filter((trial) => sameDecimal(trial.pointMl, point.pointMl));
  const volumes = (excluded: boolean): number[] =>
    trials.filter((trial) => (trial.exclusion != null) === excluded).map((trial) => trial.volumeMl);
  return {
    pointMl: point.pointMl,
    n: point.n,
    nRecorded: point.nRecorded,
    meanMl: point.meanMl,
    biasMl: point.biasMl,
    sdMl: point.sdMl,
    expandedUncertaintyMl: point.expandedUncertaintyMl,
    coverageFactor: point.coverageFactor,
    simpleMeanMl: point.simpleMeanMl,
    toleranceMl: point.toleranceMl,
    verdict: point.verdict,
    volumesMl: volumes(false),
    excludedVolumesMl: volumes(true),
  };
};

export const summaryOf = (stored: StoredCalibration): CalibrationSummary =>
  summaryOfResult(stored, stored.frozen ?? evaluate(stored.record, toleranceRows));

export const summaryOfResult = (stored: StoredCalibration, result: CalibrationResult): CalibrationSummary => ({
  id: stored.id,
  state: stored.state,
  performedOn: stored.record.performedOn,
  origin: stored.record.origin ?? null,
  recordedAt: stored.recordedAt,
  plannedTrials: stored.record.plannedTrials,
  verdict: result.verdict,
  final: result.final,
  points: result.points.map((point) => pointSummary(point, result)),
});

export const summariesOf = async (db: Reading, ids: readonly string[]): Promise<Map<string, CalibrationSummary>> => {
  const stored = await withPools(db, await loadCalibrations(db, ids));
  return new Map([...stored].map(([id, calibration]) => [id, summaryOf(calibration)]));
};

/** History of one vessel, newest first. */
export const summariesOfVessel = async (db: Reading, vesselId: string): Promise<CalibrationSummary[]> => {
  const ids = await calibrationIdsOf(db, vesselId);
  const summaries = await summariesOf(db, ids);
  return ids.map((id) => summaries.get(id)).filter((summary) => summary !== undefined);
};
