import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import type { GroupPage } from '../../../server/experiments/contract-class.ts';
import type { WareRowOnWire } from '../../../server/experiments/contract.ts';
import { newKey, post } from '../../api.ts';
import { foreseeText } from '../../messages/en-class.ts';
import { enterText as words } from '../../messages/en-teaching.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { readPrediction, type Sureness } from '../class/read-prediction.ts';
import { classKeys } from './data.ts';

interface PredictionProps {
  id: string;
  page: GroupPage;
  row: WareRowOnWire;
}

/** What a group without a phone expected, as its sheet says it: before its first weighing of the ware, never after. */
export function EnterPrediction({ id, page, row }: PredictionProps) {
  const { asks } = page.experiment;
  const said = page.predictions.find((one) => one.row === row.key);
  if (said)
    return (
      <p>
        {words.expected} {foreseeText.said(said.volumeMl, said.withinMl, said.sureness)}
      </p>
    );
  if (!asks.prediction || page.trials.some((trial) => trial.row === row.key)) return null;
  return (
    <details className="unfold" open>
      <summary>{words.prediction}</summary>
      <PredictionForm {...{ id, page, row }} />
    </details>
  );
}

const BLANK = { volumeMl: '', withinMl: '', sureness: '' };

function PredictionForm({ id, page, row }: PredictionProps) {
  const { asks } = page.experiment;
  const [typed, setTyped] = useState(BLANK);
  const [key] = useState(newKey);
  const { refusal, setRefusal, busy, submit, problemAt } = useSubmission();
  const client = useQueryClient();
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const read = readPrediction(row.key, typed, asks);
    if ('problems' in read) return setRefusal(refusedHere(read.problems));
    await submit(async () => {
      await post(`/api/experiments/${id}/groups/${page.group.id}/predictions`, read.body, key);
      await client.invalidateQueries({ queryKey: classKeys.one(id) });
    });
  };
  const field = (name: 'volumeMl' | 'withinMl', label: string) => (
    <Field
      {...{ name, label, unit: 'mL', number: true, value: typed[name], problem: problemAt(name) }}
      onChange={(value) => setTyped({ ...typed, [name]: value })}
    />
  );
  return (
    <form className="stack" onSubmit={save} noValidate>
      <p className="quiet">{words.predictionWhat}</p>
      <ErrorSummary refusal={refusal} />
      <div className="field-pair">
        {field('volumeMl', foreseeText.volume)}
        {asks.within && field('withinMl', foreseeText.within)}
      </div>
      {asks.sureness && (
        <Choice<Sureness>
          {...{ name: 'sureness', label: foreseeText.sureness, options: foreseeText.options }}
          value={typed.sureness as Sureness | ''}
          problem={problemAt('sureness')}
          onChange={(sureness) => setTyped({ ...typed, sureness })}
        />
      )}
      <div className="row">
        <Button type="submit" disabled={busy}>
          {foreseeText.save}
        </Button>
      </div>
    </form>
  );
}
