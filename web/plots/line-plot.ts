/** A small plot of curves over one quantity: data → geometry, in pixels. Screen and paper draw the same geometry. */
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';

export interface PlotPoint {
  x: number;
  y: number;
}

export interface PlotCurve {
  /** Names the curve where it ends; empty for a curve alone. */
  label: string;
  points: readonly PlotPoint[];
}

export interface LinePlotData {
  curves: readonly PlotCurve[];
  /** A range of the upright axis drawn behind the curves, for example a tolerance. */
  band?: { low: number; high: number; label: string };
  /** The point the reader is at; outside the curves it is not drawn. */
  here?: PlotPoint;
  /** The upright axis reaches at least to zero. */
  fromZero?: boolean;
}

export interface LinePlotGeometry {
  width: number;
  height: number;
  frame: { x1: number; x2: number; y1: number; y2: number };
  /** `nameY` is where the name of a curve stands beside its end, clear of the others. */
  curves: { label: string; path: string; endX: number; endY: number; nameY: number }[];
  xTicks: { x: number; label: string }[];
  yTicks: { y: number; label: string }[];
  band: { y: number; height: number; label: string } | null;
  here: { x: number; y: number } | null;
}

const MARGIN = { left: 68, right: 16, top: 12, bottom: 30 };
/** Room at the right for the names of several curves. */
const NAMES = 92;
/** Height of a line of text. */
const NAME_LINE = 15;
/** Pixels each label of an axis wants for itself. */
const X_TICK = 72;
const Y_TICK = 36;

/** Values of a function at evenly spaced places, both ends among them. */
export function sample(of: (x: number) => number, low: number, high: number, steps: number): PlotPoint[] {
  return Array.from({ length: steps + 1 }, (_, index) => {
    const x = index === steps ? high : low + ((high - low) * index) / steps;
    return { x, y: of(x) };
  });
}

export function linePlotGeometry(data: LinePlotData, width: number, height: number): LinePlotGeometry {
  const points = data.curves.flatMap((curve) => curve.points);
  const hasNames = data.curves.some((curve) => curve.label !== '');
  const frame = {
    x1: MARGIN.left,
    x2: Math.max(MARGIN.left + 40, width - (hasNames ? NAMES : MARGIN.right)),
    y1: MARGIN.top,
    y2: height - MARGIN.bottom,
  };
  const [left, right] = extent(points.map((point) => point.x));
  const [low, high] = extent([
    ...points.map((point) => point.y),
    ...(data.band ? [data.band.low, data.band.high] : []),
    ...(data.fromZero ? [0] : []),
  ]);
  const x = scaleLinear([left, right], [frame.x1, frame.x2]);
  const y = scaleLinear([low, high], [frame.y2, frame.y1]).nice(countFor(frame.y2 - frame.y1, Y_TICK));
  const draw = line<PlotPoint>(
    (point) => round(x(point.x)),
    (point) => round(y(point.y)),
  );
  return {
    width,
    height,
    frame,
    curves: named(
      data.curves.map((curve) => {
        const end = curve.points.at(-1);
        return {
          label: curve.label,
          path: draw(curve.points) ?? '',
          endX: end ? round(x(end.x)) : 0,
          endY: end ? round(y(end.y)) : 0,
        };
      }),
    ),
    xTicks: ticksOf(x, countFor(frame.x2 - frame.x1, X_TICK)).map(({ at, label }) => ({ x: at, label })),
    yTicks: ticksOf(y, countFor(frame.y2 - frame.y1, Y_TICK)).map(({ at, label }) => ({ y: at, label })),
    band: data.band
      ? {
          y: round(y(data.band.high)),
          height: round(y(data.band.low) - y(data.band.high)),
          label: data.band.label,
        }
      : null,
    here: inside(data.here, [left, right]) ? { x: round(x(data.here.x)), y: round(y(data.here.y)) } : null,
  };
}

/** Names from top to bottom in the order of the ends, each at least a line below the one before. */
function named(curves: readonly Omit<LinePlotGeometry['curves'][number], 'nameY'>[]): LinePlotGeometry['curves'] {
  const places = new Map<string, number>();
  let free = -Infinity;
  for (const curve of [...curves].sort((one, other) => one.endY - other.endY)) {
    const nameY = Math.max(curve.endY, free);
    places.set(curve.label, nameY);
    free = nameY + NAME_LINE;
  }
  return curves.map((curve) => ({ ...curve, nameY: places.get(curve.label) ?? curve.endY }));
}

const extent = (values: readonly number[]): [number, number] => {
  const low = Math.min(...values);
  const high = Math.max(...values);
  return low < high ? [low, high] : [low - 1, high + 1];
};

const countFor = (length: number, each: number): number => Math.max(2, Math.floor(length / each));

const inside = (point: PlotPoint | undefined, [low, high]: [number, number]): point is PlotPoint =>
  point !== undefined && Number.isFinite(point.y) && point.x >= low && point.x <= high;

function ticksOf(scale: ReturnType<typeof scaleLinear<number, number>>, count: number) {
  const format = scale.tickFormat(count);
  return scale
    .ticks(count)
    .map((value) => ({ at: round(scale(value)), label: format(value).replaceAll(',', '\u202f') }));
}

/** Hundredths of a pixel are more than any screen shows. */
const round = (pixels: number): number => Math.round(pixels * 100) / 100;
