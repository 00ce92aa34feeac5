import { useQueries } from '@tanstack/react-query';
import { type ComponentProps, useEffect, useMemo, useState } from 'react';
import type { VesselWithHistory } from '../../../server/glassware/contract.ts';
import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { get } from '../../api.ts';
import { dilutionText as words, keepText, shelfText, solutionFormText } from '../../messages/en-solutions.ts';
import { LinkButton } from '../../parts/button.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { ErrorSummary } from '../../parts/refusal.tsx';
import { keys } from '../../queries.ts';
import {
  type DilutionDraft,
  draftOf,
  EMPTY_DILUTION,
  type HandedOver,
  readDilution,
  tagsOf,
} from './dilution-draft.ts';
import { BenchSheet } from './bench-sheet.tsx';
import { StockFields } from './dilution-stock.tsx';
import { DilutionSteps } from './dilution-steps.tsx';
import { Explained } from './explained.tsx';
import { KeepFields } from './keep-fields.tsx';
import { readKeep, useKeeping } from './keeping.ts';
import { useKeptDraft } from './kept-draft.ts';
import { useTypedWrong } from './reading.ts';
import { useNumbered } from './numbered.ts';
import { usePreparation } from './queries.ts';
import { LiveResult } from './result-parts.tsx';
import { partOf } from './result-words.ts';
import { AccuracyField, QuotedFields, TemperatureFields } from './setting-fields.tsx';
import { ALWAYS, StepCautions } from './step-cautions.tsx';
import { useTagged } from './tagged.ts';
import { UndoLine } from './undo-line.tsx';
import { useEvaluated } from './use-evaluated.ts';
import './solutions.css';

const SHELF = 'tarebook.solution.dilution';

const isHandedOver = (state: unknown): state is HandedOver =>
  typeof state === 'object' && state !== null && 'steps' in state && Array.isArray(state.steps);

/** `/solutions/dilution`: begun by hand, or from the plan of a series that another page hands over. */
export default function DilutionPage() {
  const [handedOver] = useState<HandedOver | null>(() =>
    isHandedOver(window.history.state) ? window.history.state : null,
  );
  return handedOver === null ? <DilutionForm handedOver={null} /> : <HandedOverForm handedOver={handedOver} />;
}

/** The plan names vessels and stock by their ids; the form by tags and numbers. */
function HandedOverForm({ handedOver }: { handedOver: HandedOver }) {
  const { steps, stock } = handedOver;
  const ids = [...new Set(steps.flatMap((one) => [...one.deliveries, one.madeUpIn].map(({ vesselId }) => vesselId)))];
  const vessels = useQueries({
    queries: ids.map((id) => ({
      queryKey: keys.vessel(id),
      queryFn: () => get<VesselWithHistory>(`/api/vessels/${id}`),
    })),
  });
  const stockId = stock && 'preparationId' in stock ? (stock.preparationId ?? '') : '';
  const preparation = usePreparation(stockId);
  if (vessels.some(({ isPending }) => isPending) || (stockId !== '' && preparation.isPending))
    return <Loading what={words.title} />;
  // What cannot be found any more stays empty and is asked for.
  const tagOf = (id: string) => vessels[ids.indexOf(id)]?.data?.tag ?? '';
  return <DilutionForm handedOver={draftOf(handedOver, preparation.data?.number ?? null, tagOf)} />;
}

function useDilution(handedOver: Partial<DilutionDraft> | null) {
  const { draft, change, beginAnew, drop, undoing } = useKeptDraft<DilutionDraft>(SHELF, EMPTY_DILUTION, handedOver);
  const tagged = useTagged(tagsOf(draft));
  const numbered = useNumbered(draft.stock.number);
  const { reader, body, ready, live } = readDilution(draft, numbered, tagged);
  const evaluated = useEvaluated(live);
  const next = { ...EMPTY_DILUTION, temperatures: draft.temperatures };
  const { result } = evaluated;
  const typedWrongAt = useTypedWrong(reader);
  const problems = { ...reader.problems };
  const stockName = draft.stock.from === 'preparation' ? (numbered?.title ?? '') : draft.stock.name.trim();
  const proposedTitle = stockName === '' ? '' : words.proposedTitle(stockName);
  const { submission, keep: save } = useKeeping(
    () => beginAnew(next),
    () => ({ solution: body, kept: readKeep(reader, draft.keep, proposedTitle), reader }),
  );
  const problemAt = (field: string) => submission.problemAt(field) ?? typedWrongAt(field) ?? evaluated.problemAt(field);
  return {
    ...{
      draft,
      change,
      drop,
      undoing,
      tagged,
      numbered,
      evaluated,
      result,
      submission,
      proposedTitle,
      save,
      problemAt,
      ready,
    },
    bench: { plan: body, problems, submission },
  };
}

