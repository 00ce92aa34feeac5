/** Below this many elements partitioning beats sampling. */
const SMALL = 600;

function swap(values: Float64Array, first: number, second: number): void {
  const kept = values[first] as number;
  values[first] = values[second] as number;
  values[second] = kept;
}

/**
 * Brings the element of the given rank to its place: smaller ones before, larger ones after it, no more order than
 * that. Reorders `values` between `from` and `to` (both inside).
 * @returns the element of that rank
 * @source floyd-rivest-1975, algorithm SELECT
 */
export function selectRank(values: Float64Array, rank: number, from = 0, to = values.length - 1): number {
  let [left, right] = [from, to];
  while (right > left) {
    if (right - left > SMALL) {
      const n = right - left + 1;
      const i = rank - left + 1;
      const z = Math.log(n);
      const s = 0.5 * Math.exp((2 * z) / 3);
      const sd = 0.5 * Math.sqrt((z * s * (n - s)) / n) * (i < n / 2 ? -1 : 1);
      const low = Math.max(left, Math.floor(rank - (i * s) / n + sd));
      const high = Math.min(right, Math.floor(rank + ((n - i) * s) / n + sd));
      selectRank(values, rank, low, high);
    }
    const pivot = values[rank] as number;
    let [i, j] = [left, right];
    swap(values, left, rank);
    if ((values[right] as number) > pivot) swap(values, left, right);
    while (i < j) {
      swap(values, i, j);
      i += 1;
      j -= 1;
      while ((values[i] as number) < pivot) i += 1;
      while ((values[j] as number) > pivot) j -= 1;
    }
    if (values[left] === pivot) {
      swap(values, left, j);
    } else {
      j += 1;
      swap(values, j, right);
    }
    if (j <= rank) left = j + 1;
    if (rank <= j) right = j - 1;
  }
  return values[rank] as number;
}

/**
 * Ends of the probabilistically symmetric interval of drawn values; reorders them.
 * @source jcgm-101-2008, 7.7
 */
export function symmetricInterval(values: Float64Array, probability: number): { low: number; high: number } {
  const m = values.length;
  const q = Math.min(m - 1, Math.round(probability * m));
  const r = Math.floor((m - q) / 2);
  const low = selectRank(values, r);
  const high = selectRank(values, Math.min(m - 1, r + q), r, m - 1);
  return { low, high };
}
