import type { ReactNode } from 'react';
import { text } from '../messages/en.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { Figure } from './quantity.tsx';
import { decimalsForTolerance, decimalsForUncertainty, fixed, signed } from './rounding.ts';
import { Unfold, type PointNumber } from './unfold.tsx';

interface PointLike {
  pointMl: string;
  n: number;
  nRecorded: number;
  meanMl: number | null;
  biasMl: number | null;
  sdMl: number | null;
  expandedUncertaintyMl: number | null;
  coverageFactor: number | null;
  toleranceMl: number | null;
}

/** Decimals of a point's results: by U where it is known, else by the tolerance. */
export const decimalsOfPoint = (point: Pick<PointLike, 'pointMl' | 'expandedUncertaintyMl' | 'toleranceMl'>): number =>
  point.expandedUncertaintyMl
    ? decimalsForUncertainty(point.expandedUncertaintyMl)
    : decimalsForTolerance(point.toleranceMl ?? Number(point.pointMl) / 1000) + 1;

/** Mean, bias, spread, number of trials, and U once it is known. */
export function PointFigures({ point, sub, children }: { point: PointLike; sub?: string; children?: ReactNode }) {
  const words = vesselText.figures;
  const decimals = decimalsOfPoint(point);
  const shown = (value: number | null, show: (value: number, decimals: number) => string) =>
    value === null ? '–' : show(value, decimals);
  const of = (number: PointNumber) => ({ pointMl: point.pointMl, number });
  return (
    <dl className="figures">
      <Figure label={words.mean} value={shown(point.meanMl, fixed)} unit="mL" of={of('mean')} />
      <Figure label={words.bias} value={shown(point.biasMl, signed)} unit="mL" of={of('bias')} />
      <Figure label={words.spread} value={shown(point.sdMl, fixed)} unit="mL" of={of('sd')} />
      {point.expandedUncertaintyMl !== null && (
        <Figure
          label={words.uncertainty}
          value={fixed(point.expandedUncertaintyMl, decimals)}
          unit="mL"
          of={of('expandedUncertainty')}
          {...(point.coverageFactor === null
            ? {}
            : { sub: <Unfold of={of('coverageFactor')}>{text.strip.k(fixed(point.coverageFactor, 2))}</Unfold> })}
        />
      )}
      {children}
      <Figure label={words.trials} value={vesselText.trialsOf(point.n, point.nRecorded)} {...(sub ? { sub } : {})} />
    </dl>
  );
}
