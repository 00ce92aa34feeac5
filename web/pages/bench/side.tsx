import { Suspense, useState } from 'react';
import type { Calibration, PointOnWire } from '../../../server/calibrations/contract.ts';
import { text } from '../../messages/en.ts';
import { isGraduated } from '../../../server/metrology/points-proposed.ts';
import { benchText } from '../../messages/en-bench.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import { LinkButton, Button } from '../../parts/button.tsx';
import { WorkCautions } from '../../parts/cautions.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { decimalsForTolerance, decimalsForUncertainty, fixed } from '../../parts/rounding.ts';
import { moment } from '../../parts/time.ts';
import { useLater } from '../../parts/use-later.ts';
import { VerdictMark } from '../../parts/verdict.tsx';
import { AbandonDialog, FinishDialog, PlanDialog, ReopenDialog } from './calibration-acts.tsx';
import { isAtPoint } from './record.ts';
import { later } from '../../parts/later.tsx';

const Decides = later(() => import('../../parts/one-more.tsx'));
const PistonLimits = later(() => import('./piston-limits.tsx'));
const Paper = later(() => import('./paper.tsx'));
const words = benchText;
type Act = 'finish' | 'abandon' | 'reopen' | 'plan';

interface SideProps {
  calibration: Calibration;
  point: PointOnWire;
  /** Trials the server does not have yet. */
  unsent: number;
}

/** Beside the work: where it stands, what the data say, cautions, and the acts that end it. */
export function Side({ calibration, point, unsent }: SideProps) {
  const isLater = useLater();
  return (
    <div className="side">
      {isLater && (
        <Suspense fallback={null}>
          <Decides calibration={calibration} point={point} />
        </Suspense>
      )}
      <Progress calibration={calibration} point={point} unsent={unsent} />
      {(calibration.state !== 'open' || calibration.certificates.length > 0) && (
        <Suspense fallback={null}>
          <Paper calibration={calibration} />
        </Suspense>
      )}
      {calibration.vessel.kind === 'piston-pipette' && (
        <Suspense fallback={null}>
          <PistonLimits calibration={calibration} point={point} />
        </Suspense>
      )}
      {calibration.points.length > 1 && <Whole calibration={calibration} />}
      <Findings calibration={calibration} point={point} />
      <details className="unfold side-part">
        <summary>{words.cautions}</summary>
        <WorkCautions vessel={calibration.vessel} />
      </details>
      <Acts calibration={calibration} />
    </div>
  );
}

function Progress({ calibration, point, unsent }: SideProps) {
  const [act, setAct] = useState<Act | null>(null);
  const close = () => setAct(null);
  const planned = calibration.plannedTrials;
  const isOpen = calibration.state === 'open';
  const isDone = calibration.points.every(({ n }) => n >= planned);
  return (
    <section className="side-part stack tight">
      <h2>{words.progress}</h2>
      {isOpen ? (
        <ProgressDots n={point.n} planned={planned} label={words.progressLabel(point.n, planned, point.pointMl)} />
      ) : (
        <p>{words.stateNow(text.words.states[calibration.state])}</p>
      )}
      <ForBench>
        <div className="side-acts">
          {isOpen && (
            <>
              <Button bench look={isDone ? 'primary' : 'plain'} disabled={unsent > 0} onClick={() => setAct('finish')}>
                {isDone ? words.finish : words.finishEarly}
              </Button>
              <Button look="quiet" onClick={() => setAct('plan')}>
                {words.changePlan}
              </Button>
              <Button look="quiet" disabled={unsent > 0} onClick={() => setAct('abandon')}>
                {words.abandon}
              </Button>
            </>
          )}
          {(calibration.state === 'measured' || calibration.state === 'checked') && (
            <>
              {calibration.vessel.inUse && (
                <LinkButton href={`/bench/new?vessel=${calibration.vessel.id}`}>{words.again}</LinkButton>
              )}
              <Button look="quiet" onClick={() => setAct('reopen')}>
                {words.reopen}
              </Button>
            </>
          )}
        </div>
      </ForBench>
      {act === 'finish' && <FinishDialog calibration={calibration} isDone={isDone} onClose={close} />}
      {act === 'abandon' && <AbandonDialog calibration={calibration} onClose={close} />}
      {act === 'reopen' && <ReopenDialog calibration={calibration} onClose={close} />}
      {act === 'plan' && <PlanDialog calibration={calibration} onClose={close} />}
    </section>
  );
}

