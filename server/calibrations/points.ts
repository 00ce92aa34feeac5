/** Which test points a vessel has. */
import { numberOf, sameDecimal } from '../metrology/decimal.ts';
import type { VesselFacts } from '../metrology/record.ts';
import type { FieldProblem } from '../problem.ts';

/** One mark only: the nominal volume is the point. */
const ONE_MARK = new Set(['volumetric-flask', 'single-volume-pipette', 'pycnometer']);
/** A printed scale of a few marks; where they are listed, they are the points. */
const LISTED_MARKS = new Set(['beaker', 'conical-flask']);

/** Why a point is not on the vessel, or null. */
export const pointRefusal = (vessel: VesselFacts, point: string): string | null => {
  const nominal = vessel.nominalVolumeMl;
  if (ONE_MARK.has(vessel.kind))
    return sameDecimal(point, nominal) ? null : `This vessel has one mark, at ${nominal} mL; ${point} mL is not on it.`;
  if (LISTED_MARKS.has(vessel.kind) && vessel.marks) {
    const marks = [...vessel.marks, nominal];
    if (marks.some((mark) => sameDecimal(mark, point))) return null;
    return `The marks of this vessel are ${marks.join(', ')} mL; ${point} mL is not among them.`;
  }
  return numberOf(point) <= numberOf(nominal) ? null : `${point} mL lies above the nominal volume of ${nominal} mL.`;
};

export const pointRefusals = (vessel: VesselFacts, points: readonly string[]): FieldProblem[] =>
  points.flatMap((point, index): FieldProblem[] => {
    const pointer = `#/points/${index}`;
    const detail = pointRefusal(vessel, point);
    if (detail !== null) return [{ pointer, detail }];
    if (points.slice(0, index).some((earlier) => sameDecimal(earlier, point)))
      return [{ pointer, detail: `The point ${point} mL is named twice.` }];
    return [];
  });

/** Planned points compare as numbers: `50` and `50.0` are the same point. */
export const plannedPoint = (points: readonly string[], point: string): string | null =>
  points.find((planned) => sameDecimal(planned, point)) ?? null;
