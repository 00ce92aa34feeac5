import { useMemo, useState } from 'react';
import type { Round } from '../../../server/lots/contract-round.ts';
import { text } from '../../messages/en.ts';
import { entryText } from '../../messages/en-bench.ts';
import { gridText, lotText, roundText } from '../../messages/en-lots.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button, LinkButton } from '../../parts/button.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Empty, PageHeader } from '../../parts/page.tsx';
import { useTolerances } from '../../queries.ts';
import { toleranceRowsOf } from '../../tolerance-rows.ts';
import { useOutbox } from '../../use-outbox.ts';
import { Announcer } from '../bench/announcer.tsx';
import { GridHead } from './grid-head.tsx';
import { GridTable } from './grid-table.tsx';
import { roundPath, useLot, useRound } from './queries.ts';
import { useGrid } from './use-grid.ts';
import { useRoundHead } from './use-round-head.ts';
import '../bench.css';
import './grid.css';

const words = gridText;

/** `/lots/ID/bench`: the round named in the address, else the latest. */
export default function GridPage({ id, chosen }: { id: string; chosen: string | null }) {
  const lot = useLot(id);
  return (
    <Loaded query={lot} what={lotText.oneWhat}>
      {({ name, rounds }) => {
        const wanted = rounds.find(({ number }) => String(number) === chosen) ?? rounds.at(-1);
        if (wanted) return <RoundPage key={wanted.number} lotId={id} number={wanted.number} />;
        return (
          <>
            <PageHeader title={words.title(name)} within={{ href: `/${id}`, label: name }} />
            <Empty
              title={words.none}
              action={
                <ForBench>
                  <LinkButton href={`/${id}/round`} look="primary">
                    {lotText.startRound}
                  </LinkButton>
                </ForBench>
              }
            >
              <p>{words.noneWhat}</p>
            </Empty>
          </>
        );
      }}
    </Loaded>
  );
}

function RoundPage({ lotId, number }: { lotId: string; number: number }) {
  const round = useRound(lotId, number);
  return (
    <Loaded query={round} what={words.what}>
      {(loaded) => <RoundAtBench round={loaded} />}
    </Loaded>
  );
}

const wayOf = ({ origin, wayOfWorking }: Round): string =>
  origin === 'sheet' ? text.words.origins.sheet : roundText.ways[wayOfWorking];

function RoundAtBench({ round }: { round: Round }) {
  const [pointMl, setPointMl] = useState(round.plannedPoints[0] ?? '');
  const table = useTolerances(round.rows[0]?.vessel.kind ?? '');
  const tolerances = useMemo(() => toleranceRowsOf(table.data?.items ?? []), [table.data]);
  const { entries, storageFails } = useOutbox();
  const head = useRoundHead(round);
  const grid = useGrid(round, pointMl, tolerances, head);
  const mine = useMemo(() => {
    const ids = new Set(round.rows.map(({ calibrationId }) => calibrationId));
    return entries.filter((entry) => ids.has(entry.calibrationId) && entry.state !== 'typed');
  }, [entries, round.rows]);
  return (
    <div className="round">
      <PageHeader
        title={round.lot.name}
        documentTitle={words.title(round.lot.name)}
        within={{ href: `/${round.lot.id}`, label: lotText.title }}
        lead={words.lead(round.number, wayOf(round), words.trials(round.plannedTrials))}
      />
      <GridHead round={round} head={head} acts={grid.acts} />
      {storageFails && <Notice tone="strong">{entryText.storageFails}</Notice>}
      {round.plannedPoints.length > 1 && (
        <div className="point-tabs" role="group" aria-label={words.points}>
          {round.plannedPoints.map((point) => (
            <Button
              key={point}
              bench
              aria-current={point === pointMl ? 'true' : undefined}
              onClick={() => setPointMl(point)}
            >
              {words.point(point)}
            </Button>
          ))}
        </div>
      )}
      <GridTable round={round} pointMl={pointMl} tolerances={tolerances} grid={grid} />
      <ForBench>
        <Finish round={round} />
      </ForBench>
      <Announcer pending={mine} />
    </div>
  );
}

/** Vessels with all their trials leave the bench together. */
function Finish({ round }: { round: Round }) {
  const [isAsking, setAsking] = useState(false);
  const count = round.rows.filter(({ state, summary }) => state === 'open' && summary.final).length;
  return (
    <div className="row round-finish">
      <Button
        id="finish-round"
        look="primary"
        bench
        // Not `disabled`: the last reading leads here, whether or not the server has it yet, and the cursor must arrive.
        aria-disabled={count === 0 ? true : undefined}
        aria-describedby="finish-round-what"
        onClick={() => setAsking(count > 0)}
      >
        {words.finish(count)}
      </Button>
      <span id="finish-round-what" className="quiet small">
        {count === 0 ? words.nothingToFinish : words.finishWhat}
      </span>
      {isAsking && (
        <ActDialog
          title={words.finish(count)}
          what={words.finishWhat}
          path={`${roundPath(round.lot.id, round.number)}/measured`}
          act={words.finish(count)}
          needsReason={false}
          onClose={() => setAsking(false)}
        />
      )}
    </div>
  );
}
