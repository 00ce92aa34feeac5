/** Dots that would cover each other, one above the other. Pure geometry, in pixels. */

export interface StackRoom {
  /** The line the dots stand on. */
  axisY: number;
  /** No dot reaches above this. */
  ceilingY: number;
  dotRadius: number;
}

const GAP_PX = 0.5;
/** Between the lowest dot and the line. */
const FOOT_PX = 2;

/** For each dot the lowest level where it meets no other, from its place on the axis; in the order given. */
export function levelsOf(places: readonly number[], dotRadius: number): number[] {
  const rightmost: number[] = [];
  const levels = Array<number>(places.length).fill(0);
  const order = places.map((x, index) => ({ x, index })).sort((a, b) => a.x - b.x);
  for (const { x, index } of order) {
    const free = rightmost.findIndex((last) => x - last >= 2 * dotRadius + GAP_PX);
    const level = free === -1 ? rightmost.length : free;
    rightmost[level] = x;
    levels[index] = level;
  }
  return levels;
}

/** The dots at their levels; levels close up when there are many. Order is kept. */
export function stack<D extends { x: number; y: number }>(dots: readonly D[], room: StackRoom): D[] {
  const { axisY, ceilingY, dotRadius } = room;
  const levels = levelsOf(
    dots.map(({ x }) => x),
    dotRadius,
  );
  const highest = Math.max(0, ...levels);
  const first = axisY - dotRadius - FOOT_PX;
  const free = first - dotRadius - ceilingY;
  const rise = Math.min(2 * dotRadius + 1, highest > 0 ? free / highest : free);
  return dots.map((dot, index) => ({ ...dot, y: first - rise * (levels[index] ?? 0) }));
}
