import { useInfiniteQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import type { Dependent } from '../../../server/over-time/contract.ts';
import { get, withQuery } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { instrumentTimeText } from '../../messages/en-over-time.ts';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { LoadFailed, Loading } from '../../parts/loading.tsx';
import { VerdictMark } from '../../parts/verdict.tsx';
import { keys } from '../../queries.ts';

const words = instrumentTimeText;
const DAY = /^\d{4}-\d{2}-\d{2}$/;

interface DependentPage {
  items: Dependent[];
  next: string | null;
  total: number;
}

/** Every calibration the instrument was used for between two days. */
export function Dependents({ id }: { id: string }) {
  const [from, setFrom] = useState('');
  const [to, setTo] = useState('');
  const problemOf = (day: string) => (day === '' || DAY.test(day) ? undefined : words.badDay);
  const isReadable = problemOf(from) === undefined && problemOf(to) === undefined;
  const found = useInfiniteQuery({
    queryKey: [...keys.instruments, id, 'dependents', from, to],
    queryFn: ({ pageParam, signal }) =>
      get<DependentPage>(withQuery(`/api/instruments/${id}/dependents`, { from, to, cursor: pageParam }), signal),
    initialPageParam: '',
    getNextPageParam: (page) => page.next,
    placeholderData: (before) => before,
    enabled: isReadable,
  });
  const items = found.data?.pages.flatMap((page) => page.items) ?? [];
  return (
    <div className="stack">
      <div className="row">
        <Field
          name="from"
          label={words.from}
          width="short"
          optional
          value={from}
          onChange={setFrom}
          problem={problemOf(from)}
        />
        <Field name="to" label={words.to} width="short" optional value={to} onChange={setTo} problem={problemOf(to)} />
      </div>
      {found.data === undefined && !found.isError && <Loading what={words.what} />}
      {found.isError && <LoadFailed error={found.error} onRetry={() => void found.refetch()} />}
      {found.data && <p role="status">{words.found(found.data.pages[0]?.total ?? 0)}</p>}
      {items.length > 0 && <DependentTable items={items} />}
      {found.hasNextPage && (
        <Button onClick={() => void found.fetchNextPage()} disabled={found.isFetchingNextPage}>
          {words.more}
        </Button>
      )}
    </div>
  );
}

function DependentTable({ items }: { items: readonly Dependent[] }) {
  const columns = words.dependentColumns;
  const states: Record<string, string> = text.words.states;
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={words.dependents}>
      <table className="table">
        <thead>
          <tr>
            {Object.values(columns).map((column) => (
              <th key={column} scope="col">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {items.map((one) => (
            <tr key={one.calibrationId}>
              <th scope="row">
                <Link className="lone-link" href={`~/bench/${one.calibrationId}`}>
                  {one.performedOn}
                </Link>
              </th>
              <td>
                <Link className="lone-link" href={`~/glassware/${one.vesselId}`}>
                  {one.tag}
                </Link>{' '}
                <span className="quiet small">
                  {one.nominalVolumeMl} mL {text.words.vesselKinds[one.kind]}
                </span>
              </td>
              <td>
                <VerdictMark verdict={one.verdict} />
              </td>
              <td>{states[one.state] ?? one.state}</td>
              <td>{one.roles.map((role) => words.roles[role]).join(', ')}</td>
              <td>{one.certificates.length === 0 ? words.noCertificate : one.certificates.join(', ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
