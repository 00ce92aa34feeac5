/**
 * The board of a class: data → geometry, in pixels. One row for each kind of ware, or for each group, all on one axis of
 * the distance from the nominal volume, so that rows compare at a glance. Screen and paper draw the same geometry.
 */
import { levelsOf, stack } from './stack.ts';

/** `relative`: per cent of the nominal volume in steps of ten, so that a rough vessel does not hide a fine one. */
export type BoardScale = 'millilitres' | 'relative';
type Side = 'low' | 'high';

export interface BoardTrial {
  group: number;
  volumeMl: number;
  excluded: boolean;
}

export interface BoardRow {
  key: string;
  nominalMl: number;
  /** null: no tolerance stated. */
  toleranceMl: number | null;
  trials: readonly BoardTrial[];
  /** Foreseen volumes; empty while they are not shown. */
  predictions: readonly { group: number; volumeMl: number }[];
  /** Volumes the axis has room for, where they are more than those drawn: another view’s as well. */
  roomForMl?: readonly number[];
}

export interface BoardAxis {
  scale: BoardScale;
  /** Distance from the nominal volume at either end, in mL or per cent. */
  halfRange: number;
  /** Relative only: about so far the axis is linear, beyond it each step is ten times the one before; per cent. */
  linearTo: number;
  /** Nominal volume where all rows share one: ticks are then volumes. */
  sharedNominalMl: number | null;
  /** Distances from the nominal volume. */
  ticks: readonly number[];
}

export interface BoardDot {
  group: number;
  volumeMl: number;
  excluded: boolean;
  x: number;
  y: number;
  outside: Side | null;
}

export interface BoardRowGeometry {
  key: string;
  band: { x: number; width: number } | null;
  dots: BoardDot[];
  dotRadius: number;
  /** Mean of each group's counted trials. */
  groupMeans: { group: number; volumeMl: number; x: number; y1: number; y2: number }[];
  /** Mean of all counted trials. */
  mean: { volumeMl: number; x: number } | null;
  predictions: { group: number; volumeMl: number; x: number; y: number; size: number }[];
  /** Farthest volume beyond each end, written there. */
  edges: { side: Side; volumeMl: number; x: number }[];
}

export interface BoardGeometry {
  width: number;
  rowHeight: number;
  /** Of each row, from its own top. */
  lanes: { meansTop: number; dotsTop: number; axisY: number; predictionsY: number };
  axis: { x1: number; x2: number; nominalX: number; ticks: { x: number; value: number }[] };
  rows: BoardRowGeometry[];
}

export interface BoardSize {
  width: number;
  rowHeight: number;
}

/** The axis reaches at least so many tolerances to each side, and at most so many for what lies outside them. */
const REACH = 1.5;
const FARTHEST_REACH = 6;
/** Share of the volumes that the axis holds where they lie outside the tolerance. */
const HELD = 0.9;
const ROOM = 1.15;
const LARGEST_DOT_PX = 8;
const SMALLEST_DOT_PX = 2;
/** Dots of a row this high may be so small; rather than smaller ones, they close up. */
const HEIGHT_PER_SMALLEST_DOT = 42;
const MARGIN_PX = 12;
const PER_CENT = 100;

/** Distance from the nominal volume, in mL or per cent of it. */
export const distanceFrom = (nominalMl: number, volumeMl: number, scale: BoardScale): number =>
  scale === 'relative' ? (PER_CENT * (volumeMl - nominalMl)) / nominalMl : volumeMl - nominalMl;

const toleranceOf = ({ nominalMl, toleranceMl }: BoardRow, scale: BoardScale): number | null =>
  toleranceMl === null || toleranceMl <= 0 ? null : distanceFrom(nominalMl, nominalMl + toleranceMl, scale);

/** How far a row wants the axis to reach; null while it has nothing to say. */
function reachOf(row: BoardRow, scale: BoardScale): number | null {
  const volumes = row.roomForMl ?? row.trials.map(({ volumeMl }) => volumeMl);
  const far = volumes.map((volumeMl) => Math.abs(distanceFrom(row.nominalMl, volumeMl, scale))).sort((a, b) => a - b);
  const tolerance = toleranceOf(row, scale);
  if (tolerance === null) return far.length === 0 ? null : ROOM * (far.at(-1) ?? 0);
  const held = ROOM * (far[Math.ceil(HELD * far.length) - 1] ?? 0);
  return Math.min(FARTHEST_REACH * tolerance, Math.max(REACH * tolerance, held));
}

