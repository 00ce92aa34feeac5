import { Suspense, useMemo, useState } from 'react';
import { Link } from 'wouter';
import type { CalibrationSummary, VesselWithHistory } from '../../server/glassware/contract.ts';
import { asksForDecision } from '../../server/metrology/verdict.ts';
import { text } from '../messages/en.ts';
import { recordingSheetText } from '../messages/en-recording-sheets.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { decisionText } from '../messages/en-today.ts';
import { unfoldText } from '../messages/en-unfold.ts';
import { Button, LinkButton } from '../parts/button.tsx';
import { DecisionDialog } from '../parts/decision-dialog.tsx';
import { ForBench } from '../parts/for-bench.tsx';
import { Loaded } from '../parts/loading.tsx';
import { Notice } from '../parts/notice.tsx';
import { Empty, PageHeader, Section } from '../parts/page.tsx';
import { moment } from '../parts/time.ts';
import { PointFigures } from '../parts/point-figures.tsx';
import { Opening, RefereeOpening } from '../parts/result-checks.tsx';
import { ToleranceStrip } from '../parts/tolerance-strip.tsx';
import { UnfoldingOf } from '../parts/unfolding.tsx';
import { VerdictMark } from '../parts/verdict.tsx';
import { toleranceWords } from '../parts/tolerance-words.ts';
import { useVessel } from '../queries.ts';
import { leadingPoint, stripOf } from '../summaries.ts';
import { VesselFactList } from './vessel/facts.tsx';
import { History } from './vessel/history.tsx';
import { later } from '../parts/later.tsx';
import './vessel.css';

const OverTime = later(() => import('./vessel/over-time.tsx'));
const MadeWith = later(() => import('./solutions/made-with.tsx'));
const BudgetOf = later(() => import('../parts/budget-of.tsx'));

export default function VesselPage({ id }: { id: string }) {
  const vessel = useVessel(id);
  return (
    <Loaded query={vessel} what={vesselText.oneWhat}>
      {(loaded) => <VesselView vessel={loaded} />}
    </Loaded>
  );
}

function VesselView({ vessel }: { vessel: VesselWithHistory }) {
  const open = vessel.calibrations.find((calibration) => calibration.state === 'open');
  const latest = vessel.calibrations.find((calibration) => calibration.points.some((point) => point.n > 0));
  return (
    <>
      <PageHeader
        title={vessel.tag}
        within={{ href: '/glassware', label: vesselText.title }}
        lead={<Lead vessel={vessel} />}
        actions={
          <ForBench>
            {vessel.inUse && (
              <LinkButton href={open ? `/bench/${open.id}` : `/bench/new?vessel=${vessel.id}`} look="primary">
                {open ? vesselText.goOn : vesselText.start}
              </LinkButton>
            )}
            <LinkButton href={`/glassware/${vessel.id}/correct`}>{vesselText.correct}</LinkButton>
            <LinkButton href={`/glassware/labels?vessels=${vessel.id}`}>{vesselText.label}</LinkButton>
            {vessel.inUse && (
              <LinkButton href={`/glassware/sheets?vessels=${vessel.id}`}>{recordingSheetText.one}</LinkButton>
            )}
            {vessel.inUse && !open && (
              <LinkButton href={`/bench/new?vessel=${vessel.id}&from=sheet`}>{recordingSheetText.typeOne}</LinkButton>
            )}
          </ForBench>
        }
      />
      {latest ? (
        <LatestResult calibration={latest} />
      ) : (
        <Empty title={vesselText.noResult}>
          <p>{vesselText.noResultWhat}</p>
        </Empty>
      )}
      <div className="vessel-columns">
        <Section title={vesselText.identity}>
          <VesselFactList vessel={vessel} />
          {vessel.dueOn !== null && <p>{vesselText.dueOn(vessel.dueOn)}</p>}
          <Notice>{vessel.basis === 'contain' ? vesselText.containOnly : vesselText.deliverOnly}</Notice>
          {vessel.formerTags.length > 0 && <p>{vesselText.formerTags(vessel.formerTags.join(', '))}</p>}
          <Decisions vessel={vessel} />
          <Revisions vessel={vessel} />
          <p className="no-print">
            <Link className="link-line" href={`/records/journal?object=vessel/${vessel.id}`}>
              {vesselText.entries}
            </Link>
          </p>
        </Section>
        <Section title={vesselText.history}>
          {vessel.calibrations.length === 0 ? (
            <p className="quiet">{vesselText.never}</p>
          ) : (
            <History calibrations={vessel.calibrations} />
          )}
        </Section>
      </div>
      {vessel.calibrations.length > 0 && (
        <Suspense fallback={null}>
          <OverTime vesselId={vessel.id} intervalMonths={vessel.intervalMonths} />
        </Suspense>
      )}
      <Suspense fallback={null}>
        <MadeWith of="vessels" id={vessel.id} />
      </Suspense>
    </>
  );
}

