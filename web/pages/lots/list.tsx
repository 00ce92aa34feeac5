import { Link } from 'wouter';
import type { LotListItem } from '../../../server/lots/contract.ts';
import type { VesselKind } from '../../../server/metrology/record.ts';
import { text } from '../../messages/en.ts';
import { lotDecisionText } from '../../messages/en-lot-decisions.ts';
import { lotText } from '../../messages/en-lots.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { KindMark } from '../../parts/kind-mark.tsx';
import { LoadFailed, Loading } from '../../parts/loading.tsx';
import { Empty, PageHeader } from '../../parts/page.tsx';
import { ProgressBar } from './progress.tsx';
import { useLots } from './queries.ts';
import './lots.css';

const words = lotText;

const Add = () => (
  <ForBench>
    <LinkButton href="/new" look="primary">
      {words.add}
    </LinkButton>
  </ForBench>
);

/** Deliveries, the latest first, each with how far it is. */
export function LotList() {
  const lots = useLots();
  const items = lots.data?.pages.flatMap((page) => page.items);
  return (
    <>
      <PageHeader
        title={words.title}
        lead={words.lead}
        within={{ href: '~/glassware', label: vesselText.title }}
        actions={<Add />}
      />
      {items === undefined && !lots.isError && <Loading what={words.listWhat} />}
      {lots.isError && <LoadFailed error={lots.error} onRetry={() => void lots.refetch()} />}
      {items?.length === 0 && (
        <Empty title={words.emptyTitle} action={<Add />}>
          <p>{words.emptyWhat}</p>
        </Empty>
      )}
      {items && items.length > 0 && (
        <ul className="plain lot-rows">
          {items.map((lot) => (
            <LotRow key={lot.id} lot={lot} />
          ))}
        </ul>
      )}
      {lots.hasNextPage && (
        <div className="lot-more">
          <Button onClick={() => void lots.fetchNextPage()} disabled={lots.isFetchingNextPage}>
            {vesselText.more}
          </Button>
        </div>
      )}
    </>
  );
}

function LotRow({ lot }: { lot: LotListItem }) {
  const kind = lot.ware.kind as VesselKind;
  return (
    <li className="lot-row">
      <KindMark kind={kind} />
      <div className="lot-row-name">
        <Link href={`/${lot.id}`}>{lot.name}</Link>
        <span className="quiet small">
          {[words.what(lot.ware.nominalVolumeMl, text.words.vesselKinds[kind]), words.arrived(lot.receivedOn)].join(
            ' · ',
          )}
        </span>
      </div>
      <div className="lot-row-progress">
        <ProgressBar progress={lot.progress} />
        <span className="quiet small">
          {[
            ...(lot.decisions[0] ? [lotDecisionText.done[lot.decisions[0].decision]] : []),
            words.progress(lot.progress),
          ].join(' · ')}
        </span>
      </div>
    </li>
  );
}
