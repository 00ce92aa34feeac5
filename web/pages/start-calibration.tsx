import { useQueryClient } from '@tanstack/react-query';
import { type ReactNode, type SubmitEvent, useState } from 'react';
import { Redirect, useLocation, useSearchParams } from 'wouter';
import type { VesselWithHistory } from '../../server/glassware/contract.ts';
import { proposePoints } from '../../server/metrology/points-proposed.ts';
import { newKey, post } from '../api.ts';
import { text } from '../messages/en.ts';
import { cautionsText } from '../messages/en-cautions.ts';
import { draftText } from '../messages/en-draft.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { startText } from '../messages/en-start.ts';
import { capabilityText } from '../messages/en-uncertainty.ts';
import { Button, LinkButton } from '../parts/button.tsx';
import { WorkCautions } from '../parts/cautions.tsx';
import { Tick } from '../parts/field.tsx';
import { Loaded } from '../parts/loading.tsx';
import { Caution } from '../parts/notice.tsx';
import { PageHeader } from '../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../parts/refusal.tsx';
import { toleranceWords } from '../parts/tolerance-words.ts';
import { useVessel } from '../queries.ts';
import { airHelp } from './start/air-help.ts';
import { AirFields, RareConditions, WaterFields } from './start/condition-fields.tsx';
import { useFirstCell } from './bench/next-sheet.tsx';
import { readStart, startDraft } from './start/draft.ts';
import { ForeseenLine, ForeseenPanel, SpreadFields } from './start/foreseen-panel.tsx';
import { InstrumentFields } from './start/instrument-fields.tsx';
import { useStartDraft } from './start/kept-start.ts';
import { PlanFields } from './start/plan-fields.tsx';
import { Proposals, type StartProposals } from './start/proposals.tsx';
import { RareFields, RuleFields } from './start/rule-fields.tsx';
import { SheetFields } from './start/sheet-fields.tsx';
import { useForeseen } from './start/use-foreseen.ts';
import './start-calibration.css';

const words = startText;

/** `/bench/new?vessel=…`: everything that is fixed before the first weighing. */
export default function StartCalibrationPage() {
  const [search] = useSearchParams();
  const id = search.get('vessel') ?? '';
  const isFromSheet = search.get('from') === 'sheet';
  const vessel = useVessel(id);
  if (id === '') return <Redirect to="/bench" replace />;
  return (
    <Loaded query={vessel} what={vesselText.oneWhat}>
      {(loaded) => (
        <Proposals what={vesselText.oneWhat}>
          {(proposals) => (
            <StartForm key={`${id} ${isFromSheet}`} vessel={loaded} isFromSheet={isFromSheet} {...proposals} />
          )}
        </Proposals>
      )}
    </Loaded>
  );
}

interface StartFormProps extends StartProposals {
  vessel: VesselWithHistory;
  /** Typed from a recording sheet afterwards. */
  isFromSheet: boolean;
}

function useStart({ vessel, isFromSheet, latest, instruments, defaults }: StartFormProps, openedAt: number) {
  const kept = useStartDraft({ form: 'calibration', id: vessel.id, isFromSheet }, () =>
    startDraft(vessel, latest, instruments, openedAt, defaults),
  );
  const { draft, forget } = kept;
  const [key] = useState(newKey);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const { body, problems } = readStart(draft, vessel, words);
  // What can be decided depends on no day, which on a sheet is typed sign by sign.
  const { origin: _origin, performedOn: _performedOn, ...undated } = body;
  const plan = isFromSheet ? undated : body;
  const asked = problems.points || problems.morePoints || problems.plannedTrials ? null : plan;
  const own = useForeseen(vessel.id, asked, 'own');
  const pooled = useForeseen(vessel.id, asked, 'pooled');
  const foreseen = draft.repeatability === 'own' ? own : pooled;
  // What is on a sheet has been weighed: whether to begin is no question any more.
  const goOnReason = !isFromSheet && foreseen.data?.decidable === false ? draft.goOnReason.trim() : null;
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const missing = goOnReason === '' ? { goOnReason: capabilityText.goOnMissing } : {};
    const refused = refusedHere({ ...problems, ...missing });
    if (refused) return submission.setRefusal(refused);
    await submission.submit(async (extra) => {
      const goesOn = goOnReason ? capabilityText.goOnNote(goOnReason) : undefined;
      const note = [body.note, goesOn, extra.note].filter(Boolean).join('\n');
      const path = `/api/vessels/${vessel.id}/calibrations`;
      const { id } = await post<{ id: string }>(path, { ...body, ...extra, ...(note ? { note } : {}) }, key);
      forget();
      void client.invalidateQueries();
      go(`/bench/${id}${isFromSheet ? '?from=sheet' : ''}`);
    });
  };
  const empty = (): void => {
    kept.empty();
    submission.setRefusal(null);
  };
  return { ...kept, empty, submission, own, pooled, foreseen, save };
}
type Start = ReturnType<typeof useStart>;

