/**
 * The tolerance strip: data → geometry, in pixels. One horizontal axis in mL, centred on the nominal volume. Screen and
 * paper draw the same geometry.
 */

import { stack, type StackRoom } from './stack.ts';

export interface StripData {
  nominalMl: number;
  /** null: no tolerance stated; then the data set the width of the axis. */
  toleranceMl: number | null;
  /** Inner edge of the guard band, T − U, under the guarded rule. */
  guardedMl?: number | null;
  volumesMl: readonly number[];
  excludedMl?: readonly number[];
  /** The trial being typed, not saved yet. */
  typedMl?: number | null;
  meanMl?: number | null;
  expandedUncertaintyMl?: number | null;
  /** Mean of mass ÷ 1 g/mL, when asked for. */
  simpleMeanMl?: number | null;
}

export type StripHeight = 28 | 96 | 160;
type Side = 'low' | 'high';

export interface StripDot {
  kind: 'counted' | 'excluded' | 'typed';
  volumeMl: number;
  x: number;
  y: number;
  /** Where the volume lies beyond the axis; then x is the edge. */
  outside: Side | null;
}

export interface StripGeometry {
  width: number;
  height: StripHeight;
  axis: { x1: number; x2: number; y: number };
  /** Sides at which something lies beyond the axis and its end is drawn broken. */
  broken: { low: boolean; high: boolean };
  /** Farthest volume beyond each end, written there. */
  edges: { side: Side; volumeMl: number; x: number }[];
  top: number;
  band: { x: number; width: number } | null;
  guard: { x: number; width: number } | null;
  nominalX: number;
  dots: StripDot[];
  dotRadius: number;
  mean: { x: number; y1: number; y2: number; outside: Side | null } | null;
  /** Without an end cap where U reaches beyond the axis. */
  whisker: { x1: number; x2: number; y: number; cutLow: boolean; cutHigh: boolean } | null;
  simple: { x: number; y: number; size: number; outside: Side | null } | null;
  /** Volumes at −T, nominal and +T with their places; empty in a table row. */
  labels: { at: 'low' | 'nominal' | 'high'; x: number; y: number; volumeMl: number }[];
  halfRangeMl: number;
}

interface Layout {
  top: number;
  axisY: number;
  labelY: number | null;
  dotRadius: number;
  margin: number;
  edgeMargin: number;
}

const LAYOUTS: Record<StripHeight, Layout> = {
  28: { top: 3, axisY: 24, labelY: null, dotRadius: 2.5, margin: 6, edgeMargin: 52 },
  96: { top: 8, axisY: 66, labelY: 86, dotRadius: 4, margin: 10, edgeMargin: 66 },
  160: { top: 10, axisY: 124, labelY: 146, dotRadius: 5, margin: 12, edgeMargin: 66 },
};

/** The axis reaches at least this many tolerances to each side. */
const REACH = 1.5;
/** Share of the height on top that dots leave to the whiskers. */
const WHISKER_LANE = 0.3;

export function stripGeometry(data: StripData, width: number, height: StripHeight): StripGeometry {
  const layout = LAYOUTS[height];
  const halfRangeMl = halfRange(data);
  const sideOf = (volumeMl: number): Side | null => beyond(volumeMl - data.nominalMl, halfRangeMl);
  const edges = farthest(data, sideOf);
  const x1 = edges.low === null ? layout.margin : layout.edgeMargin;
  const x2 = Math.max(x1 + 20, width - (edges.high === null ? layout.margin : layout.edgeMargin));
  const centre = (x1 + x2) / 2;
  const pxPerMl = (x2 - x1) / 2 / halfRangeMl;
  const place = (volumeMl: number) => Math.min(x2, Math.max(x1, centre + (volumeMl - data.nominalMl) * pxPerMl));
  const span = (halfMl: number) => ({ x: centre - halfMl * pxPerMl, width: 2 * halfMl * pxPerMl });
  const tolerance = data.toleranceMl;
  const guarded = data.guardedMl;
  const mean = data.meanMl ?? null;
  return {
    width,
    height,
    axis: { x1, x2, y: layout.axisY },
    broken: { low: edges.low !== null, high: edges.high !== null },
    edges: edgeList(edges, x1, x2),
    top: layout.top,
    band: tolerance === null ? null : span(tolerance),
    guard: guarded && guarded > 0 ? span(guarded) : null,
    nominalX: centre,
    dots: stack(dotsOf(data, place, sideOf), roomOf(layout, data.expandedUncertaintyMl ? WHISKER_LANE : 0)),
    dotRadius: layout.dotRadius,
    mean: mean === null ? null : { x: place(mean), y1: layout.top, y2: layout.axisY, outside: sideOf(mean) },
    whisker: whiskerOf(mean, data.expandedUncertaintyMl ?? null, { place, sideOf, layout }),
    simple: simpleOf(data.simpleMeanMl ?? null, place, sideOf, layout),
    labels: labelsOf(data, place, layout),
    halfRangeMl,
  };
}

