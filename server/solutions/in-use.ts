/** A registered vessel as it is used for a solution: what was measured of it, or what its tolerance leaves. */
import type { PooledCalibration } from '../calibrations/store-pool.ts';
import { pointRefusal } from '../calibrations/points.ts';
import type { StoredVessel } from '../glassware/store.ts';
import { numberOf, sameDecimal } from '../metrology/decimal.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { expansionPerK } from '../metrology/materials.ts';
import { meniscusComponent, settingSpreadMl } from '../metrology/meniscus.ts';
import { readingMark } from '../metrology/reading-mark.ts';
import type { Basis } from '../metrology/record.ts';
import type { CalibrationResult, PointResult } from '../metrology/result.ts';
import { deliveredBetween, type CurvePoint, type CurveVessel } from '../metrology/solutions/burette.ts';
import type { VesselInUse } from '../metrology/solutions/vessel-in-use.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { findTolerance, rowOf, toleranceMlAt } from '../metrology/tolerance.ts';
import { DEFAULTS } from '../metrology/uncertainty-defaults.ts';

/** A calibration that gives a volume: final, and on the basis of its vessel. */
export interface GoodCalibration {
  id: string;
  performedOn: string;
  recordedBy: string;
  result: CalibrationResult;
}

const FINISHED = ['measured', 'checked', 'issued'];

/** What a finished calibration gives for use; null while it is not final, or on another basis than marked. */
export const usableCalibration = (stored: PooledCalibration): GoodCalibration | null => {
  const result = stored.frozen ?? evaluate(stored.record, toleranceRows);
  const isUsable = FINISHED.includes(stored.state) && result.final && stored.record.basis === stored.vessel.basis;
  if (!isUsable || result.points.every(({ meanMl }) => meanMl === null)) return null;
  const { id, recordedBy } = stored;
  return { id, performedOn: stored.record.performedOn, recordedBy, result };
};

const ONE_MARK = new Set(['volumetric-flask', 'single-volume-pipette', 'pycnometer']);
const NO_MEASURE: Partial<Record<string, string>> = { beaker: 'beaker', 'conical-flask': 'conical flask' };

/** Why a vessel cannot be used so, in plain words; null where it can. */
export const useRefusal = (vessel: StoredVessel, basis: Basis, pointMl: string): string | null => {
  const { tag } = vessel;
  if (!vessel.inUse) return `${tag} is out of use.`;
  const holder = NO_MEASURE[vessel.kind];
  if (holder !== undefined) return `${tag} is a ${holder}: its marks are no measure.`;
  if (vessel.basis !== basis)
    return basis === 'deliver'
      ? `${tag} is marked to contain (In): it delivers less than it holds.`
      : `${tag} is marked to deliver (Ex): it holds more than it delivers.`;
  return pointRefusal(vessel, pointMl);
};

const measuredPoints = (calibration: GoodCalibration | null): PointResult[] =>
  (calibration?.result.points ?? []).filter(({ meanMl, combinedUncertaintyMl: u }) => meanMl !== null && u !== null);

const spreadOf = (vessel: StoredVessel, point: PointResult | undefined, toleranceMl: number | null) => {
  const seen = point?.repeatability;
  if (seen && seen.kind !== 'predicted') return { sdMl: seen.sdMl, degreesOfFreedom: seen.degreesOfFreedom };
  const mark = readingMark(vessel, vessel.basis, rowOf(findTolerance(toleranceRows, vessel)), toleranceRows);
  return {
    sdMl: settingSpreadMl(mark, toleranceMl),
    degreesOfFreedom: DEFAULTS.predictedDegreesOfFreedom.value,
  };
};

/** Half-width of setting the mark by another eye, mL. */
const otherEyeMl = (vessel: StoredVessel, toleranceMl: number | null): number => {
  const mark = readingMark(vessel, vessel.basis, rowOf(findTolerance(toleranceRows, vessel)), toleranceRows);
  const { parts, sensitivity } = meniscusComponent(mark, toleranceMl, null, []);
  return (parts[0]?.spread ?? 0) * sensitivity;
};

/** Names vessel and calibration, so that uses of the same volume act together and those of an earlier one apart. */
export const vesselKey = (vesselId: string, calibrationId: string | null): string =>
  `vessel:${vesselId}@${calibrationId ?? 'tolerance'}`;

export interface Use {
  vessel: StoredVessel;
  calibration: GoodCalibration | null;
  actor: string;
}

/** What all uses of a vessel share, at one of its marks. */
const common = ({ vessel, calibration, actor }: Use, pointMl: number, point: PointResult | undefined) => {
  const match = findTolerance(toleranceRows, vessel);
  const toleranceMl = toleranceMlAt(vessel, rowOf(match), pointMl);
  return {
    key: vesselKey(vessel.id, calibration?.id ?? null),
    tag: vessel.tag,
    toleranceMl,
    classed: match.outcome === 'found' && !match.marked,
    spread: spreadOf(vessel, point, toleranceMl),
    otherPersonMl: calibration === null || calibration.recordedBy === actor ? 0 : otherEyeMl(vessel, toleranceMl),
    expansion: expansionPerK(vessel),
    referenceC: numberOf(vessel.referenceTemperatureC),
  };
};

const curvePoint = (point: PointResult): CurvePoint => ({
  pointMl: numberOf(point.pointMl),
  meanMl: point.meanMl ?? 0,
  combinedUncertaintyMl: point.combinedUncertaintyMl ?? 0,
  degreesOfFreedom: point.effectiveDegreesOfFreedom,
  sdMl: point.sdMl,
});

/** A graduated vessel between two readings, by the straight lines between its calibrated points. */
export const betweenReadings = (use: Use, fromMl: number, toMl: number): VesselInUse => {
  const points = measuredPoints(use.calibration).sort((one, two) => numberOf(one.pointMl) - numberOf(two.pointMl));
  const at = points.find((point) => numberOf(point.pointMl) >= toMl) ?? points.at(-1);
  const curve: CurveVessel = { ...common(use, toMl, at), points: points.map(curvePoint) };
  return deliveredBetween(curve, fromMl, toMl);
};

/** A vessel filled or emptied once to a mark. */
export const atMark = (use: Use, pointMl: string): VesselInUse => {
  const nominalMl = numberOf(pointMl);
  if (!ONE_MARK.has(use.vessel.kind)) return betweenReadings(use, 0, nominalMl);
  const point = measuredPoints(use.calibration).find((one) => sameDecimal(one.pointMl, pointMl));
  const measured = point
    ? {
        meanMl: point.meanMl ?? nominalMl,
        combinedUncertaintyMl: point.combinedUncertaintyMl ?? 0,
        degreesOfFreedom: point.effectiveDegreesOfFreedom,
      }
    : null;
  return { ...common(use, nominalMl, point), measured, nominalMl };
};
