import { useMemo } from 'react';
import type { CalibrationSummary, VesselWithHistory } from '../../server/glassware/contract.ts';
import { text } from '../messages/en.ts';
import { LinkButton } from '../parts/button.tsx';
import { Loaded } from '../parts/loading.tsx';
import { Notice } from '../parts/notice.tsx';
import { Empty, PageHeader, Section } from '../parts/page.tsx';
import { moment } from '../parts/time.ts';
import { PointFigures } from '../parts/point-figures.tsx';
import { ToleranceStrip } from '../parts/tolerance-strip.tsx';
import { VerdictMark } from '../parts/verdict.tsx';
import { toleranceWords } from '../parts/tolerance-words.ts';
import { useVessel } from '../queries.ts';
import { leadingPoint, stripOf } from '../summaries.ts';
import { VesselFactList } from './vessel/facts.tsx';
import { History } from './vessel/history.tsx';
import './vessel.css';

export default function VesselPage({ id }: { id: string }) {
  const vessel = useVessel(id);
  return (
    <Loaded query={vessel} what={text.vessel.oneWhat}>
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
        within={{ href: '/glassware', label: text.vessel.title }}
        lead={<Lead vessel={vessel} />}
        actions={
          <>
            {vessel.inUse && (
              <LinkButton href={open ? `/bench/${open.id}` : `/bench/new?vessel=${vessel.id}`} look="primary">
                {open ? text.vessel.goOn : text.vessel.start}
              </LinkButton>
            )}
            <LinkButton href={`/glassware/${vessel.id}/correct`}>{text.vessel.correct}</LinkButton>
          </>
        }
      />
      {latest ? (
        <LatestResult calibration={latest} />
      ) : (
        <Empty title={text.vessel.noResult}>
          <p>{text.vessel.noResultWhat}</p>
        </Empty>
      )}
      <div className="vessel-columns">
        <Section title={text.vessel.identity}>
          <VesselFactList vessel={vessel} />
          <Notice>{vessel.basis === 'contain' ? text.vessel.containOnly : text.vessel.deliverOnly}</Notice>
          {vessel.formerTags.length > 0 && <p>{text.vessel.formerTags(vessel.formerTags.join(', '))}</p>}
          <Revisions vessel={vessel} />
        </Section>
        <Section title={text.vessel.history}>
          {vessel.calibrations.length === 0 ? (
            <p className="quiet">{text.vessel.never}</p>
          ) : (
            <History calibrations={vessel.calibrations} />
          )}
        </Section>
      </div>
    </>
  );
}

function Lead({ vessel }: { vessel: VesselWithHistory }) {
  const what = text.vessel.what(vessel.nominalVolumeMl, text.words.vesselKinds[vessel.kind]);
  return (
    <>
      {[what, text.words.bases[vessel.basis], `${vessel.referenceTemperatureC} °C`, toleranceWords(vessel)].join(' · ')}
      {!vessel.inUse && <strong> · {text.vessel.outOfUse}</strong>}
    </>
  );
}

function LatestResult({ calibration }: { calibration: CalibrationSummary }) {
  const point = leadingPoint(calibration);
  const data = useMemo(() => (point ? stripOf(point) : null), [point]);
  if (!point || !data) return null;
  const isOpen = calibration.state === 'open';
  return (
    <section className="card stack" aria-label={text.vessel.latest}>
      <div className="row spread">
        <h2>
          {text.vessel.latest} <time>{calibration.performedOn}</time>
          {calibration.points.length > 1 && <span className="quiet"> {text.vessel.pointOf(point.pointMl)}</span>}
        </h2>
        <VerdictMark
          verdict={calibration.verdict}
          {...(isOpen && !calibration.final ? { aside: text.strip.soFar } : {})}
        />
      </div>
      <ToleranceStrip data={data} height={160} verdict={point.verdict} coverageFactor={point.coverageFactor} />
      <PointFigures point={point} />
    </section>
  );
}

function Revisions({ vessel }: { vessel: VesselWithHistory }) {
  const changes = vessel.revisions.filter((revision) => revision.changed.length > 0 && revision.reason !== null);
  if (changes.length === 0) return null;
  const nameOf = (field: string) => text.vessel.facts[field] ?? field;
  return (
    <details className="unfold">
      <summary>{text.vessel.revisions}</summary>
      <ol className="plain stack tight">
        {changes.map((revision) => (
          <li key={revision.version}>
            {revision.changed.map(({ field, before, after }) => (
              <p key={field}>
                {text.vessel.changedFrom(nameOf(field), before ?? text.words.none, after ?? text.words.none)}
              </p>
            ))}
            <p className="quiet small">
              {revision.reason} · {text.vessel.by(revision.by, moment(revision.at))}
            </p>
          </li>
        ))}
      </ol>
    </details>
  );
}
