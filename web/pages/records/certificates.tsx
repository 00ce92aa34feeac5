import { useDeferredValue } from 'react';
import { Link, useSearchParams } from 'wouter';
import type { CertificateListItem } from '../../../server/certificates/contract.ts';
import { text } from '../../messages/en.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { recordsText } from '../../messages/en-records.ts';
import { Button } from '../../parts/button.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { LoadFailed, Loading } from '../../parts/loading.tsx';
import { Empty, PageHeader } from '../../parts/page.tsx';
import { moment } from '../../parts/time.ts';
import { VerdictMark } from '../../parts/verdict.tsx';
import { useCertificates } from './data.ts';

const words = recordsText.certificate;
const STATES = (['valid', 'replaced', 'withdrawn'] as const).map((value) => ({ value, label: words.states[value] }));

export function CertificateList() {
  const [filter, setFilter] = useSearchParams();
  const search = filter.get('search') ?? '';
  const state = (filter.get('state') ?? '') as (typeof STATES)[number]['value'] | '';
  const set = (name: string, value: string) =>
    setFilter(
      (before) => {
        if (value) before.set(name, value);
        else before.delete(name);
        return before;
      },
      { replace: true },
    );
  const certificates = useCertificates({ search: useDeferredValue(search), state });
  const items = certificates.data?.pages.flatMap((page) => page.items);
  return (
    <>
      <PageHeader title={recordsText.certificates} />
      <search className="record-filter no-print">
        <Field
          name="search"
          label={words.search}
          help={words.searchHelp}
          value={search}
          onChange={(value) => set('search', value)}
        />
        <Select
          name="state"
          label={words.state}
          value={state}
          options={STATES}
          none={words.allStates}
          onChange={(value) => set('state', value)}
        />
      </search>
      {items === undefined && !certificates.isError && <Loading what={words.listWhat} />}
      {certificates.isError && <LoadFailed error={certificates.error} onRetry={() => void certificates.refetch()} />}
      {items && <Listed items={items} isFiltered={search !== '' || state !== ''} />}
      {certificates.hasNextPage && (
        <Button onClick={() => void certificates.fetchNextPage()} disabled={certificates.isFetchingNextPage}>
          {recordsText.more}
        </Button>
      )}
    </>
  );
}

function Listed({ items, isFiltered }: { items: readonly CertificateListItem[]; isFiltered: boolean }) {
  if (items.length === 0)
    return isFiltered ? (
      <p>{words.nothingFound}</p>
    ) : (
      <Empty title={words.noneTitle}>
        <p>{words.none}</p>
      </Empty>
    );
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={recordsText.certificates}>
      <table className="table">
        <caption>{words.caption}</caption>
        <thead>
          <tr>
            <th scope="col">{words.number}</th>
            <th scope="col">{words.vessel}</th>
            <th scope="col">{words.day}</th>
            <th scope="col">{words.verdict}</th>
            <th scope="col">{words.issued}</th>
            <th scope="col">{words.state}</th>
          </tr>
        </thead>
        <tbody>
          {items.map((item) => (
            <tr key={item.number}>
              <th scope="row">
                <Link href={`/certificates/${item.number}`}>{item.number}</Link>
              </th>
              <td>
                <Link href={`~/glassware/${item.vesselId}`}>{item.tag}</Link>{' '}
                <span className="quiet small">
                  {vesselText.what(item.nominalVolumeMl, text.words.vesselKinds[item.kind as 'beaker'])}
                </span>
              </td>
              <td>
                {item.performedOn}
                {item.origin && <span className="quiet small"> {text.words.origins[item.origin]}</span>}
              </td>
              <td>{item.verdict === null ? recordsText.none : <VerdictMark verdict={item.verdict} />}</td>
              <td>
                {moment(item.issuedAt)} <span className="quiet small">{item.issuedBy}</span>
              </td>
              <td>
                {item.state === 'valid' ? words.states.valid : <strong>{words.states[item.state]}</strong>}
                {item.replacedBy && (
                  <span className="quiet small"> {recordsText.gaps.replacedBy(item.replacedBy)}</span>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
