/**
 * Values over days or in their order: data → geometry, in pixels. A vessel's mean volumes with U, and the checks of an
 * instrument on a control chart, are drawn by the same function. Screen and paper draw the same geometry.
 */
import { scaleLinear } from 'd3-scale';

/** Shape of a point: a verdict is told by shape before colour. */
export type PointMark = 'pass' | 'conditional' | 'fail' | 'undecided' | 'plain';

export interface TimedValue {
  /** Day since 1970, or the place in the order. */
  at: number;
  value: number;
  /** U; null for none. */
  halfWidth: number | null;
  mark: PointMark;
}

export interface TrendStep {
  at: number;
  line: number;
  low: number;
  high: number;
}

/** Values that have a band and a centre of their own. */
export interface Stretch {
  from: number;
  to: number;
  band: { low: number; high: number } | null;
  centre: number | null;
}

export interface OverTimeData {
  points: readonly TimedValue[];
  /** Instead of one band and one centre for all. */
  stretches?: readonly Stretch[];
  /** Where something began anew, rising. */
  breaks?: readonly { at: number; label: string }[];
  /** What lies behind everything: a tolerance, or the limits of a control chart. */
  band: { low: number; high: number } | null;
  /** Nominal volume, or centre of the chart. */
  centre: number | null;
  trend: readonly TrendStep[];
  /** Where the early edge of the trend meets the tolerance. */
  leavesAt: number | null;
  axis: 'days' | 'order';
  /** Decimals of the labels at the upright axis. */
  decimals: number;
}

export interface OverTimeGeometry {
  width: number;
  height: number;
  frame: { x1: number; x2: number; y1: number; y2: number };
  band: { y: number; height: number } | null;
  centreY: number | null;
  stretches: { x1: number; x2: number; y: number; height: number; centreY: number }[];
  /** A label that would run into the one before is left out. */
  breaks: { x: number; label: string | null; anchor: 'start' | 'end' }[];
  points: { x: number; y: number; top: number | null; bottom: number | null; mark: PointMark }[];
  /** Joins the points of a control chart in their order, anew after each break. */
  path: string;
  trend: { line: string; area: string } | null;
  leavesX: number | null;
  xTicks: { x: number; label: string }[];
  yTicks: { y: number; label: string }[];
}

const MARGIN = { left: 76, right: 16, top: 12, bottom: 28 };
const X_TICK = 88;
const Y_TICK = 36;
/** A label of a day beside its line. */
const BREAK_LABEL = 84;
const DAY_MS = 86_400_000;
/** A single calibration stands in the middle of so many days. */
const ALONE_DAYS = 200;
const MONTH_STEPS = [1, 3, 6, 12, 24, 60, 120];

type Scale = (value: number) => number;

const round = (pixels: number): number => Math.round(pixels * 100) / 100;

const padded = (low: number, high: number, share: number, least: number): [number, number] => {
  const room = Math.max((high - low) * share, least);
  return [low - room, high + room];
};

function extents(data: OverTimeData): { x: [number, number]; y: [number, number] } {
  const ats = [
    ...data.points.map(({ at }) => at),
    ...data.trend.map(({ at }) => at),
    ...(data.breaks ?? []).map(({ at }) => at),
  ];
  const stretches = data.stretches ?? [];
  const values = [
    ...stretches.flatMap(({ band }) => (band === null ? [] : [band.low, band.high])),
    ...data.points.flatMap(({ value, halfWidth }) => [value - (halfWidth ?? 0), value + (halfWidth ?? 0)]),
    ...data.trend.flatMap(({ low, high }) => [low, high]),
    ...(data.band === null ? [] : [data.band.low, data.band.high]),
    ...(data.centre === null ? [] : [data.centre]),
  ];
  const [first, last] = [Math.min(...ats), Math.max(...ats)];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const alone = data.axis === 'days' ? ALONE_DAYS : 1;
  return {
    x: first === last ? [first - alone, last + alone] : padded(first, last, 0.04, data.axis === 'days' ? 1 : 0.5),
    y: low === high ? padded(low, high, 0, Math.abs(low) * 1e-6 || 1e-6) : padded(low, high, 0.06, 0),
  };
}

/** First days of months, at steps that leave each label room. */
function dayTicks([low, high]: readonly [number, number], most: number): { at: number; label: string }[] {
  const months = (high - low) / 30.44;
  const step = MONTH_STEPS.find((one) => months / one <= most) ?? MONTH_STEPS.at(-1) ?? 120;
  const start = new Date(low * DAY_MS);
  const ticks: { at: number; label: string }[] = [];
  const firstMonth = Math.ceil((start.getUTCFullYear() * 12 + start.getUTCMonth()) / step) * step;
  for (let month = firstMonth; ; month += step) {
    const at = Date.UTC(Math.floor(month / 12), month % 12, 1) / DAY_MS;
    if (at > high) return ticks;
    if (at < low) continue;
    const year = String(Math.floor(month / 12));
    ticks.push({ at, label: step >= 12 ? year : `${year}-${String((month % 12) + 1).padStart(2, '0')}` });
  }
}

