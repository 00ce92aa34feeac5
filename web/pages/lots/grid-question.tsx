import { useState } from 'react';
import { gridText } from '../../messages/en-lots.ts';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import type { OutboxEntry } from '../../outbox.ts';
import type { Asked } from './grid-completing.ts';
import type { GridField } from './grid-order.ts';
import { TakeOut } from '../bench/take-out.tsx';
import { cellId, type GridActs, noteId, type Place } from './use-grid.ts';

const words = gridText;

const fieldOf = (field: string): GridField => (field === 'emptyG' || field === 'waterTemperatureC' ? field : 'filledG');

interface GridQuestionProps {
  place: Place;
  tag: string;
  asked: Asked;
  entry: OutboxEntry;
  acts: GridActs;
}

/** Below the row: what cannot be kept, or what is asked about it. Enter in the answer keeps it and goes on. */
export function GridQuestion({ place, tag, asked, entry, acts }: GridQuestionProps) {
  const [note, setNote] = useState('');
  const [problem, setProblem] = useState<string | undefined>();
  const problems = Object.entries(asked.problems);
  const back = () => acts.goTo(place);
  const keep = () => {
    if (note.trim() === '') return setProblem(words.noteMissing);
    acts.answer(place, asked.questions, note.trim());
  };
  return (
    <div className="question" role="alert" aria-label={`${tag}: ${words.question}`}>
      {asked.said !== undefined && (
        <p>
          {words.trial(place.slot + 1)}: {asked.said}
        </p>
      )}
      {problems.map(([field, detail]) => (
        <p key={field} id={`${cellId({ ...place, field: fieldOf(field) })}-said`} className="field-problem">
          {words.trial(place.slot + 1)}: {detail}
        </p>
      ))}
      {asked.questions.map(({ confirm = '', detail }) => (
        <p key={confirm}>
          {words.trial(place.slot + 1)}: {detail}
        </p>
      ))}
      {asked.questions.length > 0 && (
        <div className="row grid-answer">
          <Field
            name={noteId(entry.id)}
            label={words.really}
            value={note}
            problem={problem}
            onChange={setNote}
            onKeyDown={(event) => {
              if (event.key === 'Escape') back();
              if (event.key !== 'Enter' || event.nativeEvent.isComposing) return;
              event.preventDefault();
              keep();
            }}
          />
          <Button look="primary" bench onClick={keep}>
            {words.keep}
          </Button>
          <Button look="quiet" bench onClick={back}>
            {words.back}
          </Button>
        </div>
      )}
      {entry.state === 'failed' && (
        <div className="row">
          <TakeOut entry={entry} />
        </div>
      )}
    </div>
  );
}
