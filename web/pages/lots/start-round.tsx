import { useQueryClient } from '@tanstack/react-query';
import { type ReactNode, type SubmitEvent, useState } from 'react';
import { useLocation, useSearchParams } from 'wouter';
import type { Instrument } from '../../../server/instruments/contract.ts';
import type { LotWithVessels, WayOfWorking } from '../../../server/lots/contract.ts';
import { proposePoints } from '../../../server/metrology/points-proposed.ts';
import type { Basis, VesselKind } from '../../../server/metrology/record.ts';
import { newKey, post } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { cautionsText } from '../../messages/en-cautions.ts';
import { draftText } from '../../messages/en-draft.ts';
import { lotText, roundText } from '../../messages/en-lots.ts';
import { startText } from '../../messages/en-start.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Choice } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Caution } from '../../parts/notice.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { keys } from '../../queries.ts';
import { airHelp } from '../start/air-help.ts';
import { AirFields, RareConditions, WaterFields } from '../start/condition-fields.tsx';
import { readStart, startDraft } from '../start/draft.ts';
import { InstrumentFields } from '../start/instrument-fields.tsx';
import { useStartDraft } from '../start/kept-start.ts';
import { PlanFields } from '../start/plan-fields.tsx';
import { Proposals, type StartProposals } from '../start/proposals.tsx';
import { RareFields, RuleFields } from '../start/rule-fields.tsx';
import { SheetFields } from '../start/sheet-fields.tsx';
import { useLot } from './queries.ts';
import '../start-calibration.css';

const words = roundText;
const SHEET_WAYS = ['vessel-by-vessel', 'reuse-dry'] as const satisfies readonly WayOfWorking[];
const WAYS = ['empties-first', 'vessel-by-vessel', 'reuse-dry'] as const satisfies readonly WayOfWorking[];

/** Everything that is fixed for a round of weighing, once for all its vessels. */
export default function StartRoundPage({ id }: { id: string }) {
  const [search] = useSearchParams();
  const isFromSheet = search.get('from') === 'sheet';
  const lot = useLot(id);
  return (
    <Loaded query={lot} what={lotText.oneWhat}>
      {(loaded) => (
        <Proposals what={lotText.oneWhat}>
          {(proposals) => (
            <RoundForm key={`${id} ${isFromSheet}`} lot={loaded} isFromSheet={isFromSheet} {...proposals} />
          )}
        </Proposals>
      )}
    </Loaded>
  );
}

interface RoundFormProps extends StartProposals {
  lot: LotWithVessels;
  /** Typed from recording sheets afterwards. */
  isFromSheet: boolean;
}

/** A vessel of the lot as far as its plan depends on it. */
const wareOf = ({ ware }: LotWithVessels) => ({
  kind: ware.kind as VesselKind,
  nominalVolumeMl: ware.nominalVolumeMl,
  basis: ware.basis as Basis,
  marks: null,
});

function useRoundStart({ lot, isFromSheet, latest, instruments, defaults }: RoundFormProps) {
  const ware = wareOf(lot);
  const kept = useStartDraft({ form: 'round', id: lot.id, isFromSheet }, () =>
    startDraft(ware, latest, instruments, Date.now(), defaults),
  );
  const { draft, change, forget } = kept;
  const way = draft.wayOfWorking ?? (isFromSheet ? 'vessel-by-vessel' : 'empties-first');
  const [key] = useState(newKey);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const { body, problems } = readStart(draft, ware, startText);
    const refused = refusedHere(problems);
    if (refused) return submission.setRefusal(refused);
    await submission.submit(async (extra) => {
      const note = [body.note, extra.note].filter(Boolean).join('\n');
      const round = {
        ...body,
        ...extra,
        repeatability: draft.repeatability,
        wayOfWorking: way,
        ...(note ? { note } : {}),
      };
      const { number } = await post<{ number: number }>(`/api/lots/${lot.id}/rounds`, round, key);
      forget();
      await client.invalidateQueries({ queryKey: keys.lots });
      void client.invalidateQueries({ queryKey: keys.openCalibrations });
      go(`/${lot.id}/bench?round=${number}`);
    });
  };
  const empty = (): void => {
    kept.empty();
    submission.setRefusal(null);
  };
  return {
    ...kept,
    empty,
    ware,
    way,
    setWay: (wayOfWorking: WayOfWorking) => change({ wayOfWorking }),
    submission,
    save,
  };
}
type RoundStart = ReturnType<typeof useRoundStart>;

