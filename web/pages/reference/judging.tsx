import { useMemo, useState } from 'react';
import { DECISION_RULES, type DecisionRule } from '../../../server/metrology/record.ts';
import { summarise } from '../../../server/metrology/statistics.ts';
import { judge } from '../../../server/metrology/verdict.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { text } from '../../messages/en.ts';
import { Choice, Field, TextArea } from '../../parts/field.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { fixed, signed } from '../../parts/rounding.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import { VerdictMark } from '../../parts/verdict.tsx';
import { CalculatedResults } from './calculator.tsx';

const words = referenceText;

/** A number that must not lie below `low`; its problem as a sentence otherwise. */
function readAbove(typed: string, unit: string, low: number | null): { value: number | null; problem?: string } {
  const found = readNumber(typed, unit);
  if (!found.ok) return { value: null, problem: found.problem };
  const value = Number(found.value);
  if (low !== null && value < low) return { value: null, problem: words.belowZero };
  return { value };
}

const RULES = DECISION_RULES.map((rule) => ({ value: rule, label: text.words.decisionRules[rule] }));
/** The strip needs a volume to stand around. */
const NOMINAL_ML = 100;

/** The rule of decision to try: bias, tolerance and uncertainty in, verdict and strip out. */
export function VerdictCalculator() {
  const [typed, setTyped] = useState({ bias: '-0.059', tolerance: '0.100', uncertainty: '0.007' });
  const [rule, setRule] = useState<DecisionRule>('guarded');
  const bias = readAbove(typed.bias, 'mL', null);
  const tolerance = readAbove(typed.tolerance, 'mL', 0);
  const uncertainty = readAbove(typed.uncertainty, 'mL', 0);
  const field = (name: keyof typeof typed, problem: string | undefined) => ({
    name: `verdict-${name}`,
    label: words.quantities[name],
    unit: 'mL',
    number: true,
    value: typed[name],
    problem,
    onChange: (value: string) => setTyped((before) => ({ ...before, [name]: value })),
  });
  const known = bias.value !== null && tolerance.value !== null && uncertainty.value !== null;
  return (
    <div className="calculator">
      <h3>{words.formulas.tryIt}</h3>
      <div className="calculator-fields">
        <Field {...field('bias', bias.problem)} signed />
        <Field {...field('tolerance', tolerance.problem)} />
        <Field {...field('uncertainty', uncertainty.problem)} />
      </div>
      <Choice
        name="verdict-rule"
        label={words.quantities.rule}
        value={rule}
        options={RULES}
        layout="list"
        onChange={setRule}
      />
      {known && (
        <Judged biasMl={bias.value!} toleranceMl={tolerance.value!} uncertaintyMl={uncertainty.value!} rule={rule} />
      )}
    </div>
  );
}

interface JudgedProps {
  biasMl: number;
  toleranceMl: number;
  uncertaintyMl: number;
  rule: DecisionRule;
}

function Judged({ biasMl, toleranceMl, uncertaintyMl, rule }: JudgedProps) {
  const verdict = judge({ biasMl, toleranceMl, expandedUncertaintyMl: uncertaintyMl, rule, undecided: false });
  const guardedMl = rule === 'guarded' && uncertaintyMl < toleranceMl ? toleranceMl - uncertaintyMl : null;
  const data = useMemo(
    () => ({
      nominalMl: NOMINAL_ML,
      toleranceMl,
      guardedMl,
      volumesMl: [],
      meanMl: NOMINAL_ML + biasMl,
      expandedUncertaintyMl: uncertaintyMl,
    }),
    [biasMl, toleranceMl, uncertaintyMl, guardedMl],
  );
  return (
    <div className="stack tight">
      <ToleranceStrip data={data} height={96} verdict={verdict} />
      <p role="status">
        <VerdictMark verdict={verdict} />
      </p>
    </div>
  );
}

/** Volumes typed one a line become mean, bias and spread. */
export function SpreadCalculator() {
  const [volumes, setVolumes] = useState('99.9415\n99.9389\n99.9447\n99.9402');
  const [point, setPoint] = useState('100');
  const reads = volumes
    .trim()
    .split(/[\s;]+/)
    .map((typed) => readNumber(typed, 'mL'));
  const refused = reads.find((one) => !one.ok);
  const pointRead = readAbove(point, 'mL', 0);
  const values = reads.flatMap((one) => (one.ok ? [Number(one.value)] : []));
  const isReady = !refused && pointRead.value !== null;
  return (
    <div className="calculator">
      <h3>{words.formulas.tryIt}</h3>
      <div className="calculator-fields">
        <TextArea
          name="mean-volumes"
          label={words.quantities.volumes}
          help={words.volumesHelp}
          rows={5}
          value={volumes}
          problem={refused?.problem}
          onChange={setVolumes}
        />
        <Field
          name="mean-point"
          label={words.quantities.point}
          unit="mL"
          number
          value={point}
          problem={pointRead.problem}
          onChange={setPoint}
        />
      </div>
      <CalculatedResults results={isReady ? spreadResults(values, pointRead.value ?? NaN) : []} />
    </div>
  );
}

function spreadResults(values: readonly number[], pointMl: number) {
  const { n, mean, sd } = summarise(values);
  return [
    { label: words.results.mean, value: fixed(mean, 4), unit: 'mL' },
    { label: words.results.bias, value: signed(mean - pointMl, 4), unit: 'mL' },
    sd === null
      ? { label: words.results.spread, value: words.results.spreadNeedsTwo, unit: '' }
      : { label: words.results.spread, value: fixed(sd, 4), unit: 'mL' },
    { label: words.results.count, value: String(n), unit: '' },
  ];
}
