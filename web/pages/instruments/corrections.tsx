import { type ClipboardEvent, useRef, useState } from 'react';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { Button } from '../../parts/button.tsx';
import { changeSign } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { text } from '../../messages/en.ts';
import { EMPTY_ROW, pastedRows, type CorrectionRow } from './draft.ts';

const words = instrumentsText.corrections;

interface CorrectionsFieldProps {
  rows: readonly CorrectionRow[];
  unit: string;
  onChange: (rows: readonly CorrectionRow[]) => void;
  submission: Submission;
}

/** The certificate's table, row by row; two columns from a sheet can be pasted at once. */
export function CorrectionsField({ rows, unit, onChange, submission }: CorrectionsFieldProps) {
  const [said, setSaid] = useState('');
  const box = useRef<HTMLTableElement>(null);
  const shown = rows.length === 0 ? [EMPTY_ROW] : rows;
  const change = (index: number, changes: Partial<CorrectionRow>) =>
    onChange(shown.map((row, at) => (at === index ? { ...row, ...changes } : row)));
  const paste = (index: number, event: ClipboardEvent) => {
    const pasted = pastedRows(event.clipboardData.getData('text/plain'));
    if (pasted === null) return;
    event.preventDefault();
    setSaid(words.pasted(pasted.length));
    onChange([...shown.slice(0, index), ...pasted, ...shown.slice(index + pasted.length)]);
  };
  const add = () => {
    onChange([...shown, EMPTY_ROW]);
    // The new row is there after the next drawing.
    requestAnimationFrame(() => box.current?.querySelector<HTMLInputElement>('tbody tr:last-child input')?.focus());
  };
  return (
    <div className="stack tight">
      <table className="correction-table" ref={box}>
        <thead>
          <tr>
            <th scope="col">
              {words.at} <span className="quiet">{unit}</span>
            </th>
            <th scope="col">
              {words.correction} <span className="quiet">{unit}</span>
            </th>
            <td />
          </tr>
        </thead>
        <tbody>
          {shown.map((row, index) => (
            <Row
              key={index}
              row={row}
              index={index}
              problemAt={submission.problemAt}
              onChange={(changes) => change(index, changes)}
              onPaste={(event) => paste(index, event)}
              onRemove={() => onChange(shown.filter((_, at) => at !== index))}
            />
          ))}
        </tbody>
      </table>
      <div className="row">
        <Button onClick={add}>{words.add}</Button>
        <span className="quiet small" role="status">
          {said}
        </span>
      </div>
    </div>
  );
}

interface RowProps {
  row: CorrectionRow;
  index: number;
  problemAt: Submission['problemAt'];
  onChange: (changes: Partial<CorrectionRow>) => void;
  onPaste: (event: ClipboardEvent) => void;
  onRemove: () => void;
}

function Row({ row, index, problemAt, onChange, onPaste, onRemove }: RowProps) {
  const cell = (field: keyof CorrectionRow) => ({
    name: `corrections/${index}/${field}`,
    value: row[field],
    problem: problemAt(`corrections/${index}/${field}`),
    onChange: (value: string) => onChange({ [field]: value }),
    onPaste,
  });
  return (
    <tr>
      <td>
        <Cell {...cell('at')} label={words.atOf(index + 1)} />
      </td>
      <td>
        <Cell {...cell('correction')} label={words.correctionOf(index + 1)} />
      </td>
      <td>
        <button type="button" className="remove-row" aria-label={words.remove(index + 1)} onClick={onRemove}>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <path d="M3.5 3.5l9 9M12.5 3.5l-9 9" />
          </svg>
        </button>
      </td>
    </tr>
  );
}

interface CellProps {
  name: string;
  label: string;
  value: string;
  problem: string | undefined;
  onChange: (value: string) => void;
  onPaste: (event: ClipboardEvent) => void;
}

/** A field of the table: its label is spoken, not shown; the refusal stands below it. */
function Cell({ name, label, value, problem, onChange, onPaste }: CellProps) {
  return (
    <div className="field">
      <div className="field-line">
        <input
          type="text"
          inputMode="decimal"
          autoComplete="off"
          id={name}
          name={name}
          aria-label={label}
          aria-invalid={problem ? true : undefined}
          aria-describedby={problem ? `${name}-problem` : undefined}
          className="input input-number"
          value={value}
          onChange={(event) => onChange(event.target.value)}
          onPaste={onPaste}
        />
        <button
          type="button"
          className="sign-key"
          aria-label={text.form.changeSign(label)}
          onClick={() => onChange(changeSign(value))}
        >
          ±
        </button>
      </div>
      {problem && (
        <p className="field-problem" id={`${name}-problem`}>
          {problem}
        </p>
      )}
    </div>
  );
}
