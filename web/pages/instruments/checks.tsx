/** Checks between certificates: a known value and what the instrument showed. They stay in the record for good. */
import { useState } from 'react';
import type { InstrumentWithHistory } from '../../../server/instruments/contract.ts';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { Section } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { readNumber } from '../../parts/read-number.ts';
import type { Submission } from '../../parts/refusal.tsx';
import { READING_UNITS } from './draft.ts';

const words = instrumentsText.checks;

export function Checks({ instrument }: { instrument: InstrumentWithHistory }) {
  const [adding, setAdding] = useState(false);
  return (
    <Section
      title={words.title}
      aside={
        <ForBench>
          <Button onClick={() => setAdding(true)}>{words.add}</Button>
        </ForBench>
      }
    >
      <p className="quiet measure">{words.what[instrument.kind]}</p>
      {instrument.checks.length > 0 && <CheckTable instrument={instrument} />}
      {adding && <CheckDialog instrument={instrument} onClose={() => setAdding(false)} />}
    </Section>
  );
}

function CheckTable({ instrument }: { instrument: InstrumentWithHistory }) {
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={words.title}>
      <table className="table">
        <thead>
          <tr>
            <th scope="col">{words.day}</th>
            <th scope="col" className="number">
              {words.known}
            </th>
            <th scope="col" className="number">
              {words.reading}
            </th>
            <th scope="col" className="number">
              {words.difference}
            </th>
            <th scope="col">{words.note}</th>
            <th scope="col">{words.by}</th>
          </tr>
        </thead>
        <tbody>
          {instrument.checks.map((check) => (
            <tr key={check.number}>
              <th scope="row">{check.performedOn}</th>
              <td className="number">
                <Quantity value={check.referenceValue} unit={check.unit} />
              </td>
              <td className="number">
                <Quantity value={check.reading} unit={check.unit} />
              </td>
              <td className="number">
                <Quantity value={check.difference.replace('-', '−')} unit={check.unit} />
              </td>
              <td>{check.note ?? ''}</td>
              <td>{check.by}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface CheckDialogProps {
  instrument: InstrumentWithHistory;
  onClose: () => void;
}

function CheckDialog({ instrument, onClose }: CheckDialogProps) {
  const [known, setKnown] = useState('');
  const [reading, setReading] = useState('');
  const [note, setNote] = useState('');
  const unit = READING_UNITS[instrument.kind];
  const body = () => {
    const referenceValue = readNumber(known, unit);
    const shown = readNumber(reading, unit);
    if (referenceValue.ok && shown.ok) {
      const noted = note.trim() === '' ? {} : { note };
      return { body: { referenceValue: referenceValue.value, reading: shown.value, ...noted } };
    }
    return {
      problems: {
        ...(referenceValue.ok ? {} : { referenceValue: referenceValue.problem }),
        ...(shown.ok ? {} : { reading: shown.problem }),
      },
    };
  };
  const number = (
    name: 'referenceValue' | 'reading',
    value: string,
    change: (value: string) => void,
    at: Submission,
  ) => (
    <Field
      name={name}
      label={name === 'reading' ? words.reading : words.known}
      unit={unit}
      signed
      value={value}
      onChange={change}
      problem={at.problemAt(name)}
    />
  );
  return (
    <ActDialog
      title={words.addTitle(instrument.tag)}
      what={words.stays}
      path={`/api/instruments/${instrument.id}/checks`}
      act={words.save}
      needsReason={false}
      body={body}
      onClose={onClose}
    >
      {(submission) => (
        <>
          {number('referenceValue', known, setKnown, submission)}
          {number('reading', reading, setReading, submission)}
          <Field
            name="note"
            label={words.note}
            optional
            value={note}
            onChange={setNote}
            problem={submission.problemAt('note')}
          />
        </>
      )}
    </ActDialog>
  );
}
