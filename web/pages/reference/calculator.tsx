import { useMemo, useState } from 'react';
import { OutsideValidity } from '../../../server/metrology/outside-validity.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { Field } from '../../parts/field.tsx';
import { Figure } from '../../parts/quantity.tsx';
import { readNumber } from '../../parts/read-number.ts';
import type { CalculatedResult, Calculation, Numbers, Typed } from './calculations.ts';
import { CurvePlot } from './curve-plot.tsx';
import type { FormulaPlot } from './plots-of-formulas.ts';

interface CalculatorProps {
  /** Keeps the fields of several calculators on one page apart. */
  id: string;
  calculation: Calculation;
  plotOf?: (values: Numbers) => FormulaPlot;
}

interface Outcome {
  results: CalculatedResult[];
  plot: FormulaPlot | null;
  problems: Record<string, string>;
}

/** The computation names its quantities in words; here they are fields. */
const FIELD_OF: Record<string, string> = {
  'Water temperature': 'water',
  'Air temperature': 'air',
  'Air pressure': 'pressure',
  'Relative humidity': 'humidity',
};

function refusalOf(input: Calculation['inputs'][number], value: number): string | null {
  if (input.positive && value <= 0) return referenceText.zeroOrBelow;
  if (input.atLeastZero && value < 0) return referenceText.belowZero;
  if (input.whole && !Number.isInteger(value)) return referenceText.notWhole;
  if (input.within && (value < input.within[0] || value > input.within[1]))
    return referenceText.notWithin(...input.within);
  return null;
}

/** Reads every field; what cannot be read is a problem of that field and nothing is computed. */
function read(calculation: Calculation, typed: Typed): { values: Numbers; texts: Typed; problems: Typed } {
  const values: Record<string, number> = {};
  const texts: Record<string, string> = {};
  const problems: Record<string, string> = {};
  for (const input of calculation.inputs) {
    const found = readNumber(typed[input.name] ?? '', input.unit.startsWith('10') ? '' : input.unit);
    if (!found.ok) {
      problems[input.name] = found.problem;
      continue;
    }
    const value = Number(found.value);
    const refused = refusalOf(input, value);
    if (refused) problems[input.name] = refused;
    values[input.name] = value;
    texts[input.name] = found.value;
  }
  return { values, texts, problems };
}

function outcomeOf({ calculation, plotOf }: Omit<CalculatorProps, 'id'>, typed: Typed): Outcome {
  const { values, texts, problems } = read(calculation, typed);
  if (Object.keys(problems).length > 0) return { results: [], plot: null, problems };
  try {
    return { results: calculation.compute(values, texts), plot: plotOf?.(values) ?? null, problems };
  } catch (error) {
    if (!(error instanceof OutsideValidity)) throw error;
    const field = FIELD_OF[error.quantity] ?? calculation.inputs[0]?.name ?? '';
    return { results: [], plot: null, problems: { [field]: error.message } };
  }
}

/** A formula with numbers put in: the result moves while one types. Nothing of it is kept. */
export function Calculator({ id, calculation, plotOf }: CalculatorProps) {
  const [typed, setTyped] = useState<Typed>(() =>
    Object.fromEntries(calculation.inputs.map((input) => [input.name, input.start])),
  );
  const { results, plot, problems } = useMemo(
    () => outcomeOf({ calculation, ...(plotOf ? { plotOf } : {}) }, typed),
    [calculation, plotOf, typed],
  );
  return (
    <div className="calculator">
      <h3>{referenceText.formulas.tryIt}</h3>
      <div className="calculator-fields">
        {calculation.inputs.map((input) => (
          <Field
            key={input.name}
            name={`${id}-${input.name}`}
            label={referenceText.quantities[input.name]}
            {...(input.unit ? { unit: input.unit } : {})}
            number
            signed={input.signed ?? false}
            value={typed[input.name] ?? ''}
            problem={problems[input.name]}
            onChange={(value) => setTyped((before) => ({ ...before, [input.name]: value }))}
          />
        ))}
      </div>
      <CalculatedResults results={results} />
      {plot && <CurvePlot {...plot} />}
    </div>
  );
}

/** Spoken when it changes, so that the ear hears what the eye sees move. */
export function CalculatedResults({ results }: { results: readonly CalculatedResult[] }) {
  return (
    <div className="calculated" role="status">
      {results.length > 0 && (
        <dl className="figures">
          {results.map((result) => (
            <Figure key={result.label} {...result} />
          ))}
        </dl>
      )}
    </div>
  );
}