function RoundForm(props: RoundFormProps) {
  const { lot, instruments, isFromSheet, latest } = props;
  const [openedAt] = useState(Date.now);
  const start = useRoundStart(props);
  const free = lot.vessels.filter(({ standing }) => standing === 'not-begun' || standing === 'measured').length;
  return (
    <form onSubmit={start.save} noValidate>
      <PageHeader
        title={isFromSheet ? words.sheetTitle(lot.name) : words.title(lot.name)}
        within={{ href: `/${lot.id}`, label: lot.name }}
        lead={free === 0 ? words.noneFree : words.who(free)}
      />
      <ErrorSummary refusal={start.submission.refusal} />
      <div className="start-columns">
        <PlanColumn start={start} instruments={instruments} />
        <ConditionsColumn start={start} help={airHelp({ ...start, latest }, openedAt)} />
      </div>
      <div className="row start-end">
        <Button type="submit" look="primary" bench disabled={start.submission.busy}>
          {start.submission.busy ? text.form.saving : isFromSheet ? startText.beginSheet : words.begin}
        </Button>
        <LinkButton href={`/${lot.id}`} look="quiet" bench>
          {text.form.cancel}
        </LinkButton>
        {start.isTyped && (
          <Button look="quiet" bench onClick={start.empty}>
            {draftText.empty}
          </Button>
        )}
      </div>
    </form>
  );
}

function PlanColumn({ start, instruments }: { start: RoundStart; instruments: readonly Instrument[] }) {
  const { draft, ware, submission, change } = start;
  return (
    <div className="stack wide-gaps">
      {draft.isFromSheet && <SheetFields draft={draft} onChange={change} submission={submission} />}
      <WayFields start={start} />
      <Part title={startText.plan}>
        <PlanFields
          draft={draft}
          vessel={ware}
          offered={proposePoints(ware).offered}
          onChange={change}
          submission={submission}
        />
      </Part>
      <Part title={startText.instruments}>
        <InstrumentFields
          chosen={draft.instruments}
          instruments={instruments}
          onChange={(role, id) => change({ instruments: { ...draft.instruments, [role]: id } })}
          submission={submission}
        />
      </Part>
      <Part title={startText.judging}>
        <RuleFields draft={draft} onChange={change} submission={submission} />
        <Choice
          name="repeatability"
          label={words.spread}
          help={words.pooledHelp}
          layout="list"
          value={draft.repeatability}
          options={[
            { value: 'own', label: words.own },
            { value: 'pooled', label: words.pooled },
          ]}
          onChange={(repeatability) => change({ repeatability })}
        />
      </Part>
    </div>
  );
}

/** Which way they are weighed; of a sheet, how many empty readings stand on it. */
function WayFields({ start }: { start: RoundStart }) {
  const common = {
    ...{ name: 'wayOfWorking', layout: 'list' as const, value: start.way, onChange: start.setWay },
    problem: start.submission.problemAt('wayOfWorking'),
  };
  if (start.draft.isFromSheet)
    return (
      <Choice
        {...common}
        label={words.onSheet}
        help={words.onSheetHelp}
        options={SHEET_WAYS.map((value) => ({ value, label: words.sheetWays[value] }))}
      />
    );
  return (
    <Part title={words.way}>
      <Choice
        {...common}
        label={words.way}
        help={words.wayHelp}
        options={WAYS.map((value) => ({ value, label: words.ways[value], help: words.wayNotes[value] }))}
      />
    </Part>
  );
}

function ConditionsColumn({ start, help }: { start: RoundStart; help: string }) {
  const { draft, ware, submission, change, changeConditions } = start;
  const conditions = { draft: draft.conditions, onChange: changeConditions, submission, prefix: 'conditions/' };
  return (
    <div className="stack wide-gaps">
      <Part title={startText.air} help={help}>
        <AirFields {...conditions} />
      </Part>
      <Part title={startText.water}>
        <WaterFields {...conditions} isDryWare={ware.basis === 'contain'} />
      </Part>
      <details className="unfold">
        <summary>{startText.more}</summary>
        <div className="stack">
          <RareConditions {...conditions} />
          <RareFields draft={draft} onChange={change} submission={submission} />
        </div>
      </details>
      {!draft.isFromSheet && <Caution title={cautionsText.lookFirst}>{cautionsText.lookFirstWhat}</Caution>}
    </div>
  );
}

function Part({ title, help, children }: { title: string; help?: string; children: ReactNode }) {
  return (
    <section className="stack">
      <div>
        <h2>{title}</h2>
        {help && <p className="quiet small">{help}</p>}
      </div>
      {children}
    </section>
  );
}
