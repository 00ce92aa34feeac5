/** The meniscus and the eye: what a height or an angle means as volume, and how the drawing of it is laid out. */
import { neckMlPerMm } from '../../server/metrology/reading-mark.ts';

/** Volume in mL of liquid `heightMm` high in a tube of inner diameter `diameterMm`. */
export const neckVolumeMl = (diameterMm: number, heightMm: number): number => neckMlPerMm(diameterMm) * heightMm;

/**
 * How far, in mm, the lowest point of a meniscus lies from the front of the mark it seems to touch, for an eye that
 * looks at an angle to the level: d/2·tan(angle). The lowest point is in the axis of the tube, the front on its wall.
 */
export const parallaxMm = (diameterMm: number, angleDegrees: number): number =>
  (diameterMm / 2) * Math.tan((angleDegrees * Math.PI) / 180);

export type EyeHeight = 'level' | 'high' | 'low';

export interface EyeDrawing {
  width: number;
  height: number;
  walls: { left: number; right: number };
  markY: number;
  /** Lowest point of the meniscus. */
  lowest: { x: number; y: number };
  eye: { x: number; y: number };
  /** Liquid with its hollow surface. */
  liquid: string;
}

const WIDTH = 300;
const HEIGHT = 200;
const WALLS = { left: 56, right: 128 };
const MARK_Y = 100;
const EYE_X = 262;
/** How far off the meniscus is drawn in the two wrong cases; larger than life. */
const OFF = 20;
/** How much higher the liquid stands at the wall. */
const RIM = 15;

const SHIFT: Record<EyeHeight, number> = { level: 0, high: OFF, low: -OFF };

/** A neck cut lengthwise, seen from the side: the eye looks through the front of the mark at the lowest point. */
export function eyeDrawing(height: EyeHeight): EyeDrawing {
  const x = (WALLS.left + WALLS.right) / 2;
  const lowest = { x, y: MARK_Y + SHIFT[height] };
  const slope = (MARK_Y - lowest.y) / (WALLS.right - x);
  return {
    width: WIDTH,
    height: HEIGHT,
    walls: WALLS,
    markY: MARK_Y,
    lowest,
    eye: { x: EYE_X, y: MARK_Y + slope * (EYE_X - WALLS.right) },
    liquid: hollowLiquid(WALLS.left, WALLS.right, lowest.y, RIM, HEIGHT),
  };
}

/** Outline of liquid between two walls, down to `bottom`; its surface is hollow, `lowestY` in the middle. */
export function hollowLiquid(left: number, right: number, lowestY: number, rim: number, bottom: number): string {
  const middle = (left + right) / 2;
  const rimY = lowestY - rim;
  const bend = (right - left) * 0.08;
  return [
    `M${left} ${rimY}`,
    `C${left + bend} ${lowestY - rim * 0.2} ${middle - (right - left) * 0.22} ${lowestY} ${middle} ${lowestY}`,
    `C${middle + (right - left) * 0.22} ${lowestY} ${right - bend} ${lowestY - rim * 0.2} ${right} ${rimY}`,
    `V${bottom}H${left}Z`,
  ].join('');
}
