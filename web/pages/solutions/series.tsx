import { type SubmitEvent, useState } from 'react';
import type { SeriesReply } from '../../../server/solutions/contract-choice.ts';
import { send } from '../../api.ts';
import { seriesText as words } from '../../messages/en-choose.ts';
import { shelfText } from '../../messages/en-solutions.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Caution } from '../../parts/notice.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { ErrorSummary, type FormRefusal, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { BenchSheet } from './bench-sheet.tsx';
import { SeriesPlan } from './series-plan.tsx';
import { type PlannedStock, type StockUnit, STOCK_UNITS } from './series-stock.ts';
import './choose.css';

const AIMS = ['fewest-transfers', 'least-uncertainty'] as const;
type Aim = (typeof AIMS)[number];

interface Draft {
  name: string;
  value: string;
  unit: StockUnit;
  expandedUncertainty: string;
  targets: string;
  aim: Aim;
}

const EMPTY: Draft = {
  name: '',
  value: '',
  unit: 'mg/L',
  expandedUncertainty: '0',
  targets: '',
  aim: 'fewest-transfers',
};

/** The typed numbers as they are sent; what cannot be read stands at its field. */
function readDraft(
  draft: Draft,
): { body: { stock: PlannedStock; targets: string[]; aim: Aim } } | { refused: FormRefusal | null } {
  const problems: Record<string, string> = {};
  const number = (field: string, typed: string): string => {
    const read = readNumber(typed);
    if (read.ok) return read.value;
    problems[field] ??= read.problem;
    return '';
  };
  const value = number('stock/value', draft.value);
  const expandedUncertainty = number('stock/expandedUncertainty', draft.expandedUncertainty);
  const targets = (draft.targets.trim() || ' ').split(/[\s;]+/).map((typed) => number('targets', typed));
  if (Object.keys(problems).length > 0) return { refused: refusedHere(problems) };
  const { name, unit, aim } = draft;
  const stock = { from: 'certificate', name, value, unit, expandedUncertainty, coverageFactor: '2' } as const;
  return { body: { stock, targets, aim } };
}

/** A series of dilutions with the ware of the stockroom. */
export default function SeriesPage() {
  const [draft, setDraft] = useState(EMPTY);
  const [planned, setPlanned] = useState<{ reply: SeriesReply; stock: PlannedStock; body: object } | null>(null);
  const submission = useSubmission();
  /** One wrong concentration stands at the field that holds them all. */
  const problemAt = (field: string): string | undefined =>
    submission.problemAt(field) ?? submission.refusal?.fields.find((one) => one.field.startsWith(`${field}/`))?.detail;
  const set = (changes: Partial<Draft>): void => {
    setPlanned(null);
    setDraft((before) => ({ ...before, ...changes }));
  };
  const plan = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const read = readDraft(draft);
    if ('refused' in read) return submission.setRefusal(read.refused);
    await submission.submit(async () => {
      setPlanned({
        reply: await send<SeriesReply>('POST', '/api/solutions/series', read.body),
        stock: read.body.stock,
        body: { way: 'series', ...read.body },
      });
    });
  };
  return (
    <>
      <PageHeader title={words.title} lead={words.lead} within={{ href: '/', label: shelfText.title }} />
      <form className="series-form" onSubmit={(event) => void plan(event)} noValidate>
        <ErrorSummary refusal={submission.refusal} />
        <SeriesFields draft={draft} set={set} problemAt={problemAt} />
        <div className="row form-end">
          <Button type="submit" look="primary" bench disabled={submission.busy}>
            {submission.busy ? words.planning : words.plan}
          </Button>
        </div>
      </form>
      {planned && (
        <Section title={words.caption}>
          <SeriesPlan plan={planned.reply} stock={planned.stock} />
          <BenchSheet plan={planned.body} problems={{}} submission={submission} />
        </Section>
      )}
    </>
  );
}

interface FieldsProps {
  draft: Draft;
  set: (changes: Partial<Draft>) => void;
  problemAt: (field: string) => string | undefined;
}

function SeriesFields({ draft, set, problemAt }: FieldsProps) {
  return (
    <div className="stack">
      <Field
        name="stock/name"
        label={words.stockName}
        value={draft.name}
        problem={problemAt('stock/name')}
        onChange={(name) => set({ name })}
      />
      <div className="field-pair">
        <Field
          name="stock/value"
          label={words.stockValue}
          number
          value={draft.value}
          problem={problemAt('stock/value')}
          onChange={(value) => set({ value })}
        />
        <Select
          name="stock/unit"
          label={words.stockUnit}
          value={draft.unit}
          options={STOCK_UNITS.map((unit) => ({ value: unit, label: unit }))}
          onChange={(unit) => unit !== '' && set({ unit })}
        />
        <Field
          name="stock/expandedUncertainty"
          label={words.stockUncertainty}
          help={words.stockUncertaintyHelp}
          number
          unit={draft.unit}
          value={draft.expandedUncertainty}
          problem={problemAt('stock/expandedUncertainty')}
          onChange={(expandedUncertainty) => set({ expandedUncertainty })}
        />
      </div>
      <Field
        name="targets"
        label={words.targets}
        help={words.targetsHelp}
        unit={draft.unit}
        inputMode="decimal"
        value={draft.targets}
        problem={problemAt('targets')}
        onChange={(targets) => set({ targets })}
      />
      <Choice
        name="aim"
        label={words.aim}
        layout="list"
        value={draft.aim}
        options={AIMS.map((value) => ({ value, ...words.aims[value] }))}
        onChange={(aim) => set({ aim })}
      />
      <Caution>{words.caution}</Caution>
    </div>
  );
}