const roomOf = ({ axisY, top, dotRadius }: Layout, lane: number): StackRoom => ({
  ...{ axisY, dotRadius },
  ceilingY: top + lane * (axisY - top),
});

/** ±1.5 T; without a tolerance what holds all volumes with a little room. */
function halfRange({ nominalMl, toleranceMl, volumesMl, typedMl, meanMl, expandedUncertaintyMl }: StripData): number {
  if (toleranceMl !== null && toleranceMl > 0) return REACH * toleranceMl;
  const whiskerMl = meanMl ? Math.abs(meanMl - nominalMl) + (expandedUncertaintyMl ?? 0) : 0;
  const farthestMl = [...volumesMl, ...(typedMl ? [typedMl] : [])].reduce(
    (most, volumeMl) => Math.max(most, Math.abs(volumeMl - nominalMl)),
    whiskerMl,
  );
  return farthestMl > 0 ? 1.25 * farthestMl : nominalMl / 100;
}

// A volume exactly at the end of the axis is still on it, whatever the last bits of the subtraction say.
const beyond = (deviationMl: number, halfRangeMl: number): Side | null => {
  if (Math.abs(deviationMl) <= halfRangeMl * (1 + 1e-9)) return null;
  return deviationMl < 0 ? 'low' : 'high';
};

function farthest(data: StripData, sideOf: (volumeMl: number) => Side | null): Record<Side, number | null> {
  const shown = [data.typedMl, data.meanMl, data.simpleMeanMl, ...data.volumesMl, ...(data.excludedMl ?? [])];
  const found: Record<Side, number | null> = { low: null, high: null };
  for (const volumeMl of shown) {
    if (volumeMl === null || volumeMl === undefined) continue;
    const side = sideOf(volumeMl);
    if (side === 'low') found.low = Math.min(found.low ?? volumeMl, volumeMl);
    if (side === 'high') found.high = Math.max(found.high ?? volumeMl, volumeMl);
  }
  return found;
}

const edgeList = (edges: Record<Side, number | null>, x1: number, x2: number): StripGeometry['edges'] => [
  ...(edges.low === null ? [] : [{ side: 'low' as const, volumeMl: edges.low, x: x1 }]),
  ...(edges.high === null ? [] : [{ side: 'high' as const, volumeMl: edges.high, x: x2 }]),
];

type Place = (volumeMl: number) => number;
type SideOf = (volumeMl: number) => Side | null;

function dotsOf(data: StripData, place: Place, sideOf: SideOf): StripDot[] {
  const dot = (kind: StripDot['kind']) => (volumeMl: number) => ({
    kind,
    volumeMl,
    x: place(volumeMl),
    y: 0,
    outside: sideOf(volumeMl),
  });
  return [
    ...data.volumesMl.map(dot('counted')),
    ...(data.excludedMl ?? []).map(dot('excluded')),
    ...(data.typedMl === null || data.typedMl === undefined ? [] : [dot('typed')(data.typedMl)]),
  ];
}

interface Axis {
  place: Place;
  sideOf: SideOf;
  layout: Layout;
}

function whiskerOf(mean: number | null, uncertainty: number | null, axis: Axis): StripGeometry['whisker'] {
  if (mean === null || uncertainty === null) return null;
  const { place, sideOf, layout } = axis;
  return {
    x1: place(mean - uncertainty),
    x2: place(mean + uncertainty),
    y: layout.top + (layout.axisY - layout.top) * (WHISKER_LANE / 2),
    cutLow: sideOf(mean - uncertainty) !== null,
    cutHigh: sideOf(mean + uncertainty) !== null,
  };
}

function simpleOf(simple: number | null, place: Place, sideOf: SideOf, { axisY, dotRadius }: Layout) {
  return simple === null ? null : { x: place(simple), y: axisY, size: dotRadius + 1, outside: sideOf(simple) };
}

function labelsOf(data: StripData, place: Place, { labelY }: Layout): StripGeometry['labels'] {
  if (labelY === null) return [];
  const label = (at: 'low' | 'nominal' | 'high', volumeMl: number) => ({ at, x: place(volumeMl), y: labelY, volumeMl });
  const tolerance = data.toleranceMl;
  return [
    ...(tolerance === null ? [] : [label('low', data.nominalMl - tolerance)]),
    label('nominal', data.nominalMl),
    ...(tolerance === null ? [] : [label('high', data.nominalMl + tolerance)]),
  ];
}
