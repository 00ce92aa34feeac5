import { type KeyboardEvent, useRef } from 'react';
import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { standardisationText as words } from '../../messages/en-solutions.ts';
import { Button } from '../../parts/button.tsx';
import { decimalsOf, fixed, significant } from '../../parts/rounding.ts';
import { readNumber } from '../../parts/read-number.ts';
import { IconButton } from './dilution-steps.tsx';
import { Opens } from './explained.tsx';
import { NO_TITRATION, type TitrationDraft } from './standardisation-draft.ts';

interface TitrationGridProps {
  rows: readonly TitrationDraft[];
  /** Which of the rows hold a titration, in the order of the body. */
  used: readonly number[];
  /** Those of them that the result was worked out from. */
  counted: readonly number[];
  isWeighed: boolean;
  result: SolutionResult | undefined;
  problemAt: (field: string) => string | undefined;
  onChange: (rows: TitrationDraft[]) => void;
  /** Leaves the rows without the one of this number. */
  onRemove: (rows: TitrationDraft[], number: number) => void;
}

/** Readings in the order they are made; Enter goes on, at the end into a new row. */
export function TitrationGrid({
  rows,
  used,
  counted,
  isWeighed,
  result,
  problemAt,
  onChange,
  onRemove,
}: TitrationGridProps) {
  const box = useRef<HTMLDivElement>(null);
  const fields = (isWeighed ? ['massG'] : []).concat(['buretteFromMl', 'buretteToMl']) as (keyof TitrationDraft)[];
  const change = (index: number, changes: Partial<TitrationDraft>) =>
    onChange(rows.map((row, at) => (at === index ? { ...row, ...changes } : row)));
  const cells = () => [...(box.current?.querySelectorAll<HTMLInputElement>('tbody input') ?? [])];
  const addRow = () => {
    onChange([...rows, NO_TITRATION]);
    // The new row is there after the next drawing.
    requestAnimationFrame(() => cells().at(-fields.length)?.focus());
  };
  const press = (event: KeyboardEvent) => goOn(event, { cells, columns: fields.length, addRow });
  const missing = problemAt('titrations');
  return (
    <div className="stack tight">
      <p className="field-help">{words.keys}</p>
      <div ref={box} className="table-box" role="region" aria-label={words.caption} tabIndex={0}>
        <table className="table titrations" onKeyDown={press}>
          <caption className="unseen">{words.caption}</caption>
          <Head isWeighed={isWeighed} unit={result?.unit ?? 'mol/L'} />
          <tbody>
            {rows.map((row, index) => (
              <Row
                key={index}
                {...{
                  row,
                  index,
                  fields,
                  place: used.indexOf(index),
                  order: counted.indexOf(index),
                  result,
                  problemAt,
                }}
                onChange={(changes) => change(index, changes)}
                onRemove={() =>
                  onRemove(
                    rows.filter((_, at) => at !== index),
                    index + 1,
                  )
                }
              />
            ))}
          </tbody>
        </table>
      </div>
      {missing && (
        <p className="field-problem" id="titrations" tabIndex={-1}>
          {missing}
        </p>
      )}
      <div>
        <Button onClick={addRow}>{words.add}</Button>
      </div>
    </div>
  );
}

interface Cells {
  cells: () => HTMLInputElement[];
  columns: number;
  addRow: () => void;
}

/** Enter and the arrows go from cell to cell; the buttons of the rows keep their keys. */
function goOn(event: KeyboardEvent, { cells, columns, addRow }: Cells): void {
  const step = { Enter: 1, ArrowDown: columns, ArrowUp: -columns }[event.key];
  if (step === undefined || !(event.target instanceof HTMLInputElement)) return;
  event.preventDefault();
  const all = cells();
  const to = all.indexOf(event.target) + step;
  if (to >= all.length) {
    if (event.key === 'Enter') addRow();
    return;
  }
  all[to]?.focus();
  all[to]?.select();
}

function Head({ isWeighed, unit }: { isWeighed: boolean; unit: string }) {
  return (
    <thead>
      <tr>
        <th scope="col">{words.number}</th>
        {isWeighed && <th scope="col">{words.mass}</th>}
        <th scope="col">{words.buretteFrom}</th>
        <th scope="col">{words.buretteTo}</th>
        <th scope="col" className="number">
          {words.used}
        </th>
        <th scope="col" className="number">
          {words.single(unit)}
        </th>
        <td />
      </tr>
    </thead>
  );
}

interface RowProps {
  row: TitrationDraft;
  index: number;
  /** Place of the titration in the body; −1 while the row is empty. */
  place: number;
  /** Place among those counted; −1 where it is not. */
  order: number;
  fields: readonly (keyof TitrationDraft)[];
  result: SolutionResult | undefined;
  problemAt: (field: string) => string | undefined;
  onChange: (changes: Partial<TitrationDraft>) => void;
  onRemove: () => void;
}

function Row({ row, index, place, order, fields, result, problemAt, onChange, onRemove }: RowProps) {
  const single = order < 0 ? undefined : result?.singles?.[order];
  const at = place < 0 ? `titration-${index}` : `titrations/${place}`;
  const problems = fields.flatMap((field) => problemAt(`${at}/${field}`) ?? []).concat(problemAt(at) ?? []);
  return (
    <>
      <tr>
        <th scope="row">{index + 1}</th>
        {fields.map((field) => (
          <td key={field}>
            <input
              type="text"
              inputMode="decimal"
              autoComplete="off"
              id={`${at}/${field}`}
              aria-label={words.cell[field](index + 1)}
              aria-invalid={problemAt(`${at}/${field}`) ? true : undefined}
              aria-describedby={problems.length > 0 ? `${at}-problem` : undefined}
              className="input input-number"
              value={row[field]}
              onChange={(event) => onChange({ [field]: event.target.value })}
            />
          </td>
        ))}
        <td className="number">{usedMl(row)}</td>
        <td className="number">
          {single !== undefined && result && (
            <Opens name={`single-${order + 1}`}>{significant(single, result.significantDigits + 1)}</Opens>
          )}
        </td>
        <td>
          <IconButton label={words.remove(index + 1)} path="M4 4l8 8M12 4l-8 8" onPress={onRemove} />
        </td>
      </tr>
      {problems.length > 0 && (
        <tr>
          <td colSpan={fields.length + 4}>
            <p className="field-problem" id={`${at}-problem`}>
              {problems.join(' ')}
            </p>
          </td>
        </tr>
      )}
    </>
  );
}

/** What the burette gave by its scale, with the digits of the readings. */
function usedMl({ buretteFromMl, buretteToMl }: TitrationDraft): string {
  const from = readNumber(buretteFromMl, 'mL');
  const to = readNumber(buretteToMl, 'mL');
  if (!from.ok || !to.ok) return '';
  const decimals = Math.max(decimalsOf(from.value), decimalsOf(to.value));
  return fixed(Number(to.value) - Number(from.value), decimals);
}
