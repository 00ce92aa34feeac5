import { useState } from 'react';
import { Link } from 'wouter';
import type { VesselListItem } from '../../server/glassware/contract.ts';
import type { Today } from '../../server/records/contract.ts';
import { text } from '../messages/en.ts';
import { todayText } from '../messages/en-today.ts';
import { Button, LinkButton } from '../parts/button.tsx';
import { DecisionDialog } from '../parts/decision-dialog.tsx';
import { ForBench } from '../parts/for-bench.tsx';
import { Loaded } from '../parts/loading.tsx';
import { OpenCalibrations } from '../parts/open-calibrations.tsx';
import { Notice } from '../parts/notice.tsx';
import { Empty, PageHeader, Section } from '../parts/page.tsx';
import { dayOf } from '../parts/time.ts';
import { VesselRows } from '../parts/vessel-rows.tsx';
import { useToday } from '../queries.ts';
import { useMay, useSession } from '../session.ts';
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
          <LinkButton href="/lots/new" bench>
            {todayText.delivery}
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
  const { open, lots, failing, due, recent } = today;
  const isQuiet = open.length + lots.length + failing.length + due.vesselCount + due.instruments.length === 0;
  return (
    <>
      <Counts counts={today.counts} />
      {isQuiet && <p className="today-quiet">{todayText.allQuiet}</p>}
      {open.length > 0 && (
        <Section title={todayText.open}>
          <OpenCalibrations items={open} nowMs={nowMs} />
        </Section>
      )}
      {lots.length > 0 && <Lots lots={lots} />}
      {failing.length > 0 && <Failing vessels={failing} />}
      {due.vesselCount > 0 && <DueVessels due={due} />}
      {due.instruments.length > 0 && <DueInstruments instruments={due.instruments} />}
      {recent.length > 0 && (
        <Section title={todayText.recent}>
          <VesselRows vessels={recent} />
          <p className="no-print">
            <Link className="link-line" href="/records">
              {todayText.term}
            </Link>
          </p>
        </Section>
      )}
    </>
  );
}

function Lots({ lots }: { lots: Today['lots'] }) {
  return (
    <Section title={todayText.lots}>
      <ul className="plain today-list">
        {lots.map(({ id, name, progress: { vessels, notBegun, open } }) => (
          <li key={id}>
            <Link href={`/lots/${id}`}>{name}</Link>{' '}
            <span className="quiet">{todayText.lotLeft(notBegun + open, vessels)}</span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function Failing({ vessels }: { vessels: Today['failing'] }) {
  const [deciding, setDeciding] = useState<VesselListItem | null>(null);
  const may = useMay();
  return (
    <Section title={todayText.failing}>
      <p className="quiet">{todayText.failingWhat}</p>
      <VesselRows
        vessels={vessels}
        aside={(vessel) =>
          may('bench') &&
          vessel.latest?.state !== 'open' && <Button onClick={() => setDeciding(vessel)}>{todayText.decide}</Button>
        }
      />
      {deciding?.latest && (
        <DecisionDialog vessel={deciding} calibrationId={deciding.latest.id} onClose={() => setDeciding(null)} />
      )}
    </Section>
  );
}

function DueVessels({ due: { until, vessels, vesselCount } }: { due: Today['due'] }) {
  const [today] = useState(() => dayOf(new Date()));
  return (
    <Section title={todayText.due}>
      <p className="quiet">{todayText.dueWhat(until)}</p>
      <VesselRows
        vessels={vessels}
        aside={({ dueOn }) =>
          dueOn !== null && (
            <span className="small today-due">
              {dueOn < today ? todayText.overdueOn(dueOn) : todayText.dueOn(dueOn)}
            </span>
          )
        }
      />
      {vesselCount > vessels.length && (
        <p>
          <Link className="link-line" href={`/glassware?dueBy=${until}`}>
            {todayText.dueAll(vesselCount)}
          </Link>
        </p>
      )}
    </Section>
  );
}

function DueInstruments({ instruments }: { instruments: Today['due']['instruments'] }) {
  return (
    <Section title={todayText.instruments}>
      <ul className="plain today-list">
        {instruments.map(({ id, tag, kind, dueOn, overdue }) => (
          <li key={id}>
            <Link href={`/instruments/${id}`}>{todayText.instrumentDue(tag, text.words.instrumentKinds[kind])}</Link>{' '}
            {dueOn != null && (
              <span className={overdue ? 'today-due' : 'quiet'}>
                {overdue ? todayText.overdueOn(dueOn) : todayText.dueOn(dueOn)}
              </span>
            )}
          </li>
        ))}
      </ul>
    </Section>
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
