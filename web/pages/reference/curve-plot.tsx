import { useMemo, useRef } from 'react';
import { referenceText } from '../../messages/en-reference.ts';
import { fixed } from '../../parts/rounding.ts';
import { useWidth } from '../../parts/use-width.ts';
import { linePlotGeometry, type LinePlotData, type LinePlotGeometry } from '../../plots/line-plot.ts';

interface CurvePlotProps {
  data: LinePlotData;
  xLabel: string;
  yLabel: string;
  /** Says in words what the picture shows. */
  sentence: string;
  decimals: number;
}

const HEIGHT = 216;

/** Curves with axes, a sentence below that says the same, and the numbers themselves to unfold. */
export function CurvePlot({ data, xLabel, yLabel, sentence, decimals }: CurvePlotProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const geometry = useMemo(() => (width > 0 ? linePlotGeometry(data, width, HEIGHT) : null), [data, width]);
  return (
    <figure className="curve-plot">
      <p className="curve-plot-upright" aria-hidden="true">
        {yLabel}
      </p>
      <div ref={box}>
        <svg role="img" aria-label={sentence} height={HEIGHT} viewBox={`0 0 ${Math.max(width, 1)} ${HEIGHT}`}>
          {geometry && <Picture geometry={geometry} />}
        </svg>
      </div>
      <p className="curve-plot-level" aria-hidden="true">
        {xLabel}
      </p>
      <figcaption>{sentence}</figcaption>
      <CurveTable data={data} xLabel={xLabel} yLabel={yLabel} decimals={decimals} />
    </figure>
  );
}

function Picture({ geometry }: { geometry: LinePlotGeometry }) {
  const { frame, band, here } = geometry;
  return (
    <g aria-hidden="true">
      {band && (
        <>
          <rect className="curve-band" x={frame.x1} width={frame.x2 - frame.x1} y={band.y} height={band.height} />
          <text className="curve-label" x={frame.x2 - 4} y={band.y - 5} textAnchor="end">
            {band.label}
          </text>
        </>
      )}
      {geometry.yTicks.map((tick) => (
        <g key={tick.label}>
          <line className="curve-grid" x1={frame.x1} x2={frame.x2} y1={tick.y} y2={tick.y} />
          <text className="curve-label" x={frame.x1 - 8} y={tick.y + 4} textAnchor="end">
            {tick.label}
          </text>
        </g>
      ))}
      {geometry.xTicks.map((tick) => (
        <g key={tick.label}>
          <line className="curve-axis" x1={tick.x} x2={tick.x} y1={frame.y2} y2={frame.y2 + 5} />
          <text className="curve-label" x={tick.x} y={frame.y2 + 20} textAnchor="middle">
            {tick.label}
          </text>
        </g>
      ))}
      <line className="curve-axis" x1={frame.x1} x2={frame.x2} y1={frame.y2} y2={frame.y2} />
      {geometry.curves.map((curve, index) => (
        <g key={curve.label}>
          <path className={index === 0 ? 'curve-line' : 'curve-line curve-line-other'} d={curve.path} />
          {curve.label && (
            <text className="curve-name" x={curve.endX + 8} y={curve.nameY + 4}>
              {curve.label}
            </text>
          )}
        </g>
      ))}
      {here && (
        <>
          <line className="curve-here-line" x1={here.x} x2={here.x} y1={here.y} y2={frame.y2} />
          <circle className="curve-here" cx={here.x} cy={here.y} r="5" />
        </>
      )}
    </g>
  );
}

/** Rows enough to follow the curve without reading every sample. */
const ROWS = 11;

function CurveTable({
  data,
  xLabel,
  yLabel,
  decimals,
}: Pick<CurvePlotProps, 'data' | 'xLabel' | 'yLabel' | 'decimals'>) {
  const [first] = data.curves;
  if (!first) return null;
  const steps = first.points.length - 1;
  const rows = Math.min(ROWS, first.points.length);
  const indexes = Array.from({ length: rows }, (_, row) => Math.round((row * steps) / Math.max(1, rows - 1)));
  const named = data.curves.length > 1;
  return (
    <details className="curve-table">
      <summary>{referenceText.formulas.tableTwin}</summary>
      <table className="table">
        <thead>
          <tr>
            <th scope="col">{xLabel}</th>
            {data.curves.map((curve) => (
              <th scope="col" className="number" key={curve.label}>
                {named ? `${yLabel}, ${curve.label}` : yLabel}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {indexes.map((index) => (
            <tr key={index}>
              <th scope="row">{shortly(first.points[index]?.x)}</th>
              {data.curves.map((curve) => (
                <td className="number" key={curve.label}>
                  {fixed(curve.points[index]?.y ?? NaN, decimals)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

const shortly = (value: number | undefined): string => {
  const shown = value ?? NaN;
  return fixed(shown, Number.isInteger(shown) ? 0 : 1);
};
