import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { suspectOf, withoutTrial } from '../../../server/metrology/class/suspect.ts';
import { cell, readTable } from '../fixture.ts';

const group = (key: string, ...trialsMl: number[]) => ({ key, trialsMl });

/** n − 1 values around 0 and one far enough to have the wanted G. */
function withG(n: number, g: number): number[] {
  const rest: number[] = Array.from({ length: n - 1 }, (_, index) => (index % 2 === 0 ? 1 : -1));
  if (n % 2 === 0) rest[0] = 0;
  let [low, high] = [0, 1e6];
  for (let step = 0; step < 200; step += 1) {
    const middle = (low + high) / 2;
    const values = [...rest, middle];
    const mean = values.reduce((sum, value) => sum + value, 0) / n;
    const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
    if ((middle - mean) / sd < g) low = middle;
    else high = middle;
  }
  return [...rest, (low + high) / 2];
}

describe('limits of Grubbs (1969), 5 % and 1 % two-sided', () => {
  const rows = readTable('grubbs-critical-values.csv').filter((row) => {
    const n = Number(cell(row, 'n'));
    return n >= 6 && n <= 50;
  });

  it.each(rows)('n = $n', (row) => {
    const n = Number(cell(row, 'n'));
    const [straggler, outlier] = [Number(cell(row, 'two_sided_0.05')), Number(cell(row, 'two_sided_0.01'))];
    // a little more than half a last printed digit on either side
    expect(suspectOf([group('A', ...withG(n, straggler - 0.0001))])).toBeNull();
    expect(suspectOf([group('A', ...withG(n, straggler + 0.0001))])).toMatchObject({
      level: 'straggler',
      index: n - 1,
    });
    expect(suspectOf([group('A', ...withG(n, outlier - 0.0001))])).toMatchObject({ level: 'straggler' });
    expect(suspectOf([group('A', ...withG(n, outlier + 0.0001))])).toMatchObject({ level: 'outlier' });
  });
});

describe('the suspicious trial of a row', () => {
  const quiet = [group('A', 25.01, 25.02, 25.0), group('B', 25.01, 25.02, 25.01)];

  it('is named by group and place', () => {
    const found = suspectOf([...quiet, group('C', 25.0, 26.4)]);
    expect(found).toMatchObject({ group: 'C', index: 1, valueMl: 26.4, level: 'outlier' });
  });

  it('is none in quiet trials, in equal ones, in fewer than six', () => {
    expect(suspectOf(quiet)).toBeNull();
    expect(suspectOf([group('A', 25, 25, 25, 25, 25, 25, 25)])).toBeNull();
    expect(suspectOf([group('A', 25, 25, 25.001), group('B', 25, 30)])).toBeNull();
    expect(suspectOf([])).toBeNull();
  });

  it('is none within three last digits', () => {
    const rounded = [group('A', 25, 25, 25, 25, 25, 25, 25.3)];
    expect(suspectOf(rounded)).not.toBeNull();
    expect(suspectOf(rounded, 0.1)).toBeNull();
  });

  it('is left out alone', () => {
    const all = [group('A', 1, 2), group('B', 1, 2)];
    expect(withoutTrial(all, { group: 'B', index: 0 })).toMatchObject([group('A', 1, 2), group('B', 2)]);
  });
});

it('the order of trials and groups does not matter', () => {
  const value = fc.integer({ min: 0, max: 200 });
  const groups = fc.array(fc.array(value, { maxLength: 4 }), { minLength: 2, maxLength: 6 });
  fc.assert(
    fc.property(groups, (lists) => {
      const own = suspectOf(lists.map((trials, at) => group(`${at}`, ...trials)));
      const turned = suspectOf(lists.map((trials, at) => group(`${at}`, ...[...trials].reverse())).reverse());
      expect(turned?.level).toBe(own?.level);
      expect(turned?.g ?? 0).toBeCloseTo(own?.g ?? 0, 9);
    }),
  );
});
