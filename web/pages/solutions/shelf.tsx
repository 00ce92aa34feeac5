import { type SubmitEvent, useDeferredValue } from 'react';
import { Link, useLocation, useSearchParams } from 'wouter';
import type { PreparationListItem } from '../../../server/solutions/contract-record.ts';
import { resultText, shelfText as words } from '../../messages/en-solutions.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { LoadFailed, Loading } from '../../parts/loading.tsx';
import { Empty, PageHeader } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { ForPreparing } from './for-preparing.tsx';
import { fetchPreparations, usePreparations } from './queries.ts';
import { uncertaintyWords, valueWords } from './result-words.ts';
import './solutions.css';

const ACTS = (
  <>
    <LinkButton href="/choose">{words.acts.choose}</LinkButton>
    <ForPreparing>
      <LinkButton href="/solid" look="primary">
        {words.acts.solid}
      </LinkButton>
      <LinkButton href="/dilution">{words.acts.dilution}</LinkButton>
      <LinkButton href="/series">{words.acts.series}</LinkButton>
      <LinkButton href="/standardisation">{words.acts.standardisation}</LinkButton>
    </ForPreparing>
  </>
);

/** `/solutions`: what stands on the shelf, and the ways of making more. */
export function Shelf() {
  const [filter, setFilter] = useSearchParams();
  const search = filter.get('search') ?? '';
  const shelf = filter.get('shelf') === 'all' ? 'all' : 'on';
  const set = (name: string, value: string) =>
    setFilter(
      (before) => {
        if (value) before.set(name, value);
        else before.delete(name);
        return before;
      },
      { replace: true },
    );
  const searched = useDeferredValue(search);
  const found = usePreparations(searched, shelf);
  const items = found.data?.pages.flatMap((page) => page.items);
  const isNarrowed = search !== '';
  const isNothingYet = items?.length === 0 && !isNarrowed && shelf === 'all';
  return (
    <>
      <PageHeader title={words.title} lead={words.lead} actions={ACTS} />
      {!isNothingYet && <ShelfFilter search={search} shelf={shelf} onChange={set} />}
      {items === undefined && !found.isError && <Loading what={words.listWhat} />}
      {found.isError && <LoadFailed error={found.error} onRetry={() => void found.refetch()} />}
      {items && items.length > 0 && <ShelfTable items={items} />}
      {items?.length === 0 &&
        (isNarrowed ? (
          <Empty
            title={words.nothingFound}
            action={<Button onClick={() => setFilter({}, { replace: true })}>{words.clear}</Button>}
          >
            <p>{words.nothingFoundWhat}</p>
          </Empty>
        ) : (
          <Empty
            title={words.emptyTitle}
            action={
              <ForPreparing>
                <LinkButton href="/solid" look="primary">
                  {words.acts.solid}
                </LinkButton>
              </ForPreparing>
            }
          >
            <p>{words.emptyWhat}</p>
            <p>{words.emptyChoose}</p>
          </Empty>
        ))}
      {found.hasNextPage && (
        <div className="shelf-more">
          <Button onClick={() => void found.fetchNextPage()} disabled={found.isFetchingNextPage}>
            {words.more}
          </Button>
        </div>
      )}
    </>
  );
}

interface FilterProps {
  search: string;
  shelf: 'on' | 'all';
  onChange: (name: 'search' | 'shelf', value: string) => void;
}

function ShelfFilter({ search, shelf, onChange }: FilterProps) {
  const [, go] = useLocation();
  /** A scanner types the number of a label and sends Enter; so may a hand. */
  const openByNumber = async (event: SubmitEvent) => {
    event.preventDefault();
    const number = search.trim().toUpperCase();
    if (number === '') return;
    const found = await fetchPreparations({ search: number, shelf: 'all' }).catch(() => null);
    const one = found?.items.find((item) => item.number === number);
    if (one) go(`/${one.id}`);
  };
  return (
    <search>
      <form className="shelf-filter" onSubmit={openByNumber} noValidate>
        <Field
          {...{ name: 'search', label: words.search, help: words.searchHelp, value: search }}
          onChange={(value) => onChange('search', value)}
        />
        <Select
          name="shelf"
          label={words.shelf}
          value={shelf}
          options={[
            { value: 'on', label: words.onShelf },
            { value: 'all', label: words.all },
          ]}
          onChange={(value) => onChange('shelf', value === 'all' ? 'all' : '')}
        />
      </form>
    </search>
  );
}

function ShelfTable({ items }: { items: readonly PreparationListItem[] }) {
  const { columns } = words;
  return (
    <div className="table-box" role="region" aria-label={words.caption} tabIndex={0}>
      <table className="table shelf">
        <caption className="unseen">{words.caption}</caption>
        <thead>
          <tr>
            <th scope="col">{columns.number}</th>
            <th scope="col">{columns.title}</th>
            <th scope="col" className="number">
              {columns.concentration}
            </th>
            <th scope="col">{columns.made}</th>
            <th scope="col">{columns.expires}</th>
          </tr>
        </thead>
        <tbody>
          {items.map((one) => (
            <ShelfRow key={one.id} one={one} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function ShelfRow({ one }: { one: PreparationListItem }) {
  return (
    <tr className={one.end ? 'shelf-ended' : undefined}>
      <th scope="row">
        <Link className="lone-link" href={`/${one.id}`}>
          {one.number}
        </Link>
      </th>
      <td>
        {one.title}
        {one.end && <span className="quiet small"> {words.endings[one.end.ending]}</span>}
      </td>
      <td className="number">
        <Quantity value={`${valueWords(one)} ${resultText.plusMinus(uncertaintyWords(one))}`} unit={one.unit} />
        {one.approximate && <span className="shelf-word">{words.approximate}</span>}
      </td>
      <td>
        <time>{one.madeOn}</time>
      </td>
      <td>
        {one.expiresOn === null ? <span className="quiet">{words.noExpiry}</span> : <time>{one.expiresOn}</time>}
        {one.expired && <strong className="shelf-word verdict-fail">{words.expired}</strong>}
      </td>
    </tr>
  );
}
