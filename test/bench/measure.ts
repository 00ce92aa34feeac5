/** One measured figure. `met` says whether it stands on the right side of its target. */
export interface Measure {
  name: string;
  value: number;
  unit: string;
  target: number;
  met: boolean;
}

export const atLeast = (name: string, value: number, unit: string, target: number): Measure => ({
  name,
  value,
  unit,
  target,
  met: value >= target,
});

export const atMost = (name: string, value: number, unit: string, target: number): Measure => ({
  name,
  value,
  unit,
  target,
  met: value <= target,
});

/** @throws RangeError for no values */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((first, second) => first - second);
  const middle = sorted.length >> 1;
  const upper = sorted[middle];
  if (upper === undefined) throw new RangeError('the median of nothing');
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? upper) + upper) / 2;
}

/** Seconds that some work took. */
export async function timed(work: () => void | Promise<void>): Promise<number> {
  const started = process.hrtime.bigint();
  await work();
  return Number(process.hrtime.bigint() - started) / 1e9;
}

/**
 * Median over the rounds of (first ÷ second), both measured in every round and in changing order, so that whatever else
 * the machine does falls on both.
 */
export async function interleavedRatio(
  rounds: number,
  first: () => Promise<number>,
  second: () => Promise<number>,
): Promise<{ ratio: number; first: number; second: number }> {
  const ours: number[] = [];
  const theirs: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    if (round % 2 === 0) ours.push(await first());
    theirs.push(await second());
    if (round % 2 === 1) ours.push(await first());
  }
  const ratios = ours.map((value, round) => value / (theirs[round] ?? NaN));
  return { ratio: median(ratios), first: median(ours), second: median(theirs) };
}

/** A figure beside a measure, for a person; on stderr, since stdout may be read by a program. */
export const remark = (text: string): void => {
  process.stderr.write(`  ${text}\n`);
};

/**
 * The value at or above which 1 − p of them lie.
 * @throws RangeError for no values
 */
export function quantile(values: readonly number[], p: number): number {
  const sorted = values.toSorted((first, second) => first - second);
  const value = sorted[Math.min(sorted.length - 1, Math.ceil(p * sorted.length) - 1)];
  if (value === undefined) throw new RangeError('the quantile of nothing');
  return value;
}
