/** Take n pieces of a lot of N at random; accept the lot when at most c of them do not conform. */
export interface AcceptancePlan {
  lotSize: number;
  sampleSize: number;
  acceptAtMost: number;
}

function check({ lotSize, sampleSize, acceptAtMost }: AcceptancePlan, nonconforming: number): void {
  const all = [lotSize, sampleSize, acceptAtMost, nonconforming];
  if (!all.every((value) => Number.isSafeInteger(value) && value >= 0))
    throw new RangeError('lot, sample, acceptance number and nonconforming pieces are whole numbers of 0 or more');
  if (sampleSize > lotSize || nonconforming > lotSize)
    throw new RangeError('neither sample nor nonconforming pieces are more than the lot');
}

/** ln of the number of ways to take k of n, by the shorter product. */
function lnWays(n: number, k: number): number {
  const short = Math.min(k, n - k);
  let sum = 0;
  for (let i = 1; i <= short; i += 1) sum += Math.log((n - short + i) / i);
  return sum;
}

/**
 * Probability that a lot with D nonconforming pieces is accepted: hypergeometric, summed over 0 … c found in the sample.
 * @param plan lot of N, sample of n ≤ N, acceptance number c
 * @param nonconforming D, 0 to N
 * @returns 0 to 1
 * @throws RangeError for numbers that are not whole, below 0, or above the lot
 * @source montgomery-runger-2003, 3-8, hypergeometric distribution
 */
export function acceptanceProbability(plan: AcceptancePlan, nonconforming: number): number {
  check(plan, nonconforming);
  const { lotSize, sampleSize, acceptAtMost } = plan;
  const conforming = lotSize - nonconforming;
  const fewest = Math.max(0, sampleSize - conforming);
  const most = Math.min(sampleSize, nonconforming);
  if (acceptAtMost >= most) return 1;
  if (acceptAtMost < fewest) return 0;
  let ln = lnWays(nonconforming, fewest) + lnWays(conforming, sampleSize - fewest) - lnWays(lotSize, sampleSize);
  let sum = Math.exp(ln);
  for (let found = fewest; found < acceptAtMost; found += 1) {
    const ratio =
      ((nonconforming - found) * (sampleSize - found)) / ((found + 1) * (conforming - sampleSize + found + 1));
    ln += Math.log(ratio);
    sum += Math.exp(ln);
  }
  return Math.min(1, sum);
}

export interface PlanRisks {
  /** Probability that a lot as good as promised is refused. */
  producersRisk: number;
  /** Probability that a lot as bad as the limit is accepted. */
  consumersRisk: number;
}

/**
 * Both risks of a plan for one lot by itself: producer's at the number still called good, consumer's at the limit.
 * @param good nonconforming pieces in a lot that ought to be accepted
 * @param limiting nonconforming pieces in a lot that ought to be refused
 * @source montgomery-runger-2003, 3-8, hypergeometric distribution; risks at two points of the operating characteristic
 */
export function planRisks(plan: AcceptancePlan, good: number, limiting: number): PlanRisks {
  return {
    producersRisk: 1 - acceptanceProbability(plan, good),
    consumersRisk: acceptanceProbability(plan, limiting),
  };
}

/**
 * Smallest sample that accepts a lot at the limit with at most the given risk, for one lot by itself; it belongs to no
 * scheme of switching between plans. The whole lot where no smaller sample does.
 * @param limiting nonconforming pieces in a lot that ought to be refused, above `acceptAtMost`
 * @param risk consumer's risk, above 0 and below 1
 * @throws RangeError where no sample can tell: the limit not above the acceptance number, or a risk out of range
 * @source montgomery-runger-2003, 3-8, hypergeometric distribution, searched from the smallest sample on
 */
export function smallestPlan(lotSize: number, limiting: number, risk: number, acceptAtMost = 0): AcceptancePlan {
  if (!(risk > 0 && risk < 1)) throw new RangeError('a risk lies between 0 and 1');
  if (limiting <= acceptAtMost) throw new RangeError('the limit lies above the acceptance number');
  let [low, high] = [acceptAtMost + 1, lotSize];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (acceptanceProbability({ lotSize, sampleSize: middle, acceptAtMost }, limiting) <= risk) high = middle;
    else low = middle + 1;
  }
  return { lotSize, sampleSize: low, acceptAtMost };
}
