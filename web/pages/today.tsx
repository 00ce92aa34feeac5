import { useState } from 'react';
import { Link } from 'wouter';
import type { Today } from '../../server/records/contract.ts';
import { text } from '../messages/en.ts';
import { LinkButton } from '../parts/button.tsx';
import { Loaded } from '../parts/loading.tsx';
import { OpenCalibrations } from '../parts/open-calibrations.tsx';
import { Empty, PageHeader, Section } from '../parts/page.tsx';
import { VesselRows } from '../parts/vessel-rows.tsx';
import { useToday } from '../queries.ts';
import './today.css';

/** What wants attention now. */
export default function TodayPage() {
  const today = useToday();
  return (
    <>
      <PageHeader title={text.today.title} />
      <Loaded query={today} what={text.today.what}>
        {(loaded) => (loaded.counts.vessels === 0 ? <EmptyLogbook /> : <Attention today={loaded} />)}
      </Loaded>
    </>
  );
}

function EmptyLogbook() {
  return (
    <Empty
      title={text.today.emptyTitle}
      action={
        <LinkButton href="/glassware/new" look="primary" bench>
          {text.today.first}
        </LinkButton>
      }
    >
      <p>{text.today.emptyWhat}</p>
      <p className="quiet today-demo">
        {text.today.demoBefore} <code>{text.today.demoCommand}</code>. {text.today.demoAfter}
      </p>
    </Empty>
  );
}

function Attention({ today }: { today: Today }) {
  const [nowMs] = useState(Date.now);
  const isQuiet = today.open.length + today.failing.length + today.overdueInstruments.length === 0;
  return (
    <>
      <Counts counts={today.counts} />
      {isQuiet && <p className="today-quiet">{text.today.allQuiet}</p>}
      {today.open.length > 0 && (
        <Section title={text.today.open}>
          <OpenCalibrations items={today.open} nowMs={nowMs} />
        </Section>
      )}
      {today.failing.length > 0 && (
        <Section title={text.today.failing}>
          <p className="quiet">{text.today.failingWhat}</p>
          <VesselRows vessels={today.failing} />
        </Section>
      )}
      {today.overdueInstruments.length > 0 && (
        <Section title={text.today.overdue}>
          <ul className="plain today-overdue">
            {today.overdueInstruments.map((instrument) => (
              <li key={instrument.id}>
                <Link href={`/instruments/${instrument.id}`}>
                  {text.today.overdueSince(
                    instrument.tag,
                    text.words.instrumentKinds[instrument.kind],
                    instrument.dueOn ?? text.words.notKnown,
                  )}
                </Link>
              </li>
            ))}
          </ul>
        </Section>
      )}
      {today.recent.length > 0 && (
        <Section title={text.today.recent}>
          <VesselRows vessels={today.recent} />
        </Section>
      )}
    </>
  );
}

function Counts({ counts }: { counts: Today['counts'] }) {
  const words = text.today.counts;
  const shown: [count: number, label: string][] = [
    [counts.vessels, words.vessels(counts.vessels)],
    [counts.neverCalibrated, words.neverCalibrated],
    [counts.openCalibrations, words.openCalibrations(counts.openCalibrations)],
    [counts.trials, words.trials(counts.trials)],
  ];
  return (
    <ul className="plain today-counts" aria-label={text.today.countsLabel}>
      {shown.map(([count, label]) => (
        <li key={label}>
          <strong>{count}</strong> <span className="quiet">{label}</span>
        </li>
      ))}
    </ul>
  );
}