/** Verdict of a vessel with several points, and the difference of their errors. */
function Whole({ calibration }: { calibration: Calibration }) {
  const { difference, verdict, final, vessel } = calibration;
  const toleranceMl = calibration.points.find((point) => point.toleranceMl !== null)?.toleranceMl ?? null;
  const decimals = difference ? decimalsForUncertainty(difference.expandedUncertaintyMl) : 0;
  return (
    <section className="side-part stack tight">
      <h2>{words.whole}</h2>
      <VerdictMark verdict={verdict} {...(verdict !== null && !final ? { aside: text.strip.soFar } : {})} />
      {isGraduated(vessel.kind) && toleranceMl !== null && (
        <p className="quiet small">
          {deliveryText.differenceRule(fixed(toleranceMl, decimalsForTolerance(toleranceMl)))}
        </p>
      )}
      {difference && (
        <div className="quiet small">
          {words.difference(fixed(difference.valueMl, decimals), fixed(difference.expandedUncertaintyMl, decimals))}{' '}
          <VerdictMark verdict={difference.verdict} />
        </div>
      )}
    </section>
  );
}

/** One bead a planned trial, filled as they are counted; the words say the same. */
function ProgressDots({ n, planned, label }: { n: number; planned: number; label: string }) {
  const isFew = planned <= 20;
  return (
    <p className="progress">
      <span>{label}</span>
      {isFew && (
        <span className="progress-beads" aria-hidden="true">
          {Array.from({ length: Math.max(planned, Math.min(n, 20)) }, (_, index) => (
            <span key={index} data-done={index < n || undefined} />
          ))}
        </span>
      )}
    </p>
  );
}

interface Said {
  detail: string;
  trials: number[];
}

/** The same sentence about several trials is said once, with their numbers. */
function collect(calibration: Calibration, point: PointOnWire): Said[] {
  const said = new Map<string, Said>();
  const add = (detail: string, trial: number | undefined) => {
    const known = said.get(detail) ?? { detail, trials: [] };
    if (trial !== undefined && !known.trials.includes(trial)) known.trials.push(trial);
    said.set(detail, known);
  };
  for (const { detail } of calibration.findings) add(detail, undefined);
  // These name the trial they are about themselves.
  for (const { detail } of point.findings) add(detail, undefined);
  const trials = calibration.trials.filter((trial) => isAtPoint(point.pointMl, trial));
  for (const trial of trials) for (const { detail } of trial.findings) add(detail, trial.number);
  return [...said.values()].map((one) => (one.trials.length === trials.length ? { ...one, trials: [] } : one));
}

function Findings({ calibration, point }: { calibration: Calibration; point: PointOnWire }) {
  const said = collect(calibration, point);
  return (
    <section className="side-part">
      <h2>{words.findings}</h2>
      {said.length === 0 ? (
        <p className="quiet">{words.noFindings}</p>
      ) : (
        <ul className="plain findings">
          {said.map(({ detail, trials }) => (
            <li key={detail}>
              {trials.length === 1 && <strong>{words.findingTrial(trials[0] ?? 0)}</strong>}
              {trials.length > 1 && <strong>{words.findingTrials(trials.join(', '))}</strong>}
              {detail}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function Acts({ calibration }: { calibration: Calibration }) {
  if (calibration.acts.length === 0) return null;
  return (
    <section className="side-part">
      <h2>{words.acts}</h2>
      <ol className="plain findings">
        {calibration.acts.map(({ act, at, by, reason, before }) => (
          <li key={at + act}>
            {words.actLine(words.actNames[act] ?? act, by, moment(at))}
            {reason && <span className="quiet"> {reason}</span>}
            {before && <span> {words.planBefore(before)}</span>}
          </li>
        ))}
      </ol>
    </section>
  );
}
