/** Everything the grid needs of one round, in one answer. */
import { summaryOfResult } from '../calibrations/view-strip.ts';
import { spreadOf, pooled } from '../calibrations/store-lot-pool.ts';
import { withPools, type PooledCalibration } from '../calibrations/store-pool.ts';
import { loadCalibrations } from '../calibrations/store.ts';
import { instrumentIds, vesselOfCalibration } from '../calibrations/view.ts';
import type { Reading } from '../db/logbook.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { evaluate } from '../metrology/evaluate.ts';
import type { CalibrationResult } from '../metrology/result.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import type { Round, RoundRow, ShortTrial } from './contract-round.ts';
import type { InspectionOnWire } from './contract.ts';
import { inspectionsFor } from './store-inspections.ts';
import { zeroChecksOf, type StoredRound } from './store-rounds.ts';
import type { StoredLot } from './store.ts';

const shortTrial = (trial: CalibrationResult['trials'][number]): ShortTrial => ({
  number: trial.number,
  pointMl: trial.pointMl,
  ...trial.used,
  waterTemperatureHalfWidthC: trial.waterTemperatureHalfWidthC ?? null,
  waterTemperatureSource: trial.waterTemperatureSource ?? null,
  emptySource: trial.emptySource ?? null,
  volumeMl: trial.volumeMl,
  excluded: trial.exclusion != null,
  corrected: (trial.corrections?.length ?? 0) > 0,
  findings: [...trial.findings],
  recordedAt: trial.recordedAt ?? '',
});

const rowOf = (stored: PooledCalibration, inspection: InspectionOnWire | null): RoundRow => {
  const result = stored.frozen ?? evaluate(stored.record, toleranceRows);
  return {
    calibrationId: stored.id,
    version: stored.version,
    state: stored.state,
    vessel: vesselOfCalibration(stored.vessel),
    inspection,
    trials: result.trials.map(shortTrial),
    summary: summaryOfResult(stored, result),
    pool: stored.pool && { sdMl: stored.pool.sdMl, degreesOfFreedom: stored.pool.degreesOfFreedom },
  };
};

const pooledOf = (calibrations: readonly PooledCalibration[], points: readonly string[]): Round['pooled'] => {
  const pool = pooled(calibrations.filter(({ state }) => state !== 'abandoned').map(spreadOf), points);
  return pool && { sdMl: pool.sdMl, degreesOfFreedom: pool.degreesOfFreedom, vessels: pool.from.length };
};

export const roundOnWire = async (db: Reading, lot: StoredLot, round: StoredRound): Promise<Round> => {
  const ids = round.members.map(({ calibrationId }) => calibrationId);
  const loaded = await withPools(db, await loadCalibrations(db, ids));
  const calibrations = ids.flatMap((id) => loaded.get(id) ?? []);
  const inspections = await inspectionsFor(db, round.members);
  // All began together; one that is still open has heard every reading of the air.
  const told = calibrations.find(({ state }) => state === 'open') ?? calibrations[0];
  if (!told) throw new Error('A round has at least one calibration.');
  const { record } = told;
  const { plan } = round;
  return {
    lot: { id: lot.id, name: lot.name },
    number: round.number,
    wayOfWorking: round.wayOfWorking,
    plannedPoints: record.points,
    plannedTrials: record.plannedTrials,
    basis: record.basis,
    performedOn: record.performedOn,
    decisionRule: record.decisionRule,
    repeatability: plan.repeatability,
    conditions: record.conditions as Round['conditions'],
    conditionReadings: record.conditionReadings as Round['conditionReadings'],
    instruments: instrumentIds(told),
    origin: record.origin ?? null,
    instrumentFacts: record.instruments as Round['instrumentFacts'],
    laboratory: { altitudeM: record.laboratory?.altitudeM ?? (await readLaboratory(db)).altitudeM },
    zeroChecks: (await zeroChecksOf(db, lot.id, round.number)).map(({ balanceId: _balanceId, ...check }) => check),
    pooled: pooledOf(calibrations, record.points),
    rows: calibrations.map((stored) => rowOf(stored, inspections.get(stored.id) ?? null)),
    note: plan.note ?? null,
    recordedAt: round.recordedAt,
    recordedBy: round.recordedBy,
  };
};