/** The one axis of all rows. */
export function boardAxis(rows: readonly BoardRow[], scale: BoardScale): BoardAxis {
  const reach = Math.max(0, ...rows.flatMap((row) => reachOf(row, scale) ?? []));
  const largest = Math.max(0, ...rows.map(({ nominalMl }) => nominalMl));
  const halfRange = reach > 0 ? reach : scale === 'relative' ? 1 : largest / PER_CENT || 1;
  const nominals = new Set(rows.map(({ nominalMl }) => nominalMl));
  const [only] = nominals;
  const tightest = Math.min(...rows.flatMap((row) => toleranceOf(row, scale) ?? []), halfRange);
  const linearTo = 10 ** Math.floor(Math.log10(tightest));
  return {
    scale,
    halfRange,
    linearTo,
    sharedNominalMl: scale === 'millilitres' && nominals.size === 1 && only !== undefined ? only : null,
    ticks: scale === 'relative' ? ticksByTen(linearTo, halfRange) : evenTicks(halfRange),
  };
}

const onBothSides = (steps: readonly number[]): number[] => [...steps.map((step) => -step).reverse(), 0, ...steps];

function ticksByTen(linearTo: number, halfRange: number): number[] {
  const steps: number[] = [];
  for (let step = linearTo; step <= halfRange * (1 + 1e-9); step *= 10) steps.push(Number(step.toPrecision(1)));
  return onBothSides(steps);
}

/** One or two to each side, at 1, 2 or 5 times a power of ten. */
function evenTicks(halfRange: number): number[] {
  const power = 10 ** Math.floor(Math.log10(halfRange / 1.25));
  const step = [5, 2, 1].map((times) => times * power).find((one) => one <= halfRange / 1.25) ?? power;
  const count = Math.min(2, Math.floor(halfRange / step + 1e-9));
  return onBothSides(Array.from({ length: count }, (_, index) => Number(((index + 1) * step).toPrecision(3))));
}

/** Share of the half axis, −1 to 1 within it. */
const shareOf = ({ scale, halfRange, linearTo }: BoardAxis, distance: number): number =>
  scale === 'relative' ? Math.asinh(distance / linearTo) / Math.asinh(halfRange / linearTo) : distance / halfRange;

// What lies exactly at the end of the axis is still on it, whatever the last bits say.
const sideOf = ({ halfRange }: BoardAxis, distance: number): Side | null => {
  if (Math.abs(distance) <= halfRange * (1 + 1e-9)) return null;
  return distance < 0 ? 'low' : 'high';
};

const meanOf = (volumes: readonly number[]): number =>
  (volumes[0] ?? 0) + volumes.reduce((sum, volume) => sum + (volume - (volumes[0] ?? 0)), 0) / volumes.length;

interface Frame {
  axis: BoardAxis;
  lanes: BoardGeometry['lanes'];
  place: (distance: number) => number;
}

/** @param edgeMarginPx room for the volume written at an end of the axis, where one lies beyond it in any row */
export function boardGeometry(
  rows: readonly BoardRow[],
  axis: BoardAxis,
  { width, rowHeight }: BoardSize,
  edgeMarginPx = 56,
): BoardGeometry {
  const isBeyond = (side: Side) =>
    rows.some(({ nominalMl, trials }) =>
      trials.some(({ volumeMl }) => sideOf(axis, distanceFrom(nominalMl, volumeMl, axis.scale)) === side),
    );
  const x1 = isBeyond('low') ? edgeMarginPx : MARGIN_PX;
  const x2 = Math.max(x1 + 20, width - (isBeyond('high') ? edgeMarginPx : MARGIN_PX));
  const centre = (x1 + x2) / 2;
  const place = (distance: number): number =>
    Math.min(x2, Math.max(x1, centre + shareOf(axis, distance) * ((x2 - x1) / 2)));
  const lanes = lanesOf(
    rowHeight,
    rows.some(({ predictions }) => predictions.length > 0),
  );
  const frame = { axis, lanes, place };
  return {
    width,
    rowHeight,
    lanes,
    axis: { x1, x2, nominalX: centre, ticks: axis.ticks.map((value) => ({ value, x: place(value) })) },
    rows: rows.map((row) => rowGeometry(row, frame)),
  };
}

