import { type ReactNode, useMemo, useRef } from 'react';
import { chartText } from '../messages/en-over-time.ts';
import { overTimeGeometry, type OverTimeData, type OverTimeGeometry, type PointMark } from '../plots/over-time.ts';
import { useWidth } from './use-width.ts';
import './over-time-chart.css';

interface OverTimeChartProps {
  data: OverTimeData;
  /** Says in words what the picture shows. */
  sentence: string;
  yLabel: string;
  xLabel: string;
  /** Beside the marks that occur. */
  legend?: string;
  /** What a mark says; the verdicts unless told otherwise. */
  marks?: Partial<Record<PointMark, string>>;
  /** The same as a table, to unfold. */
  children: ReactNode;
}

const HEIGHT = 248;
const MARKS: readonly PointMark[] = ['pass', 'conditional', 'fail', 'undecided'];

/** Values over time with their band, a sentence that says the same, and the numbers themselves to unfold. */
export function OverTimeChart({
  data,
  sentence,
  yLabel,
  xLabel,
  legend,
  marks = chartText.marks,
  children,
}: OverTimeChartProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const geometry = useMemo(() => (width > 0 ? overTimeGeometry(data, width, HEIGHT) : null), [data, width]);
  const shown = MARKS.filter((mark) => data.points.some((point) => point.mark === mark));
  const below = [legend, ...shown.map((mark) => marks[mark])].filter((part) => part !== undefined);
  return (
    <figure className="over-time">
      <p className="quiet small" aria-hidden="true">
        {yLabel}
      </p>
      <div ref={box}>
        <svg role="img" aria-label={sentence} height={HEIGHT} viewBox={`0 0 ${Math.max(width, 1)} ${HEIGHT}`}>
          {geometry && <Picture geometry={geometry} />}
        </svg>
      </div>
      <p className="quiet small over-time-level" aria-hidden="true">
        {xLabel}
      </p>
      <figcaption className="quiet small">
        {sentence} {below.join(' · ')}
      </figcaption>
      <details className="unfold">
        <summary>{chartText.table}</summary>
        {children}
      </details>
    </figure>
  );
}

function Picture({ geometry }: { geometry: OverTimeGeometry }) {
  const { frame, band, centreY, trend, leavesX } = geometry;
  const wide = { x1: frame.x1, x2: frame.x2 };
  return (
    <g aria-hidden="true">
      {band && (
        <rect className="over-time-band" x={frame.x1} width={frame.x2 - frame.x1} y={band.y} height={band.height} />
      )}
      {geometry.stretches.map(({ x1, x2, y, height }) => (
        <rect key={x1} className="over-time-band" x={x1} width={x2 - x1} y={y} height={height} />
      ))}
      {geometry.yTicks.map(({ y, label }) => (
        <g key={label}>
          <line className="over-time-grid" {...wide} y1={y} y2={y} />
          <text className="over-time-label" x={frame.x1 - 8} y={y + 4} textAnchor="end">
            {label}
          </text>
        </g>
      ))}
      {band && (
        <path
          className="over-time-limit"
          d={`M${frame.x1} ${band.y}H${frame.x2}M${frame.x1} ${band.y + band.height}H${frame.x2}`}
        />
      )}
      {centreY !== null && <line className="over-time-centre" {...wide} y1={centreY} y2={centreY} />}
      <Stretches geometry={geometry} />
      {trend && (
        <>
          <path className="over-time-trend-area" d={trend.area} />
          <path className="over-time-trend" d={trend.line} />
        </>
      )}
      {leavesX !== null && <line className="over-time-leaves" x1={leavesX} x2={leavesX} y1={frame.y1} y2={frame.y2} />}
      {geometry.xTicks.map(({ x, label }) => (
        <g key={label}>
          <line className="over-time-axis" x1={x} x2={x} y1={frame.y2} y2={frame.y2 + 5} />
          <text className="over-time-label" x={x} y={frame.y2 + 20} textAnchor="middle">
            {label}
          </text>
        </g>
      ))}
      <line className="over-time-axis" {...wide} y1={frame.y2} y2={frame.y2} />
      {geometry.path !== '' && <path className="over-time-path" d={geometry.path} />}
      {geometry.points.map((point, index) => (
        <g key={index} className={`over-time-point over-time-${point.mark}`}>
          {point.top !== null && point.bottom !== null && (
            <path
              d={`M${point.x} ${point.top}V${point.bottom}M${point.x - 4} ${point.top}h8M${point.x - 4} ${point.bottom}h8`}
            />
          )}
          <Mark x={point.x} y={point.y} mark={point.mark} />
        </g>
      ))}
    </g>
  );
}

/** Limits and centre of each stretch, and where the next began. */
function Stretches({ geometry }: { geometry: OverTimeGeometry }) {
  const { frame, stretches, breaks } = geometry;
  return (
    <>
      {stretches.map(({ x1, x2, y, height, centreY }) => (
        <g key={x1}>
          <path className="over-time-limit" d={`M${x1} ${y}H${x2}M${x1} ${y + height}H${x2}`} />
          <line className="over-time-centre" x1={x1} x2={x2} y1={centreY} y2={centreY} />
        </g>
      ))}
      {breaks.map(({ x, label, anchor }) => (
        <g key={x}>
          <line className="over-time-break" x1={x} x2={x} y1={frame.y1} y2={frame.y2} />
          {label !== null && (
            <text
              className="over-time-label"
              x={anchor === 'start' ? x + 4 : x - 4}
              y={frame.y1 + 8}
              textAnchor={anchor}
            >
              {label}
            </text>
          )}
        </g>
      ))}
    </>
  );
}

/** Told apart by shape before colour. */
function Mark({ x, y, mark }: { x: number; y: number; mark: PointMark }) {
  if (mark === 'fail') return <path className="over-time-filled" d={`M${x} ${y - 6}l6 10h-12Z`} />;
  if (mark === 'undecided') return <rect className="over-time-open" x={x - 4.5} y={y - 4.5} width="9" height="9" />;
  return <circle className={mark === 'conditional' ? 'over-time-open' : 'over-time-filled'} cx={x} cy={y} r="4.5" />;
}
