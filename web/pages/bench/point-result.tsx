import { useMemo, useState } from 'react';
import type { Calibration, PointOnWire } from '../../../server/calibrations/contract.ts';
import { text } from '../../messages/en.ts';
import { benchText } from '../../messages/en-bench.ts';
import { unfoldText } from '../../messages/en-unfold.ts';
import { decimalsOfPoint, PointFigures } from '../../parts/point-figures.tsx';
import { Figure } from '../../parts/quantity.tsx';
import { Opening, RefereeOpening } from '../../parts/result-checks.tsx';
import { fixed } from '../../parts/rounding.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import { UnfoldingOf } from '../../parts/unfolding.tsx';
import { VerdictMark } from '../../parts/verdict.tsx';
import { guardedPart } from '../../summaries.ts';
import type { StripData } from '../../plots/tolerance-strip.ts';
import { randomWords } from '../../parts/random-words.ts';
import { isAtPoint } from './record.ts';
import { later } from '../../parts/later.tsx';

const Budget = later(() => import('../../parts/budget.tsx'));
const words = benchText;

interface PointResultProps {
  calibration: Calibration;
  point: PointOnWire;
  /** Volumes of trials on their way to the server. */
  pendingMl: readonly number[];
  /** Volume of the trial being typed. */
  typedMl: number | null;
  /** Figures and verdict count the typed trial in. */
  isWithTyped: boolean;
}

/** Strip, figures and verdict of one test point, moving as somebody types. */
export function PointResult({ calibration, point, pendingMl, typedMl, isWithTyped }: PointResultProps) {
  const [showsSimple, setShowsSimple] = useState(false);
  const data = useMemo(
    () => ({
      ...savedStrip(calibration, point, pendingMl),
      typedMl,
      simpleMeanMl: showsSimple ? point.simpleMeanMl : null,
    }),
    [calibration, point, pendingMl, typedMl, showsSimple],
  );
  // What is saved: a referee cannot draw a trial that is still being typed.
  const stored = calibration.points.find((one) => isAtPoint(point.pointMl, one)) ?? point;
  const isFinal = point.n >= calibration.plannedTrials;
  const asides = [...(point.verdict !== null && !isFinal ? [text.strip.soFar] : [])];
  return (
    <section className="point-result" aria-label={words.strip(point.pointMl)}>
      <ToleranceStrip data={data} height={96} verdict={point.verdict} coverageFactor={point.coverageFactor} />
      <UnfoldingOf
        calibrationId={calibration.id}
        version={calibration.version}
        notice={isWithTyped || pendingMl.length > 0 ? unfoldText.savedOnly : undefined}
      >
        <div className="point-result-line">
          <PointFigures point={point} sub={isWithTyped ? words.withTyped : words.planned(calibration.plannedTrials)}>
            {showsSimple && point.simpleMeanMl !== null && (
              <Figure label={words.simple} value={fixed(point.simpleMeanMl, decimalsOfPoint(point))} unit="mL" />
            )}
          </PointFigures>
          <div className="point-result-end">
            <VerdictMark verdict={point.verdict} {...(asides.length > 0 ? { aside: asides.join(', ') } : {})} />
            {point.verdictWithExcluded !== null && point.verdictWithExcluded !== point.verdict && (
              <span className="small">{unfoldText.excludedWord(text.words.verdicts[point.verdictWithExcluded])}</span>
            )}
            {point.randomError != null && (
              <span className="quiet small">{randomWords(point.randomError, point.sdMl)}</span>
            )}
            {point.meetsClass !== null && <span className="quiet small">{words.meets(point.meetsClass)}</span>}
          </div>
        </div>
      </UnfoldingOf>
      <div className="point-result-foot">
        {point.budget.length > 0 && (
          <Opening title={unfoldText.budget}>
            <Budget calibration={calibration} point={point} />
          </Opening>
        )}
        {stored.expandedUncertaintyMl !== null && (
          <RefereeOpening calibrationId={calibration.id} pointMl={point.pointMl} />
        )}
        <label className="toggle">
          <input type="checkbox" checked={showsSimple} onChange={(event) => setShowsSimple(event.target.checked)} />
          {words.showSimple}
        </label>
      </div>
    </section>
  );
}

function savedStrip(calibration: Calibration, point: PointOnWire, pendingMl: readonly number[]): StripData {
  const trials = calibration.trials.filter((trial) => isAtPoint(point.pointMl, trial));
  return {
    nominalMl: Number(point.pointMl),
    toleranceMl: point.toleranceMl,
    guardedMl: guardedPart(point.toleranceMl, point.expandedUncertaintyMl, calibration.decisionRule === 'guarded'),
    volumesMl: [...trials.filter((trial) => !trial.exclusion).map((trial) => trial.volumeMl), ...pendingMl],
    excludedMl: trials.filter((trial) => trial.exclusion).map((trial) => trial.volumeMl),
    meanMl: point.meanMl,
    expandedUncertaintyMl: point.expandedUncertaintyMl,
  };
}