function orderTicks([low, high]: readonly [number, number], most: number): { at: number; label: string }[] {
  const step = Math.max(1, Math.ceil((high - low) / most));
  const ticks: { at: number; label: string }[] = [];
  for (let at = Math.max(1, Math.ceil(low)); at <= high; at += step) ticks.push({ at, label: String(at) });
  return ticks;
}

const pathOf = (places: readonly (readonly [number, number])[]): string =>
  places.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${round(x)} ${round(y)}`).join('');

function stretchesIn({ stretches = [] }: OverTimeData, x: Scale, y: Scale): OverTimeGeometry['stretches'] {
  return stretches.flatMap(({ from, to, band, centre }) =>
    band === null || centre === null
      ? []
      : [
          {
            x1: round(x(from)),
            x2: round(x(to)),
            y: round(y(band.high)),
            height: round(y(band.low) - y(band.high)),
            centreY: round(y(centre)),
          },
        ],
  );
}

function breaksIn({ breaks = [] }: OverTimeData, x: Scale, x2: number): OverTimeGeometry['breaks'] {
  let free = Number.NEGATIVE_INFINITY;
  return breaks.map(({ at, label }) => {
    const place = round(x(at));
    const anchor = place + BREAK_LABEL > x2 ? 'end' : 'start';
    const left = anchor === 'end' ? place - BREAK_LABEL : place;
    if (left < free) return { x: place, label: null, anchor };
    free = left + BREAK_LABEL;
    return { x: place, label, anchor };
  });
}

/** Points between two breaks are joined, and none over a break. */
function pathIn(data: OverTimeData, points: OverTimeGeometry['points']): string {
  if (data.axis !== 'order') return '';
  const runs = new Map<number, (readonly [number, number])[]>();
  for (const [index, { x, y }] of points.entries()) {
    const at = data.points[index]?.at ?? 0;
    const run = (data.breaks ?? []).filter((one) => one.at <= at).length;
    runs.set(run, [...(runs.get(run) ?? []), [x, y]]);
  }
  return [...runs.values()].map(pathOf).join('');
}

/** @param data at least one point */
export function overTimeGeometry(data: OverTimeData, width: number, height: number): OverTimeGeometry {
  const frame = {
    x1: MARGIN.left,
    x2: Math.max(MARGIN.left + 40, width - MARGIN.right),
    y1: MARGIN.top,
    y2: height - MARGIN.bottom,
  };
  const range = extents(data);
  const x = scaleLinear(range.x, [frame.x1, frame.x2]);
  const y = scaleLinear(range.y, [frame.y2, frame.y1]);
  const most = Math.max(2, Math.floor((frame.x2 - frame.x1) / X_TICK));
  const xTicks = (data.axis === 'days' ? dayTicks : orderTicks)(range.x, most);
  const points = data.points.map(({ at, value, halfWidth, mark }) => ({
    x: round(x(at)),
    y: round(y(value)),
    top: halfWidth === null ? null : round(y(value + halfWidth)),
    bottom: halfWidth === null ? null : round(y(value - halfWidth)),
    mark,
  }));
  const along = (edge: (step: TrendStep) => number) => data.trend.map((step) => [x(step.at), y(edge(step))] as const);
  const area = [...along((step) => step.high), ...along((step) => step.low).reverse()];
  return {
    width,
    height,
    frame,
    band:
      data.band === null ? null : { y: round(y(data.band.high)), height: round(y(data.band.low) - y(data.band.high)) },
    centreY: data.centre === null ? null : round(y(data.centre)),
    stretches: stretchesIn(data, x, y),
    breaks: breaksIn(data, x, frame.x2),
    points,
    path: pathIn(data, points),
    trend: data.trend.length < 2 ? null : { line: pathOf(along((step) => step.line)), area: `${pathOf(area)}Z` },
    leavesX: data.leavesAt === null ? null : round(x(data.leavesAt)),
    xTicks: xTicks.map(({ at, label }) => ({ x: round(x(at)), label })),
    yTicks: y
      .ticks(Math.max(2, Math.floor((frame.y2 - frame.y1) / Y_TICK)))
      .map((value) => ({ y: round(y(value)), label: value.toFixed(data.decimals).replace('-', '−') })),
  };
}
