import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { Audit } from '../../../server/records/contract-audit.ts';
import { recordsText } from '../../messages/en-records.ts';
import { LinkButton } from '../../parts/button.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { moment } from '../../parts/time.ts';
import { CheckSection } from './check.tsx';
import { useAudit } from './data.ts';
import { SampleSection } from './sample.tsx';

const words = recordsText;

/** What exists, how much, where to look twice, and a sample to follow. */
export function Overview() {
  const audit = useAudit();
  return (
    <>
      <PageHeader
        title={words.title}
        lead={words.lead}
        actions={<LinkButton href="/take-away">{words.takeAway}</LinkButton>}
      />
      <Loaded query={audit} what={words.auditWhat}>
        {(loaded) => (
          <>
            <Counts audit={loaded} />
            <CheckSection />
            <SampleSection />
            <Gaps gaps={loaded.gaps} />
          </>
        )}
      </Loaded>
    </>
  );
}

function Counts({ audit: { counts, head } }: { audit: Audit }) {
  const { calibrations: of, certificates: papers } = counts;
  const all = of.open + of.measured + of.checked + of.issued + of.abandoned;
  const texts = words.counts;
  return (
    <Section title={texts.title}>
      <dl className="record-counts">
        <Count label={texts.vessels} value={counts.vessels}>
          {texts.vesselsOf(counts.vesselsInUse, counts.neverCalibrated)}
        </Count>
        <Count label={texts.instruments} value={counts.instruments} />
        <Count label={texts.calibrations} value={all}>
          {texts.calibrationsOf(of.open, of.measured, of.checked, of.issued, of.abandoned)}
        </Count>
        <Count label={texts.trials} value={counts.trials}>
          {texts.trialsOf(counts.exclusions, counts.corrections)}
        </Count>
        <Count label={texts.certificates} value={papers.valid + papers.replaced + papers.withdrawn}>
          {texts.certificatesOf(papers.valid, papers.replaced, papers.withdrawn)}
        </Count>
        <Count label={texts.entries} value={counts.entries} />
      </dl>
      <div className="card stack tight">
        <h3>{words.head(head.number)}</h3>
        <p className="hash">{head.hash}</p>
        <p className="quiet measure">{words.headWhat}</p>
      </div>
    </Section>
  );
}

function Count({ label, value, children }: { label: string; value: number; children?: ReactNode }) {
  return (
    <div className="record-count">
      <dt>{label}</dt>
      <dd>
        <strong>{value}</strong>
        {children && <span className="quiet small">{children}</span>}
      </dd>
    </div>
  );
}

function Gaps({ gaps }: { gaps: Audit['gaps'] }) {
  const texts = words.gaps;
  return (
    <Section title={texts.title}>
      <Gap title={texts.unchecked} items={gaps.unchecked}>
        {(one) => (
          <>
            <ToCalibration {...one} />
            <span className="quiet">{texts.since(moment(one.since))}</span>
          </>
        )}
      </Gap>
      <Gap title={texts.overdue} items={gaps.overdueInstruments}>
        {(one) => (
          <>
            <Link href={`~/instruments/${one.id}`}>{one.tag}</Link>
            <span className="quiet">{one.dueOn && texts.due(one.dueOn)}</span>
          </>
        )}
      </Gap>
      <Gap title={texts.excluded} items={gaps.excludedTrials}>
        {(one) => (
          <>
            <ToCalibration {...one} />
            <span>{texts.trial(one.trial)}</span>
            <span>{one.reason}</span>
            <span className="quiet">{texts.by(one.by)}</span>
          </>
        )}
      </Gap>
      <Gap title={texts.corrected} items={gaps.correctedTrials}>
        {(one) => (
          <>
            <ToCalibration {...one} />
            <span>{texts.trial(one.trial)}</span>
            <span className="tabular">{texts.from(one.before ?? words.none, one.after)}</span>
            <span>{one.reason}</span>
            <span className="quiet">{texts.by(one.by)}</span>
          </>
        )}
      </Gap>
      <Gap title={texts.abandoned} items={gaps.abandoned}>
        {(one) => (
          <>
            <ToCalibration {...one} />
            <span>{one.reason}</span>
            <span className="quiet">{texts.by(one.by)}</span>
          </>
        )}
      </Gap>
      <PaperGaps gaps={gaps} />
    </Section>
  );
}

function PaperGaps({ gaps }: { gaps: Audit['gaps'] }) {
  const texts = words.gaps;
  return (
    <>
      <Gap title={texts.amended} items={gaps.amended}>
        {(one) => (
          <>
            <Link href={`/certificates/${one.number}`}>{one.number}</Link>
            <span>{one.tag}</span>
            <span>{texts.replacedBy(one.replacedBy ?? words.none)}</span>
            <span>{one.reason}</span>
          </>
        )}
      </Gap>
      <Gap title={texts.withdrawn} items={gaps.withdrawn}>
        {(one) => (
          <>
            <Link href={`/certificates/${one.number}`}>{one.number}</Link>
            <span>{one.tag}</span>
            <span>{one.reason}</span>
          </>
        )}
      </Gap>
    </>
  );
}

const CUT_AT = 50;

function Gap<T>({ title, items, children }: { title: string; items: readonly T[]; children: (item: T) => ReactNode }) {
  return (
    <details className="unfold" open={items.length > 0 && items.length <= 5}>
      <summary>
        {title}: {items.length === 0 ? words.none : items.length}
      </summary>
      {items.length === 0 ? (
        <p className="quiet">{words.gaps.nothing}</p>
      ) : (
        <ul className="plain gap-list">
          {items.map((item, index) => (
            <li key={index}>{children(item)}</li>
          ))}
        </ul>
      )}
      {items.length === CUT_AT && <p className="quiet small">{words.gaps.cut}</p>}
    </details>
  );
}

function ToCalibration({
  calibrationId,
  tag,
  performedOn,
}: {
  calibrationId: string;
  tag: string;
  performedOn: string;
}) {
  return (
    <Link href={`~/bench/${calibrationId}`}>
      {tag} {performedOn}
    </Link>
  );
}