function StartForm(props: StartFormProps) {
  const { vessel, isFromSheet, latest, instruments } = props;
  const [openedAt] = useState(Date.now);
  const start = useStart(props, openedAt);
  useFirstCell(['performedOn']);
  return (
    <form onSubmit={start.save} noValidate>
      <PageHeader
        title={isFromSheet ? words.sheetTitle(vessel.tag) : words.title(vessel.tag)}
        within={{ href: `/glassware/${vessel.id}`, label: vessel.tag }}
        lead={[
          vesselText.what(vessel.nominalVolumeMl, text.words.vesselKinds[vessel.kind]),
          text.words.bases[vessel.basis],
          toleranceWords(vessel),
        ].join(' · ')}
      />
      <ErrorSummary refusal={start.submission.refusal} />
      <div className="start-columns">
        <PlanColumn vessel={vessel} instruments={instruments} start={start} />
        <ConditionsColumn vessel={vessel} start={start} airHelp={airHelp({ ...start, latest }, openedAt)} />
      </div>
      {!isFromSheet && (
        <ForeseenPanel
          draft={start.draft}
          foreseen={start.foreseen}
          onChange={start.change}
          submission={start.submission}
        />
      )}
      <div className="row start-end">
        <Button type="submit" look="primary" bench disabled={start.submission.busy}>
          {start.submission.busy ? text.form.saving : isFromSheet ? words.beginSheet : words.begin}
        </Button>
        <LinkButton href={`/glassware/${vessel.id}`} look="quiet" bench>
          {text.form.cancel}
        </LinkButton>
        {start.isTyped && (
          <Button look="quiet" bench onClick={start.empty}>
            {draftText.empty}
          </Button>
        )}
        {!isFromSheet && <ForeseenLine foreseen={start.foreseen} />}
      </div>
    </form>
  );
}

interface ColumnProps {
  vessel: VesselWithHistory;
  start: Start;
}

/** Looking first, then what is planned, with which instruments, and how it is judged. */
function PlanColumn({ vessel, start, instruments }: ColumnProps & Pick<StartFormProps, 'instruments'>) {
  const { draft, submission, own, pooled, change, changeConditions } = start;
  return (
    <div className="stack wide-gaps">
      {draft.isFromSheet && <SheetFields draft={draft} onChange={change} submission={submission} />}
      <div className="stack tight">
        {!draft.isFromSheet && <Caution title={cautionsText.lookFirst}>{cautionsText.lookFirstWhat}</Caution>}
        <Tick
          name="conditions/inspected"
          label={words.inspected}
          checked={draft.conditions.inspected}
          onChange={(inspected) => changeConditions({ inspected })}
        />
      </div>
      <Part title={words.plan}>
        <PlanFields
          draft={draft}
          vessel={vessel}
          offered={proposePoints(vessel).offered}
          onChange={change}
          submission={submission}
        />
      </Part>
      <Part title={words.instruments} help={words.instrumentsHelp}>
        <InstrumentFields
          chosen={draft.instruments}
          instruments={instruments}
          onChange={(role, id) => change({ instruments: { ...draft.instruments, [role]: id } })}
          submission={submission}
        />
      </Part>
      <Part title={words.judging}>
        <RuleFields draft={draft} onChange={change} submission={submission} />
        <SpreadFields draft={draft} own={own} pooled={pooled} onChange={change} submission={submission} />
      </Part>
    </div>
  );
}

function ConditionsColumn({ vessel, start, airHelp: help }: ColumnProps & { airHelp: string }) {
  const { draft, submission, change, changeConditions } = start;
  const conditions = { draft: draft.conditions, onChange: changeConditions, submission, prefix: 'conditions/' };
  return (
    <div className="stack wide-gaps">
      <Part title={words.air} help={help}>
        <AirFields {...conditions} />
      </Part>
      <Part title={words.water}>
        <WaterFields {...conditions} isDryWare={vessel.basis === 'contain'} />
      </Part>
      <details className="unfold">
        <summary>{words.more}</summary>
        <div className="stack">
          <RareConditions {...conditions} />
          <RareFields draft={draft} onChange={change} submission={submission} />
        </div>
      </details>
      {!draft.isFromSheet && <WorkCautions vessel={vessel} />}
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
