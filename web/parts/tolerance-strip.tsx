import { useMemo, useRef } from 'react';
import { text } from '../messages/en.ts';
import {
  stripGeometry,
  type StripData,
  type StripDot,
  type StripGeometry,
  type StripHeight,
} from '../plots/tolerance-strip.ts';
import { decimalsForTolerance, decimalsForUncertainty, fixed, signed } from './rounding.ts';
import { useWidth } from './use-width.ts';

interface ToleranceStripProps {
  data: StripData;
  height: StripHeight;
  verdict: string | null;
  coverageFactor?: number | null;
}

/** The one picture of every result: where the volumes lie between the tolerance limits. Its sentence says the same. */
export function ToleranceStrip({ data, height, verdict, coverageFactor = null }: ToleranceStripProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const geometry = useMemo(() => (width > 0 ? stripGeometry(data, width, height) : null), [data, width, height]);
  // The limits are read with their own digits, however large U is.
  const decimals = Math.max(decimalsOf(data), decimalsForTolerance(data.toleranceMl ?? data.nominalMl / 1000));
  return (
    <div className={`strip strip-${height === 28 ? 'row' : 'tall'}`} ref={box}>
      <svg
        role="img"
        aria-label={stripSentence(data, verdict, coverageFactor)}
        height={height}
        viewBox={`0 0 ${Math.max(width, 1)} ${height}`}
      >
        {geometry && <Picture geometry={geometry} decimals={decimals} nominalMl={data.nominalMl} />}
      </svg>
    </div>
  );
}

const decimalsOf = ({ toleranceMl, expandedUncertaintyMl, nominalMl }: StripData): number => {
  if (expandedUncertaintyMl) return decimalsForUncertainty(expandedUncertaintyMl);
  return decimalsForTolerance(toleranceMl ?? nominalMl / 1000);
};

/** The strip in one sentence. */
export function stripSentence(data: StripData, verdict: string | null, coverageFactor: number | null): string {
  const { meanMl, nominalMl, toleranceMl, expandedUncertaintyMl, excludedMl = [] } = data;
  const decimals = decimalsOf(data);
  const tolerance =
    toleranceMl === null
      ? text.strip.noTolerance
      : text.strip.tolerance(fixed(toleranceMl, decimalsForTolerance(toleranceMl)));
  if (meanMl === null || meanMl === undefined)
    return `${text.strip.noTrials} ${text.strip.sentence([tolerance], null)}`;
  const parts = [text.strip.mean(fixed(meanMl, decimals), signed(meanMl - nominalMl, decimals))];
  if (expandedUncertaintyMl && coverageFactor)
    parts.push(text.strip.uncertainty(fixed(expandedUncertaintyMl, decimals), coverageFactor.toFixed(2)));
  parts.push(tolerance);
  if (excludedMl.length > 0) parts.push(text.strip.excluded(excludedMl.length));
  const words: Record<string, string> = text.words.verdicts;
  return text.strip.sentence(parts, verdict === null ? null : (words[verdict] ?? verdict));
}

function Picture({ geometry, decimals, nominalMl }: { geometry: StripGeometry; decimals: number; nominalMl: number }) {
  const { axis, band, guard, top, nominalX, mean, whisker, simple, dots, dotRadius } = geometry;
  const tall = axis.y - top;
  const cap = (x: number, isCut: boolean) => (whisker && !isCut ? `M${x} ${whisker.y - 3}v6` : '');
  return (
    <g aria-hidden="true">
      {band && <rect className="strip-band" x={band.x} width={band.width} y={top} height={tall} />}
      {guard && <rect className="strip-guard" x={guard.x} width={guard.width} y={top} height={tall} />}
      <Axis geometry={geometry} />
      <line className="strip-nominal" x1={nominalX} x2={nominalX} y1={top} y2={axis.y} />
      {simple && <Lozenge {...simple} />}
      {mean && <line className="strip-mean" x1={mean.x} x2={mean.x} y1={mean.y1} y2={mean.y2 + 3} />}
      {whisker && (
        <path
          className="strip-whisker"
          d={`M${whisker.x1} ${whisker.y}H${whisker.x2}${cap(whisker.x1, whisker.cutLow)}${cap(whisker.x2, whisker.cutHigh)}`}
        />
      )}
      {dots.map((dot, index) => (
        <Dot key={index} dot={dot} radius={dotRadius} />
      ))}
      {geometry.labels.map(({ at, x, y, volumeMl }) => (
        <text key={at} className="strip-label" x={x} y={y} textAnchor="middle">
          {at === 'nominal' ? fixed(volumeMl, decimals) : signed(volumeMl - nominalMl, decimals)}
        </text>
      ))}
      {geometry.edges.map(({ side, volumeMl, x }) => (
        <text
          key={side}
          className="strip-edge"
          x={side === 'low' ? x - 12 : x + 12}
          y={axis.y + 4}
          textAnchor={side === 'low' ? 'end' : 'start'}
        >
          {signed(volumeMl - nominalMl, decimals)}
        </text>
      ))}
    </g>
  );
}

/** The line with a post and foot at each limit; its end is broken where something lies beyond. */
function Axis({ geometry: { axis, band, top, broken, height } }: { geometry: StripGeometry }) {
  const foot = height === 28 ? 2.5 : 4;
  const post = (x: number) => `M${x} ${top}V${axis.y}M${x - foot} ${axis.y}h${2 * foot}`;
  const zigzag = (x: number, step: number) => `M${x} ${axis.y}l${step} -4l${step} 8l${step} -4`;
  return (
    <>
      <line className="strip-axis" x1={axis.x1} x2={axis.x2} y1={axis.y} y2={axis.y} />
      {broken.low && <path className="strip-axis" d={zigzag(axis.x1, -3)} />}
      {broken.high && <path className="strip-axis" d={zigzag(axis.x2, 3)} />}
      {band && <path className="strip-post" d={`${post(band.x)}${post(band.x + band.width)}`} />}
    </>
  );
}

function Lozenge({ x, y, size }: { x: number; y: number; size: number }) {
  return <path className="strip-simple" d={`M${x - size} ${y}L${x} ${y - size}L${x + size} ${y}L${x} ${y + size}Z`} />;
}

function Dot({ dot, radius }: { dot: StripDot; radius: number }) {
  if (dot.kind === 'excluded')
    return (
      <>
        <circle className="strip-dot-excluded" cx={dot.x} cy={dot.y} r={radius - 0.5} />
        <path className="strip-stroke" d={`M${dot.x - radius} ${dot.y + radius}L${dot.x + radius} ${dot.y - radius}`} />
      </>
    );
  const className = dot.kind === 'typed' ? 'strip-dot-typed' : 'strip-dot';
  return <circle className={className} cx={dot.x} cy={dot.y} r={dot.kind === 'typed' ? radius + 1 : radius} />;
}
