import { useInfiniteQuery } from '@tanstack/react-query';
import { type SubmitEvent, useDeferredValue } from 'react';
import { Link, useLocation, useSearchParams } from 'wouter';
import type { VesselListItem } from '../../server/glassware/contract.ts';
import { VESSEL_KINDS, type VesselKind } from '../../server/metrology/record.ts';
import { text } from '../messages/en.ts';
import { recordingSheetText } from '../messages/en-recording-sheets.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { Button, LinkButton } from '../parts/button.tsx';
import { CameraScan } from '../parts/camera-scan.tsx';
import { Field, Select } from '../parts/field.tsx';
import { ForBench } from '../parts/for-bench.tsx';
import { LoadFailed, Loading } from '../parts/loading.tsx';
import { Notice } from '../parts/notice.tsx';
import { Empty, PageHeader } from '../parts/page.tsx';
import { VesselRows } from '../parts/vessel-rows.tsx';
import { fetchVessels, keys, vesselByTag } from '../queries.ts';
import './glassware.css';

const KIND_OPTIONS = VESSEL_KINDS.map((kind) => ({ value: kind, label: text.words.vesselKinds[kind] }));

/** The register of glassware: search, and the latest result of each vessel as a strip. */
export default function GlasswarePage() {
  const [filter, setFilter] = useSearchParams();
  const search = filter.get('search') ?? '';
  const kind = (filter.get('kind') ?? '') as VesselKind | '';
  const dueBy = filter.get('dueBy') ?? '';
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
    queryKey: [...keys.vessels, 'list', searched, kind, dueBy],
    queryFn: ({ pageParam, signal }) => fetchVessels({ search: searched, kind, dueBy, cursor: pageParam }, signal),
    initialPageParam: '',
    getNextPageParam: (page) => page.next,
    placeholderData: (before) => before,
  });
  const items = vessels.data?.pages.flatMap((page) => page.items);
  const isFiltered = search !== '' || kind !== '' || dueBy !== '';
  return (
    <>
      <PageHeader title={vesselText.title} lead={vesselText.lead} actions={<Actions shown={items ?? []} />} />
      {dueBy !== '' && (
        <Notice>
          {vesselText.dueBy(dueBy)} <Link href="/glassware">{vesselText.showAll}</Link>
        </Notice>
      )}
      <VesselFilter search={search} kind={kind} onChange={set} />
      {items === undefined && !vessels.isError && <Loading what={vesselText.listWhat} />}
      {vessels.isError && <LoadFailed error={vessels.error} onRetry={() => void vessels.refetch()} />}
      {items && <VesselList items={items} isFiltered={isFiltered} onClear={() => setFilter({}, { replace: true })} />}
      {vessels.hasNextPage && (
        <div className="vessel-more">
          <Button onClick={() => void vessels.fetchNextPage()} disabled={vessels.isFetchingNextPage}>
            {vesselText.more}
          </Button>
        </div>
      )}
    </>
  );
}

interface VesselFilterProps {
  search: string;
  kind: VesselKind | '';
  onChange: (name: 'search' | 'kind', value: string) => void;
}

function VesselFilter({ search, kind, onChange }: VesselFilterProps) {
  const [, go] = useLocation();
  /** A scanner types the tag and sends Enter; so may a hand. Where no vessel bears it, the list stays as it is. */
  const openByTag = async (tag: string): Promise<void> => {
    const found = tag === '' ? null : await vesselByTag(tag).catch(() => null);
    if (found) go(`/glassware/${found.id}`);
  };
  const submit = (event: SubmitEvent): void => {
    event.preventDefault();
    void openByTag(search.trim());
  };
  /** What the camera read stays in the search where no vessel bears it. */
  const scanned = (tag: string): void => {
    onChange('search', tag);
    void openByTag(tag);
  };
  return (
    <search>
      <form className="vessel-filter" onSubmit={submit} noValidate>
        <Field
          name="search"
          label={vesselText.search}
          help={vesselText.searchHelp}
          value={search}
          onChange={(value) => onChange('search', value)}
        />
        <Select
          name="kind"
          label={vesselText.kind}
          value={kind}
          options={KIND_OPTIONS}
          none={vesselText.allKinds}
          onChange={(value) => onChange('kind', value)}
        />
        <CameraScan onRead={scanned} />
      </form>
    </search>
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
      <Empty title={vesselText.nothingFound} action={<Button onClick={onClear}>{vesselText.clear}</Button>}>
        <p>{vesselText.nothingFoundWhat}</p>
      </Empty>
    );
  return (
    <Empty
      title={vesselText.emptyTitle}
      action={
        <ForBench>
          <LinkButton href="/glassware/new" look="primary">
            {vesselText.add}
          </LinkButton>
        </ForBench>
      }
    >
      <p>{vesselText.emptyWhat}</p>
    </Empty>
  );
}

function Actions({ shown }: { shown: readonly VesselListItem[] }) {
  return (
    <>
      <ForBench>
        <LinkButton href="/glassware/new" look="primary">
          {vesselText.add}
        </LinkButton>
        {shown.length > 0 && (
          <>
            <LinkButton href={`/glassware/labels?vessels=${shown.map(({ id }) => id).join(',')}`}>
              {vesselText.labels}
            </LinkButton>
            <LinkButton href={`/glassware/sheets?vessels=${shown.map(({ id }) => id).join(',')}`}>
              {recordingSheetText.title}
            </LinkButton>
          </>
        )}
        <LinkButton href="/old-sheets">{vesselText.fromPaper}</LinkButton>
      </ForBench>
      <LinkButton href="/lots">{vesselText.lots}</LinkButton>
      <LinkButton href="/glassware/makers">{vesselText.byMaker}</LinkButton>
    </>
  );
}
