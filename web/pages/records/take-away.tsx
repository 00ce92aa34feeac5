import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { ExportPlan, ExportProgress } from '../../../server/exports/contract.ts';
import { get, newKey, withQuery } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { takeAwayText as words } from '../../messages/en-take-away.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import './take-away.css';

type Which = 'whole' | 'range' | 'vessel' | 'lot';

const WHICH = [
  { value: 'whole', label: words.whole, help: words.wholeHelp },
  { value: 'range', label: words.range, help: words.narrowedHelp },
  { value: 'vessel', label: words.vessel, help: words.narrowedHelp },
  { value: 'lot', label: words.lot, help: words.narrowedHelp },
] as const;

interface Wish {
  which: Which;
  from: string;
  to: string;
  vessel: string;
  lot: string;
  certificates: boolean;
  workbook: boolean;
}
const WHOLE: Wish = { which: 'whole', from: '', to: '', vessel: '', lot: '', certificates: true, workbook: false };
const DAY = /^\s*\d{4}-\d\d-\d\d\s*$/;

const isDay = (typed: string): boolean => typed.trim() === '' || DAY.test(typed);

/** What is asked of the server; null while something is missing. */
const queryOf = ({ which, from, to, vessel, lot, certificates, workbook }: Wish): Record<string, string> | null => {
  const files: Record<string, string> = {
    ...(certificates ? {} : { certificates: 'false' }),
    ...(workbook ? { workbook: 'true' } : {}),
  };
  if (which === 'whole') return files;
  if (which === 'vessel') return vessel.trim() === '' ? null : { ...files, vessel: vessel.trim() };
  if (which === 'lot') return lot.trim() === '' ? null : { ...files, lot: lot.trim() };
  if (!isDay(from) || !isDay(to) || from.trim() + to.trim() === '') return null;
  return { ...files, from: from.trim(), to: to.trim() };
};

const MISSING: Record<Which, string> = {
  whole: '',
  range: words.dayMissing,
  vessel: words.tagMissing,
  lot: words.lotMissing,
};

/** Everything leaves in one file, and whoever has it can check it alone. */
export default function TakeAwayPage() {
  const [wish, setWish] = useState(WHOLE);
  const query = queryOf(wish);
  return (
    <>
      <PageHeader
        title={words.title}
        within={{ href: '/records', label: text.shell.rooms.records }}
        lead={words.lead}
      />
      <div className="stack measure">
        <WishForm wish={wish} onChange={(changes) => setWish((before) => ({ ...before, ...changes }))} />
        <Section title={words.plan}>
          {query ? (
            <Planned key={JSON.stringify(query)} query={query} />
          ) : (
            <p className="quiet">{MISSING[wish.which]}</p>
          )}
        </Section>
        <p>
          {words.verifier} <code>{words.verifierCommand}</code>
        </p>
      </div>
    </>
  );
}

function WishForm({ wish, onChange }: { wish: Wish; onChange: (changes: Partial<Wish>) => void }) {
  const day = (name: 'from' | 'to', label: string) => (
    <Field
      name={name}
      label={label}
      help={words.dayHelp}
      width="medium"
      inputMode="numeric"
      value={wish[name]}
      problem={isDay(wish[name]) || wish[name].trim().length < 10 ? undefined : words.dayWrong}
      onChange={(value) => onChange({ [name]: value })}
    />
  );
  return (
    <div className="stack">
      <Choice
        name="which"
        label={words.which}
        value={wish.which}
        options={WHICH}
        layout="list"
        onChange={(which) => onChange({ which })}
      />
      {wish.which === 'range' && (
        <div className="row">
          {day('from', words.from)}
          {day('to', words.to)}
        </div>
      )}
      {wish.which === 'vessel' && (
        <Field
          name="vessel"
          label={words.tag}
          help={words.tagHelp}
          width="medium"
          value={wish.vessel}
          onChange={(vessel) => onChange({ vessel })}
        />
      )}
      {wish.which === 'lot' && (
        <Field name="lot" label={words.lotName} width="medium" value={wish.lot} onChange={(lot) => onChange({ lot })} />
      )}
      <Tick
        name="certificates"
        label={words.certificates}
        checked={wish.certificates}
        onChange={(certificates) => onChange({ certificates })}
      />
      <Tick
        name="workbook"
        label={words.workbook}
        help={words.workbookHelp}
        checked={wish.workbook}
        onChange={(workbook) => onChange({ workbook })}
      />
    </div>
  );
}

