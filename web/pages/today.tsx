import { useState } from 'react';
import { Link } from 'wouter';
import type { Today } from '../../server/records/contract.ts';
import { text } from '../messages/en.ts';
import { todayText } from '../messages/en-today.ts';
import { LinkButton } from '../parts/button.tsx';
import { ForBench } from '../parts/for-bench.tsx';
import { Loaded } from '../parts/loading.tsx';
import { OpenCalibrations } from '../parts/open-calibrations.tsx';
import { Notice } from '../parts/notice.tsx';
import { Empty, PageHeader, Section } from '../parts/page.tsx';
import { VesselRows } from '../parts/vessel-rows.tsx';
import { useToday } from '../queries.ts';
import { useSession } from '../session.ts';
import { SetAside } from './today/set-aside.tsx';
import './today.css';

/** What wants attention now. */
export default function TodayPage() {
  const today = useToday();
  const session = useSession();
  return (
    <>
      <PageHeader title={todayText.title} />
      {session.data?.setupNeeded && (
        <Notice>
          {todayText.setUp} <Link href="/set-up">{todayText.setUpLink}</Link>
        </Notice>
      )}
      <SetAside />
      <Loaded query={today} what={todayText.what}>
        {(loaded) => (loaded.counts.vessels === 0 ? <EmptyLogbook /> : <Attention today={loaded} />)}
      </Loaded>
    </>
  );
}

function EmptyLogbook() {
  return (
    <Empty
      title={todayText.emptyTitle}
      action={
        <ForBench>
          <LinkButton href="/glassware/new" look="primary" bench>
            {todayText.first}
          </LinkButton>
        </ForBench>
      }
    >
      <p>{todayText.emptyWhat}</p>
      <p className="quiet today-demo">
        {todayText.demoBefore} <code>{todayText.demoCommand}</code>. {todayText.demoAfter}
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
      {isQuiet && <p className="today-quiet">{todayText.allQuiet}</p>}
      {today.open.length > 0 && (
        <Section title={todayText.open}>
          <OpenCalibrations items={today.open} nowMs={nowMs} />
        </Section>
      )}
      {today.failing.length > 0 && (
        <Section title={todayText.failing}>
          <p className="quiet">{todayText.failingWhat}</p>
          <VesselRows vessels={today.failing} />
        </Section>
      )}
      {today.overdueInstruments.length > 0 && (
        <Section title={todayText.overdue}>
          <ul className="plain today-overdue">
            {today.overdueInstruments.map((instrument) => (
              <li key={instrument.id}>
                <Link href={`/instruments/${instrument.id}`}>
                  {todayText.overdueSince(
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
        <Section title={todayText.recent}>
          <VesselRows vessels={today.recent} />
        </Section>
      )}
    </>
  );
}

function Counts({ counts }: { counts: Today['counts'] }) {
  const words = todayText.counts;
  const shown: [count: number, label: string][] = [
    [counts.vessels, words.vessels(counts.vessels)],
    [counts.neverCalibrated, words.neverCalibrated],
    [counts.openCalibrations, words.openCalibrations(counts.openCalibrations)],
    [counts.trials, words.trials(counts.trials)],
  ];
  return (
    <ul className="plain today-counts" aria-label={todayText.countsLabel}>
      {shown.map(([count, label]) => (
        <li key={label}>
          <strong>{count}</strong> <span className="quiet">{label}</span>
        </li>
      ))}
    </ul>
  );
}
