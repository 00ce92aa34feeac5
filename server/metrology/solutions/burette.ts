import type { VesselInUse } from './vessel-in-use.ts';

/** One calibrated point of a burette or graduated pipette: the volume delivered from zero to the mark. */
export interface CurvePoint {
  pointMl: number;
  meanMl: number;
  combinedUncertaintyMl: number;
  degreesOfFreedom: number | null;
  sdMl: number | null;
}

export interface CurveVessel extends Omit<VesselInUse, 'measured' | 'nominalMl' | 'scaleKey' | 'between'> {
  /** By rising point; empty where the vessel was never calibrated. */
  points: readonly CurvePoint[];
}

interface CurveValue {
  correctionMl: number;
  uncertaintyMl: number;
  degreesOfFreedom: number | null;
}

const ZERO: CurveValue = { correctionMl: 0, uncertaintyMl: 0, degreesOfFreedom: null };

function ofPoint(point: CurvePoint): CurveValue {
  const { meanMl, pointMl, combinedUncertaintyMl, degreesOfFreedom } = point;
  return { correctionMl: meanMl - pointMl, uncertaintyMl: combinedUncertaintyMl, degreesOfFreedom };
}

/** Correction at a reading on the straight line between its neighbours, zero at zero, the last one beyond the last. */
function at(points: readonly CurvePoint[], readingMl: number): CurveValue {
  let lower = { at: 0, ...ZERO };
  for (const point of points) {
    const upper = { at: point.pointMl, ...ofPoint(point) };
    if (readingMl <= point.pointMl) {
      const share = (readingMl - lower.at) / (upper.at - lower.at);
      return {
        correctionMl: lower.correctionMl + share * (upper.correctionMl - lower.correctionMl),
        // Neighbours were measured alike: their errors count as one.
        uncertaintyMl: lower.uncertaintyMl + share * (upper.uncertaintyMl - lower.uncertaintyMl),
        degreesOfFreedom: upper.degreesOfFreedom,
      };
    }
    lower = upper;
  }
  return lower;
}

/**
 * Volume a graduated vessel delivered between two of its readings, by its calibration curve: straight lines between
 * the points, zero at zero. The uncertainty is that of the larger reading, and for a start away from zero both in
 * quadrature, since nothing says how far they err together.
 * @param fromMl reading before, from 0 on, below `toMl`
 * @throws RangeError when the readings are not in order
 * @source common-practice, calibration curve of a burette as straight lines between its points
 */
export function deliveredBetween(vessel: CurveVessel, fromMl: number, toMl: number): VesselInUse {
  if (!(fromMl >= 0) || !(toMl > fromMl)) throw new RangeError('the second reading is above the first');
  const { points, ...rest } = vessel;
  const nominalMl = toMl - fromMl;
  const part = {
    ...{ ...rest, key: `${vessel.key}:${fromMl}-${toMl}`, scaleKey: vessel.key },
    ...{ nominalMl, between: { fromMl, toMl } },
  };
  if (points.length === 0) return { ...part, measured: null };
  const [start, end] = [fromMl === 0 ? ZERO : at(points, fromMl), at(points, toMl)];
  const measured = {
    meanMl: nominalMl + end.correctionMl - start.correctionMl,
    combinedUncertaintyMl: Math.hypot(start.uncertaintyMl, end.uncertaintyMl),
    degreesOfFreedom: end.degreesOfFreedom,
  };
  return { ...part, measured };
}