function Planned({ query }: { query: Record<string, string> }) {
  const plan = useQuery({
    queryKey: ['export-plan', query],
    queryFn: ({ signal }) => get<ExportPlan>(withQuery('/api/export/plan', query), signal),
  });
  return (
    <Loaded query={plan} what={words.what}>
      {({ tables, journalEntries, certificateFiles, head }) => (
        <>
          <dl className="facts">
            {tables
              .filter(({ name }) => name in words.counts)
              .map(({ name, rows }) => (
                <Counted key={name} label={words.counts[name] ?? name} rows={rows} />
              ))}
            <Counted label={words.files} rows={certificateFiles} />
            <Counted label={words.journal} rows={journalEntries} />
          </dl>
          {head && <Head number={head.number} hash={head.hash} />}
          <Take query={query} />
        </>
      )}
    </Loaded>
  );
}

const Counted = ({ label, rows }: { label: string; rows: number }) => (
  <>
    <dt>{label}</dt>
    <dd>{rows}</dd>
  </>
);

function Head({ number, hash }: { number: number; hash: string }) {
  return (
    <div>
      <h3>{words.head}</h3>
      <p>
        <code className="take-away-hash">{words.headText(number, hash)}</code>
      </p>
      <p className="quiet">{words.headWhat}</p>
    </div>
  );
}

const ASK_EVERY_MS = 500;
const isOver = (progress: ExportProgress | undefined): boolean =>
  progress?.state === 'finished' || progress?.state === 'broken-off';

/** The browser fetches the file itself, so that it goes straight to the disk; progress is asked for beside it. */
function Take({ query }: { query: Record<string, string> }) {
  const [token, setToken] = useState<string | null>(null);
  const progress = useQuery({
    queryKey: ['export-progress', token],
    queryFn: ({ signal }) => get<ExportProgress>(`/api/export/progress/${token ?? ''}`, signal),
    enabled: token !== null,
    refetchInterval: ({ state }) => (isOver(state.data) ? false : ASK_EVERY_MS),
  });
  const take = () => {
    const made = newKey();
    const link = document.createElement('a');
    link.href = withQuery('/api/export', { ...query, watch: made });
    link.download = '';
    link.click();
    setToken(made);
  };
  const isUnderWay = token !== null && !isOver(progress.data);
  return (
    <div className="stack">
      <div className="row">
        <Button look="primary" bench disabled={isUnderWay} onClick={take}>
          {words.take}
        </Button>
      </div>
      <div role="status">{token !== null && <Progress progress={progress.data} />}</div>
    </div>
  );
}

function Progress({ progress }: { progress: ExportProgress | undefined }) {
  if (!progress || progress.state === 'waiting') return <p>{words.waiting}</p>;
  if (progress.state === 'broken-off') return <Notice tone="strong">{words.brokenOff}</Notice>;
  const { done, total, head } = progress;
  if (progress.state === 'finished')
    return (
      <Notice>
        {words.finished} {head && <code className="take-away-hash">{words.headText(head.number, head.hash)}</code>}
      </Notice>
    );
  const percent = total === 0 ? 0 : Math.floor((100 * done) / total);
  return (
    <>
      <progress {...(total > 0 ? { max: total, value: done } : {})} aria-label={words.progress} />
      <p>{words.running(percent)}</p>
    </>
  );
}
