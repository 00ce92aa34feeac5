import { Fragment, useDeferredValue, useId, useState } from 'react';
import { Link, useSearchParams } from 'wouter';
import type { JournalEntryOnWire } from '../../../server/journal/contract.ts';
import { recordsText } from '../../messages/en-records.ts';
import { Button } from '../../parts/button.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { LoadFailed, Loading } from '../../parts/loading.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { moment } from '../../parts/time.ts';
import { UnfoldButton } from '../../parts/unfold.tsx';
import { useJournal, useJournalWords, type JournalFilter } from './data.ts';

const words = recordsText.entries;
const COLUMNS = 5;
const FILTERS = ['object', 'act', 'actor', 'from', 'to', 'search'] as const;
const isDay = (text: string): boolean => text === '' || /^\d{4}-\d{2}-\d{2}$/.test(text);

/** Every act, newest first; searched, narrowed, page by page. */
export function JournalPage() {
  const [query, setQuery] = useSearchParams();
  const filter = Object.fromEntries(FILTERS.map((name) => [name, query.get(name) ?? ''])) as unknown as JournalFilter;
  const set = (name: string, value: string) =>
    setQuery(
      (before) => {
        if (value) before.set(name, value);
        else before.delete(name);
        return before;
      },
      { replace: true },
    );
  const search = useDeferredValue(filter.search);
  const areDays = isDay(filter.from) && isDay(filter.to);
  const journal = useJournal({ ...filter, search }, areDays);
  const entries = journal.data?.pages.flatMap((page) => page.items);
  return (
    <>
      <PageHeader title={recordsText.journal} />
      <Filter filter={filter} onSet={set} />
      {filter.object !== '' && (
        <p>
          {words.ofOne(entries?.[0]?.name ?? filter.object)}{' '}
          <Button look="quiet" onClick={() => set('object', '')}>
            {words.all}
          </Button>
        </p>
      )}
      {entries === undefined && !journal.isError && areDays && <Loading what={words.what} />}
      {journal.isError && <LoadFailed error={journal.error} onRetry={() => void journal.refetch()} />}
      {entries && <Entries entries={entries} />}
      {journal.hasNextPage && (
        <Button onClick={() => void journal.fetchNextPage()} disabled={journal.isFetchingNextPage}>
          {recordsText.more}
        </Button>
      )}
    </>
  );
}

function Filter({ filter, onSet }: { filter: JournalFilter; onSet: (name: string, value: string) => void }) {
  const known = useJournalWords().data;
  const acts = (known?.acts ?? []).map((value) => ({ value, label: words.acts[value] ?? value }));
  const actors = (known?.actors ?? []).map((value) => ({ value, label: value }));
  const day = (name: 'from' | 'to', label: string) => (
    <Field
      name={name}
      label={label}
      help={words.dayHelp}
      width="short"
      value={filter[name]}
      problem={isDay(filter[name]) ? undefined : words.badDay}
      onChange={(value) => onSet(name, value)}
    />
  );
  return (
    <search className="record-filter no-print">
      <Field
        name="search"
        label={words.search}
        help={words.searchHelp}
        value={filter.search}
        onChange={(value) => onSet('search', value)}
      />
      <Select
        name="act"
        label={words.actLabel}
        value={filter.act}
        options={acts}
        none={words.allActs}
        onChange={(value) => onSet('act', value)}
      />
      <Select
        name="actor"
        label={words.actorLabel}
        value={filter.actor}
        options={actors}
        none={words.allActors}
        onChange={(value) => onSet('actor', value)}
      />
      {day('from', words.from)}
      {day('to', words.to)}
    </search>
  );
}

function Entries({ entries }: { entries: readonly JournalEntryOnWire[] }) {
  if (entries.length === 0) return <p>{words.nothing}</p>;
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={recordsText.journal}>
      <table className="table">
        <caption>{words.caption}</caption>
        <thead>
          <tr>
            <th scope="col">{words.number}</th>
            <th scope="col">{words.at}</th>
            <th scope="col">{words.actor}</th>
            <th scope="col">{words.act}</th>
            <th scope="col">{words.object}</th>
          </tr>
        </thead>
        <tbody>
          {entries.map((entry, index) => (
            // The entry after this one in the list is the one before it in time.
            <Entry key={entry.number} entry={entry} earlier={entries[index + 1]} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

const ROOM_OF: Record<string, (id: string) => string> = {
  vessel: (id) => `~/glassware/${id}`,
  instrument: (id) => `~/instruments/${id}`,
  calibration: (id) => `~/bench/${id}`,
  certificate: (id) => `/certificates/${id}`,
  lot: (id) => `~/lots/${id}`,
  preparation: (id) => `~/solutions/${id}`,
  experiment: (id) => `~/class/${id}`,
  person: () => '~/settings/people',
  key: () => '~/settings/keys',
};

/** What entries are about, in the words of the pages. */
const kindOf = (kind: string): string => words.kinds[kind] ?? kind;

function Entry({ entry, earlier }: { entry: JournalEntryOnWire; earlier: JournalEntryOnWire | undefined }) {
  const [isOpen, setOpen] = useState(false);
  const detailId = useId();
  const [kind = '', id = ''] = entry.object.split(/\/(.*)/s);
  const room = ROOM_OF[kind];
  const wentBack = earlier?.number === entry.number - 1 && earlier.at > entry.at;
  return (
    <Fragment>
      <tr>
        <th scope="row">
          <UnfoldButton isOpen={isOpen} controls={detailId} onPress={() => setOpen(!isOpen)}>
            <span className="tabular">{entry.number}</span>
          </UnfoldButton>
        </th>
        <td>
          <time dateTime={entry.at}>{moment(entry.at)}</time>
          {wentBack && <p className="small">{words.wentBack}</p>}
        </td>
        <td>{entry.actor}</td>
        <td>{words.acts[entry.act] ?? entry.act}</td>
        <td>
          {room ? <Link href={room(id)}>{entry.name ?? id}</Link> : entry.object}{' '}
          {room && <span className="quiet small">{kindOf(kind)}</span>}
        </td>
      </tr>
      {isOpen && (
        <tr id={detailId}>
          <td colSpan={COLUMNS}>
            <Whole entry={entry} />
          </td>
        </tr>
      )}
    </Fragment>
  );
}

function Whole({ entry }: { entry: JournalEntryOnWire }) {
  return (
    <div className="entry-values">
      {entry.before !== null && (
        <div>
          <span className="quiet small">{words.before}</span>
          <pre>{JSON.stringify(entry.before, null, 2)}</pre>
        </div>
      )}
      <div>
        <span className="quiet small">{words.after}</span>
        <pre>{JSON.stringify(entry.after, null, 2)}</pre>
      </div>
      <dl className="facts">
        <dt>{words.at}</dt>
        <dd className="hash">{entry.at}</dd>
        <dt>{words.request}</dt>
        <dd className="hash">{entry.requestId}</dd>
        <dt>{words.previousHash}</dt>
        <dd className="hash">{entry.previousHash}</dd>
        <dt>{words.hash}</dt>
        <dd className="hash">{entry.hash}</dd>
      </dl>
    </div>
  );
}
