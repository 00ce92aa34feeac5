import type { DecisionRule } from './record.ts';
import type { Verdict } from './result.ts';

/** Bias, tolerance and uncertainty all in mL. */
export interface Judgement {
  biasMl: number;
  toleranceMl: number;
  /** Null: no uncertainty worked out, then bias and tolerance are compared alone. */
  expandedUncertaintyMl: number | null;
  rule: DecisionRule;
  /** Too little is known to pass anything, for example one trial alone. */
  undecided: boolean;
}

/** Share of the tolerance within which two numbers count as equal. */
const SLACK = 1e-9;

function judgeGuarded(error: number, tolerance: number, uncertainty: number, slack: number): Verdict {
  if (uncertainty >= tolerance - slack) return 'not-decidable';
  if (error <= tolerance - uncertainty + slack) return 'pass';
  return error <= tolerance + slack ? 'conditional-pass' : 'conditional-fail';
}

function judgeSimple(error: number, tolerance: number, uncertainty: number, slack: number): Verdict {
  if (uncertainty <= tolerance / 3 + slack) return error <= tolerance + slack ? 'pass' : 'fail';
  const decidable = uncertainty < tolerance - slack && error <= tolerance - uncertainty + slack;
  return decidable ? 'pass' : 'not-decidable';
}

/**
 * Verdict of a bias against a tolerance. Beyond doubt comes first: |b| > T + U fails under any rule. Equality is
 * inside. `guarded` takes U off the tolerance; `simple` compares with the tolerance itself while U ≤ T/3.
 * @source ilac-g8-2019, clause 4
 */
export function judge(judgement: Judgement): Verdict {
  const { toleranceMl, expandedUncertaintyMl, rule, undecided } = judgement;
  const error = Math.abs(judgement.biasMl);
  const slack = SLACK * toleranceMl;
  if (expandedUncertaintyMl === null) return error <= toleranceMl + slack ? 'pass' : 'fail';
  if (error > toleranceMl + expandedUncertaintyMl + slack) return 'fail';
  if (undecided) return 'not-decidable';
  const weigh = rule === 'guarded' ? judgeGuarded : judgeSimple;
  return weigh(error, toleranceMl, expandedUncertaintyMl, slack);
}

/** Gravest first. */
const ORDER: readonly Verdict[] = [
  'fail',
  'conditional-fail',
  'not-decidable',
  'conditional-pass',
  'pass',
  'none-stated',
];

/**
 * Verdict of a vessel from those of its points: the gravest; null until every point has one.
 * @source iso-4788-2005, the limit holds at every point
 */
export function vesselVerdict(verdicts: readonly (Verdict | null)[]): Verdict | null {
  if (verdicts.length === 0 || verdicts.includes(null)) return null;
  return ORDER.find((verdict) => verdicts.includes(verdict)) ?? null;
}

/**
 * Whether something has to be decided about a vessel with this verdict: it fails, fails conditionally, or cannot be told.
 * @source ilac-g8-2019, clause 4
 */
export const asksForDecision = (verdict: string | null): boolean =>
  verdict === 'fail' || verdict === 'conditional-fail' || verdict === 'not-decidable';