/** Group means on top, dots below them, foreseen volumes under the line. */
function lanesOf(rowHeight: number, hasPredictions: boolean): BoardGeometry['lanes'] {
  const meansTop = 2;
  const dotsTop = meansTop + Math.max(8, Math.min(20, 0.14 * rowHeight));
  const below = hasPredictions ? Math.max(10, Math.min(20, 0.13 * rowHeight)) : 3;
  const axisY = rowHeight - below;
  return { meansTop, dotsTop, axisY, predictionsY: axisY + below / 2 };
}

/** The largest dots with which the stacks of a row fit. */
function fittingRadius(places: readonly number[], { dotsTop, axisY }: BoardGeometry['lanes']): number {
  const room = axisY - dotsTop;
  const largest = Math.min(LARGEST_DOT_PX, room / 8);
  const smallest = Math.min(largest, Math.max(SMALLEST_DOT_PX, room / HEIGHT_PER_SMALLEST_DOT));
  for (let radius = largest; radius > smallest; radius -= 0.5) {
    const highest = Math.max(0, ...levelsOf(places, radius));
    if ((highest + 1) * (2 * radius + 1) + 2 <= room) return radius;
  }
  return smallest;
}

function rowGeometry(row: BoardRow, frame: Frame): BoardRowGeometry {
  const { axis, place } = frame;
  const at = (volumeMl: number): number => place(distanceFrom(row.nominalMl, volumeMl, axis.scale));
  const tolerance = toleranceOf(row, axis.scale);
  const counted = row.trials.filter(({ excluded }) => !excluded).map(({ volumeMl }) => volumeMl);
  const meanMl = counted.length === 0 ? null : meanOf(counted);
  const dots = row.trials.map((trial) => ({
    ...trial,
    x: at(trial.volumeMl),
    y: 0,
    outside: sideOf(axis, distanceFrom(row.nominalMl, trial.volumeMl, axis.scale)),
  }));
  const { dotsTop, axisY } = frame.lanes;
  const dotRadius = fittingRadius(
    dots.map(({ x }) => x),
    frame.lanes,
  );
  return {
    key: row.key,
    band: tolerance === null ? null : { x: place(-tolerance), width: place(tolerance) - place(-tolerance) },
    dots: stack(dots, { axisY, ceilingY: dotsTop, dotRadius }),
    dotRadius,
    groupMeans: groupMeansOf(row, at, frame.lanes),
    mean: meanMl === null ? null : { volumeMl: meanMl, x: at(meanMl) },
    predictions: predictionsOf(row, at, frame.lanes),
    edges: edgesOf(dots),
  };
}

/** Bars that would cover each other are as many times shorter and stand one above the other. */
function groupMeansOf({ trials }: BoardRow, at: (volumeMl: number) => number, lanes: BoardGeometry['lanes']) {
  const groups = [...new Set(trials.map(({ group }) => group))];
  const means = groups.flatMap((group) => {
    const mine = trials.filter((trial) => trial.group === group && !trial.excluded).map(({ volumeMl }) => volumeMl);
    return mine.length === 0 ? [] : [{ group, volumeMl: meanOf(mine) }];
  });
  const levels = levelsOf(
    means.map(({ volumeMl }) => at(volumeMl)),
    1,
  );
  const height = (lanes.dotsTop - lanes.meansTop - 1) / (Math.max(0, ...levels) + 1);
  return means.map(({ group, volumeMl }, index) => {
    const y1 = lanes.meansTop + height * (levels[index] ?? 0);
    return { group, volumeMl, x: at(volumeMl), y1, y2: y1 + 0.85 * height };
  });
}

function predictionsOf(row: BoardRow, at: (volumeMl: number) => number, lanes: BoardGeometry['lanes']) {
  const size = 0.8 * (lanes.predictionsY - lanes.axisY);
  return row.predictions.map(({ group, volumeMl }) => ({
    ...{ group, volumeMl, size },
    ...{ x: at(volumeMl), y: lanes.predictionsY },
  }));
}

function edgesOf(dots: readonly BoardDot[]): BoardRowGeometry['edges'] {
  return (['low', 'high'] as const).flatMap((side) => {
    const beyond = dots.filter(({ outside }) => outside === side);
    const [first, ...others] = beyond;
    if (!first) return [];
    const isFarther = (one: BoardDot, than: BoardDot) =>
      side === 'low' ? one.volumeMl < than.volumeMl : one.volumeMl > than.volumeMl;
    const farthest = others.reduce((far, dot) => (isFarther(dot, far) ? dot : far), first);
    return [{ side, volumeMl: farthest.volumeMl, x: farthest.x }];
  });
}