function Lead({ vessel }: { vessel: VesselWithHistory }) {
  const what = vesselText.what(vessel.nominalVolumeMl, text.words.vesselKinds[vessel.kind]);
  return (
    <>
      {[what, text.words.bases[vessel.basis], `${vessel.referenceTemperatureC} °C`, toleranceWords(vessel)].join(' · ')}
      {!vessel.inUse && <strong> · {vesselText.outOfUse}</strong>}
    </>
  );
}

/** A summary has no version; what was recorded tells one standing from the next. */
const trialsIn = ({ state, points }: CalibrationSummary): string =>
  [state, ...points.flatMap(({ n, meanMl, expandedUncertaintyMl }) => [n, meanMl, expandedUncertaintyMl])].join(' ');

function LatestResult({ calibration }: { calibration: CalibrationSummary }) {
  const point = leadingPoint(calibration);
  const data = useMemo(() => (point ? stripOf(point) : null), [point]);
  if (!point || !data) return null;
  const isOpen = calibration.state === 'open';
  return (
    <section className="card stack" aria-label={vesselText.latest}>
      <div className="row spread">
        <h2>
          {vesselText.latest} <time>{calibration.performedOn}</time>
          {calibration.points.length > 1 && <span className="quiet"> {vesselText.pointOf(point.pointMl)}</span>}
        </h2>
        <VerdictMark
          verdict={calibration.verdict}
          {...(isOpen && !calibration.final ? { aside: text.strip.soFar } : {})}
        />
      </div>
      <ToleranceStrip data={data} height={160} verdict={point.verdict} coverageFactor={point.coverageFactor} />
      <UnfoldingOf calibrationId={calibration.id} version={trialsIn(calibration)}>
        <PointFigures point={point} />
      </UnfoldingOf>
      {point.expandedUncertaintyMl !== null && (
        <div className="stack tight">
          <Opening title={unfoldText.budget}>
            <BudgetOf calibrationId={calibration.id} pointMl={point.pointMl} />
          </Opening>
          <RefereeOpening calibrationId={calibration.id} pointMl={point.pointMl} />
        </div>
      )}
    </section>
  );
}

/** What was decided about it when it did not pass, and the way to decide now. */
function Decisions({ vessel }: { vessel: VesselWithHistory }) {
  const [isDeciding, setDeciding] = useState(false);
  const [latest] = vessel.calibrations.filter(({ state }) => state !== 'abandoned');
  const isDecided = vessel.decisions.some(({ calibrationId }) => calibrationId === latest?.id);
  const isAsked = latest && latest.state !== 'open' && asksForDecision(latest.verdict) && !isDecided;
  return (
    <>
      {vessel.decisions.length > 0 && (
        <>
          <h3>{decisionText.list}</h3>
          <ul className="plain stack tight">
            {vessel.decisions.map(({ number, decision, fromClass, toClass, reason, at, by }) => (
              <li key={number}>
                {decisionText.done[decision]}
                {fromClass !== null && toClass !== null && ` (${decisionText.ofClass(fromClass, toClass)})`}: {reason}{' '}
                <span className="quiet small">{`${by}, ${moment(at)}`}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      {isAsked && (
        <ForBench>
          <p>
            <Button onClick={() => setDeciding(true)}>{decisionText.title(vessel.tag)}</Button>
          </p>
        </ForBench>
      )}
      {isDeciding && latest && (
        <DecisionDialog vessel={vessel} calibrationId={latest.id} onClose={() => setDeciding(false)} />
      )}
    </>
  );
}

function Revisions({ vessel }: { vessel: VesselWithHistory }) {
  const changes = vessel.revisions.filter((revision) => revision.changed.length > 0 && revision.reason !== null);
  if (changes.length === 0) return null;
  const nameOf = (field: string) => vesselText.facts[field] ?? field;
  return (
    <details className="unfold">
      <summary>{vesselText.revisions}</summary>
      <ol className="plain stack tight">
        {changes.map((revision) => (
          <li key={revision.version}>
            {revision.changed.map(({ field, before, after }) => (
              <p key={field}>
                {vesselText.changedFrom(nameOf(field), before ?? text.words.none, after ?? text.words.none)}
              </p>
            ))}
            <p className="quiet small">
              {revision.reason} · {vesselText.by(revision.by, moment(revision.at))}
            </p>
          </li>
        ))}
      </ol>
    </details>
  );
}
