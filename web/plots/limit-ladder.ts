/** Limits of several kinds of ware beside each other on one axis of powers of ten: data → places, in pixels. */
import { scaleLog } from 'd3-scale';

export interface LadderRow {
  label: string;
  /** Tightest and widest limit listed, in per cent of the volume. */
  tightestPercent: number;
  widestPercent: number;
}

export interface LadderGeometry {
  width: number;
  bars: { label: string; x1: number; x2: number }[];
  ticks: { x: number; label: string }[];
}

const MARGIN = 10;

/** The axis runs over whole powers of ten that hold every row. */
export function ladderGeometry(rows: readonly LadderRow[], width: number): LadderGeometry {
  const exponents = rows.flatMap((row) => [Math.log10(row.tightestPercent), Math.log10(row.widestPercent)]);
  const low = Math.floor(Math.min(0, ...exponents) + 1e-9);
  const high = Math.ceil(Math.max(0, ...exponents) - 1e-9);
  const x = scaleLog([10 ** low, 10 ** high], [MARGIN, Math.max(MARGIN + 20, width - MARGIN)]);
  return {
    width,
    bars: rows.map(({ label, tightestPercent, widestPercent }) => ({
      label,
      x1: x(tightestPercent),
      x2: x(widestPercent),
    })),
    ticks: Array.from({ length: high - low + 1 }, (_, step) => {
      const exponent = low + step;
      return { x: x(10 ** exponent), label: (10 ** exponent).toFixed(Math.max(0, -exponent)) };
    }),
  };
}