/** The way to each step. */
const stepNodesOf = (result: SolutionResult | undefined) =>
  Object.fromEntries(
    (result?.steps ?? []).map((_, index) => [
      `step-${index + 1}`,
      result ? partOf(result.explanation, `c${index + 1}`) : null,
    ]),
  );

function DilutionForm({ handedOver }: { handedOver: Partial<DilutionDraft> | null }) {
  const form = useDilution(handedOver);
  const { draft, change, tagged, numbered, evaluated, result, submission, problemAt } = form;
  const nodes = useMemo(() => stepNodesOf(result), [result]);
  // Taken over once: a reload goes on with what was changed since.
  useEffect(() => window.history.replaceState({}, ''), []);
  const temperatures = {
    at: '',
    draft: draft.temperatures,
    problemAt,
    onChange: (changes: Partial<DilutionDraft['temperatures']>) =>
      change({ temperatures: { ...draft.temperatures, ...changes } }),
  };
  return (
    <form onSubmit={form.save} noValidate className="solution-form">
      <PageHeader
        title={words.title}
        lead={words.lead}
        within={{ href: '~/solutions', label: shelfText.title }}
        actions={<LinkButton href="/series">{words.planSeries}</LinkButton>}
      />
      <ErrorSummary refusal={submission.refusal} shown={submission.shown} />
      {handedOver !== null && <Notice>{words.handedOver}</Notice>}
      <div className="solution-columns">
        <div className="stack wide-gaps">
          <StepCautions step="before" cautions={result?.cautions ?? ALWAYS} />
          <StockFields
            {...{ draft: draft.stock, numbered, problemAt }}
            onChange={(changes) => change({ stock: { ...draft.stock, ...changes } })}
          />
          <Setting
            temperatures={temperatures}
            accuracyPercent={draft.accuracyPercent}
            onAccuracy={(accuracyPercent) => change({ accuracyPercent })}
          />
        </div>
        <div className="stack wide-gaps">
          <div className="stack tight">
            {result && <StepCautions step="making-up" cautions={result.cautions} />}
            <Explained nodes={nodes}>
              <DilutionSteps
                {...{ steps: draft.steps, tagged, result, problemAt }}
                onChange={(steps) => change({ steps })}
                onRemove={(steps, number) => form.drop({ steps }, 'rows', words.removedStep(number))}
              />
              <UndoLine at="rows" {...form.undoing} />
            </Explained>
          </div>
          <LiveResult
            {...{ evaluated, title: words.result, waiting: words.waiting, accuracyPercent: draft.accuracyPercent }}
          >
            <UpTo ready={form.ready} of={draft.steps.length} />
          </LiveResult>
          <BenchSheet {...form.bench} />
        </div>
      </div>
      <KeepFields
        draft={draft.keep}
        proposedTitle={form.proposedTitle}
        submission={submission}
        onChange={(changes) => change({ keep: { ...draft.keep, ...changes } })}
        onStartAgain={() => {
          submission.setRefusal(null);
          form.drop(EMPTY_DILUTION, 'form', keepText.emptied);
        }}
        undoing={form.undoing}
      />
    </form>
  );
}

/** The step up to which a result could be worked out, where it is not the last. */
function UpTo({ ready, of }: { ready: number; of: number }) {
  return ready < of && <p className="quiet">{words.upTo(ready)}</p>;
}

interface SettingProps {
  temperatures: ComponentProps<typeof QuotedFields>;
  accuracyPercent: string;
  onAccuracy: (accuracyPercent: string) => void;
}

/** How warm the solution is, and how well it is wanted. */
function Setting({ temperatures, accuracyPercent, onAccuracy }: SettingProps) {
  return (
    <section className="stack">
      <TemperatureFields {...temperatures} />
      <AccuracyField value={accuracyPercent} problemAt={temperatures.problemAt} onChange={onAccuracy} />
      <details className="unfold">
        <summary>{solutionFormText.moreTemperature}</summary>
        <QuotedFields {...temperatures} />
      </details>
    </section>
  );
}
