import { type ReactNode, useState } from 'react';
import type { SamplePlan } from '../../server/lots/contract-decision.ts';
import { planRisks, smallestPlan } from '../../server/metrology/over-time/acceptance.ts';
import { acceptanceText } from '../messages/en-over-time.ts';
import { Field } from './field.tsx';
import { fixed, significant } from './rounding.ts';
import './acceptance.css';

const words = acceptanceText;
/** A plan lets a bad delivery pass in at most one of ten. Common practice, no source. */
const CONSUMERS_RISK = 0.1;
const MOST = 100_000;

const NAMES = ['lot', 'sample', 'acceptAtMost', 'good', 'limiting'] as const;
type Name = (typeof NAMES)[number];
type Typed = Record<Name, string>;

function problemsOf(typed: Typed): Partial<Record<Name, string>> {
  const problems: Partial<Record<Name, string>> = {};
  for (const name of NAMES) {
    if (!/^\d+$/.test(typed[name].trim()) || Number(typed[name]) > MOST) problems[name] = words.whole;
    else if (Number(typed[name]) > Number(typed.lot)) problems[name] = words.notMore;
  }
  if (Number(typed.lot) === 0) problems.lot ??= words.atLeastOne;
  if (Number(typed.sample) === 0) problems.sample ??= words.atLeastOne;
  if (Number(typed.limiting) <= Number(typed.good)) problems.limiting ??= words.notBelow;
  return problems;
}

const planOf = ({ sample, acceptAtMost, good, limiting }: Typed): SamplePlan => ({
  sampleSize: Number(sample),
  acceptAtMost: Number(acceptAtMost),
  good: Number(good),
  limiting: Number(limiting),
});

/** Percent with the digits that are meant: 0.3, 12, 99.7. */
const percent = (risk: number): string => {
  const value = 100 * risk;
  return value > 1 && value < 99
    ? fixed(value, 0)
    : value === 0 || value === 100
      ? fixed(value, 0)
      : significant(value, 2);
};

/** A delivery of which some were tested. */
export interface Tested {
  delivered: number;
  tested: number;
  /** Of those. */
  notPassing: number;
}

/** A fifth of the delivery does not pass: too many for work by the volume on the mark. Common practice, no source. */
const LIMITING_SHARE = 0.2;

const proposed = (of: Tested | undefined): Typed => ({
  lot: String(of?.delivered ?? 30),
  sample: String(of?.tested ?? 8),
  acceptAtMost: '0',
  good: String(of?.delivered === 1 ? 0 : 1),
  limiting: String(
    of === undefined ? 6 : Math.min(of.delivered, Math.max(2, Math.round(LIMITING_SHARE * of.delivered))),
  ),
});

interface AcceptanceProps {
  /** Left out: a delivery that is still thought of. */
  of?: Tested;
  /** What can be done with a plan that is possible. */
  decide?: (plan: SamplePlan) => ReactNode;
}

/** Both risks of testing a sample in place of the whole delivery, in words; what the plan says of what was found. */
export function Acceptance({ of, decide }: AcceptanceProps) {
  const [typed, setTyped] = useState<Typed>(() => proposed(of));
  const problems = problemsOf(typed);
  const field = (name: Name) => (
    <Field
      key={name}
      name={`acceptance-${name}`}
      label={words[name]}
      number
      inputMode="numeric"
      value={typed[name]}
      onChange={(value) => setTyped({ ...typed, [name]: value })}
      problem={problems[name]}
    />
  );
  return (
    <div className="stack">
      <p className="quiet measure">{words.what}</p>
      <div className="acceptance-fields">{NAMES.filter((name) => of === undefined || name !== 'lot').map(field)}</div>
      <div role="status" className="stack tight">
        {Object.keys(problems).length === 0 && (
          <>
            {of && <p>{words.found(of.tested, of.notPassing, judgedBy(typed, of))}</p>}
            <Risks typed={typed} />
          </>
        )}
      </div>
      {decide && Object.keys(problems).length === 0 && decide(planOf(typed))}
    </div>
  );
}

/** A sample that is larger than what was tested says nothing yet, unless too many were found already. */
function judgedBy(typed: Typed, { tested, notPassing }: Tested): 'accepts' | 'refuses' | 'waits' {
  if (notPassing > Number(typed.acceptAtMost)) return 'refuses';
  return tested >= Number(typed.sample) ? 'accepts' : 'waits';
}

function Risks({ typed }: { typed: Typed }) {
  const [lotSize, sampleSize, acceptAtMost, good, limiting] = NAMES.map((name) => Number(typed[name])) as [
    number,
    number,
    number,
    number,
    number,
  ];
  const risks = planRisks({ lotSize, sampleSize, acceptAtMost }, good, limiting);
  return (
    <>
      <p>{words.producers(percent(risks.producersRisk), good)}</p>
      <p>{words.consumers(percent(risks.consumersRisk), limiting)}</p>
      <p className="quiet">
        {limiting <= acceptAtMost
          ? words.cannot
          : words.smallest(smallestPlan(lotSize, limiting, CONSUMERS_RISK, acceptAtMost).sampleSize, limiting)}
      </p>
    </>
  );
}
