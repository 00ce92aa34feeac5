import { mean, sampleStandardDeviation } from 'simple-statistics';

export interface Summary {
  n: number;
  mean: number;
  /** Standard deviation of single values (n − 1); null below two values. */
  sd: number | null;
  smallest: number;
  largest: number;
}

/**
 * Mean, standard deviation, smallest and largest of at least one value. The first value is taken off all of them
 * before summing, so that many equal leading digits cost no accuracy.
 * @source jcgm-100-2008, 4.2.1 and 4.2.2
 */
export function summarise(values: readonly number[]): Summary {
  const first = values[0];
  if (first === undefined) throw new RangeError('summarise needs at least one value');
  const shifted: number[] = [];
  let smallest = first;
  let largest = first;
  for (const value of values) {
    shifted.push(value - first);
    if (value < smallest) smallest = value;
    if (value > largest) largest = value;
  }
  return {
    n: values.length,
    mean: first + mean(shifted),
    sd: values.length < 2 ? null : sampleStandardDeviation(shifted),
    smallest,
    largest,
  };
}
