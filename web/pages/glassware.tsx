import { useInfiniteQuery } from '@tanstack/react-query';
import { useDeferredValue } from 'react';
import { useSearchParams } from 'wouter';
import type { VesselListItem } from '../../server/glassware/contract.ts';
import { VESSEL_KINDS, type VesselKind } from '../../server/metrology/record.ts';
import { text } from '../messages/en.ts';
import { Button, LinkButton } from '../parts/button.tsx';
import { Field, Select } from '../parts/field.tsx';
import { LoadFailed, Loading } from '../parts/loading.tsx';
import { Empty, PageHeader } from '../parts/page.tsx';
import { VesselRows } from '../parts/vessel-rows.tsx';
import { fetchVessels, keys } from '../queries.ts';
import './glassware.css';

const KIND_OPTIONS = VESSEL_KINDS.map((kind) => ({ value: kind, label: text.words.vesselKinds[kind] }));

/** The register of glassware: search, and the latest result of each vessel as a strip. */
export default function GlasswarePage() {
  const [filter, setFilter] = useSearchParams();
  const search = filter.get('search') ?? '';
  const kind = (filter.get('kind') ?? '') as VesselKind | '';
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
  const vessels = useInfiniteQuery({
    queryKey: [...keys.vessels, 'list', searched, kind],
    queryFn: ({ pageParam, signal }) => fetchVessels({ search: searched, kind, cursor: pageParam }, signal),
    initialPageParam: '',
    getNextPageParam: (page) => page.next,
    placeholderData: (before) => before,
  });
  const items = vessels.data?.pages.flatMap((page) => page.items);
  const isFiltered = search !== '' || kind !== '';
  return (
    <>
      <PageHeader
        title={text.vessel.title}
        lead={text.vessel.lead}
        actions={
          <LinkButton href="/glassware/new" look="primary">
            {text.vessel.add}
          </LinkButton>
        }
      />
      <search className="vessel-filter">
        <Field
          name="search"
          label={text.vessel.search}
          help={text.vessel.searchHelp}
          value={search}
          onChange={(value) => set('search', value)}
        />
        <Select
          name="kind"
          label={text.vessel.kind}
          value={kind}
          options={KIND_OPTIONS}
          none={text.vessel.allKinds}
          onChange={(value) => set('kind', value)}
        />
      </search>
      {items === undefined && !vessels.isError && <Loading what={text.vessel.listWhat} />}
      {vessels.isError && <LoadFailed error={vessels.error} onRetry={() => void vessels.refetch()} />}
      {items && <VesselList items={items} isFiltered={isFiltered} onClear={() => setFilter({}, { replace: true })} />}
      {vessels.hasNextPage && (
        <div className="vessel-more">
          <Button onClick={() => void vessels.fetchNextPage()} disabled={vessels.isFetchingNextPage}>
            {text.vessel.more}
          </Button>
        </div>
      )}
    </>
  );
}

interface VesselListProps {
  items: readonly VesselListItem[];
  isFiltered: boolean;
  onClear: () => void;
}

function VesselList({ items, isFiltered, onClear }: VesselListProps) {
  if (items.length > 0) return <VesselRows vessels={items} />;
  if (isFiltered)
    return (
      <Empty title={text.vessel.nothingFound} action={<Button onClick={onClear}>{text.vessel.clear}</Button>}>
        <p>{text.vessel.nothingFoundWhat}</p>
      </Empty>
    );
  return (
    <Empty
      title={text.vessel.emptyTitle}
      action={
        <LinkButton href="/glassware/new" look="primary">
          {text.vessel.add}
        </LinkButton>
      }
    >
      <p>{text.vessel.emptyWhat}</p>
    </Empty>
  );
}
