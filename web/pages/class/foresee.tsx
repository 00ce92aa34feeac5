import { type SubmitEvent, useState } from 'react';
import type { GroupPage } from '../../../server/experiments/contract-class.ts';
import { foreseeText as words, entryText } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { BLANK, type FieldNotes, type Typed } from './memory.ts';
import { readPrediction, type Sureness } from './read-prediction.ts';
import type { Step } from './step.ts';
import type { Group } from './use-group.ts';

interface ForeseeProps {
  group: Group;
  page: GroupPage;
  step: Step;
  onDone: () => void;
}

/** What the group expects, said before its first weighing of the row. */
export function Foresee({ group, page, step, onDone }: ForeseeProps) {
  const { memory, link, kept } = group;
  const { asks } = page.experiment;
  const row = step.row.key;
  const typed = kept.drafts[row] ?? BLANK;
  const [problems, setProblems] = useState<FieldNotes>({});
  const [isBusy, setIsBusy] = useState(false);
  const type = (field: keyof Typed) => (value: string) => {
    setProblems(({ [field]: _gone, ...others }) => others);
    memory.type(row, { ...typed, [field]: value });
  };
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const read = readPrediction(row, typed, asks);
    if ('problems' in read) {
      setProblems(read.problems);
      document.getElementById(Object.keys(read.problems)[0] ?? '')?.focus();
      return;
    }
    setIsBusy(true);
    const outcome = await link.save({ kind: 'prediction', row, body: read.body });
    setIsBusy(false);
    if (outcome.kind === 'refused') setProblems(outcome.asked.problems);
    else onDone();
  };
  return (
    <form className="class-entry" onSubmit={save} noValidate>
      <div>
        <h3>{words.title}</h3>
        <p className="quiet">{words.lead}</p>
      </div>
      <Field
        {...{ name: 'volumeMl', label: words.volume, unit: 'mL', number: true, enterKeyHint: 'next' as const }}
        {...{ value: typed.volumeMl, problem: problems.volumeMl, onChange: type('volumeMl') }}
      />
      {asks.within && (
        <Field
          {...{ name: 'withinMl', label: words.within, help: words.withinHelp, unit: 'mL', number: true }}
          {...{ value: typed.withinMl, problem: problems.withinMl, onChange: type('withinMl') }}
        />
      )}
      {asks.sureness && (
        <Choice<Sureness>
          {...{ name: 'sureness', label: words.sureness, options: words.options, problem: problems.sureness }}
          value={typed.sureness as Sureness | ''}
          onChange={type('sureness')}
        />
      )}
      {problems.whole && <p className="field-problem">{problems.whole}</p>}
      <div className="row">
        <Button type="submit" look="primary" bench disabled={isBusy}>
          {isBusy ? entryText.saving : words.save}
        </Button>
      </div>
    </form>
  );
}
