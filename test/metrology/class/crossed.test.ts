import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crossed } from '../../../server/metrology/class/crossed.ts';
import type { Crossed, CrossedCell } from '../../../server/metrology/class/crossed.ts';
import { RandomStream } from '../../../server/metrology/random-stream.ts';
import { halfDigit, readJson } from '../fixture.ts';

const SOURCES = ['hands', 'vessels', 'interaction', 'repeatability'] as const;
type Source = (typeof SOURCES)[number];

interface Reference {
  name: string;
  hands: string[];
  vessels: string[];
  cells: string[][][];
  printed: Record<'ss' | 'ms' | 'components', Record<Source, string>> &
    Record<'f' | 'p', Record<Exclude<Source, 'repeatability'>, string>>;
}

const { sets } = readJson('tables/crossed-designs.json') as { sets: Reference[] };

function cellsOf({ hands, vessels, cells }: Reference): CrossedCell[] {
  return hands.flatMap((hand, row) =>
    vessels.map((vessel, column) => ({ hand, vessel, trialsMl: (cells[row]?.[column] ?? []).map(Number) })),
  );
}

function analysed(cells: readonly CrossedCell[], interaction?: 'kept' | 'pooled'): Crossed {
  const result = crossed(cells, interaction);
  if (result.outcome !== 'crossed') throw new Error(result.detail);
  return result;
}

describe.each(sets)('printed analysis: $name', (set) => {
  const result = analysed(cellsOf(set));

  it.each(SOURCES)('sum of squares, mean square and component of %s', (source) => {
    const { ss, ms, components } = set.printed;
    const own = result.meanSquares[source];
    expect(Math.abs((own?.ssMl2 ?? Number.NaN) - Number(ss[source]))).toBeLessThanOrEqual(halfDigit(ss[source]));
    expect(Math.abs((own?.meanSquareMl2 ?? Number.NaN) - Number(ms[source]))).toBeLessThanOrEqual(
      halfDigit(ms[source]),
    );
    const variance = result.components[source]?.varianceMl2 ?? Number.NaN;
    expect(Math.abs(variance - Number(components[source]))).toBeLessThanOrEqual(halfDigit(components[source]));
    expect(result.components[source]?.negative).toBe(Number(components[source]) < 0);
  });

  it.each(['hands', 'vessels', 'interaction'] as const)('F and p of %s', (source) => {
    const { f, p } = set.printed;
    // the first book works F out from mean squares rounded to two decimals
    expect(Math.abs((result.meanSquares[source]?.f ?? Number.NaN) - Number(f[source]))).toBeLessThan(0.006);
    expect(Math.abs((result.meanSquares[source]?.p ?? Number.NaN) - Number(p[source]))).toBeLessThanOrEqual(
      halfDigit(p[source]),
    );
  });

  it('with the interaction pooled, its printed squares count as repeatability', () => {
    const { ss, ms } = set.printed;
    const [a, b, n] = [set.hands.length, set.vessels.length, set.cells[0]?.[0]?.length ?? 0];
    const df = (a - 1) * (b - 1) + a * b * (n - 1);
    const error = (Number(ss.interaction) + Number(ss.repeatability)) / df;
    const pooled = analysed(cellsOf(set), 'pooled');
    expect(pooled).toMatchObject({ interactionPooled: true, components: { interaction: null } });
    expect(pooled.meanSquares.interaction).toBeNull();
    expect(pooled.meanSquares.repeatability.df).toBe(df);
    expect(pooled.components.repeatability.varianceMl2).toBeCloseTo(error, 3);
    expect(pooled.components.hands.varianceMl2).toBeCloseTo((Number(ms.hands) - error) / (b * n), 3);
    expect(pooled.components.vessels.varianceMl2).toBeCloseTo((Number(ms.vessels) - error) / (a * n), 3);
  });
});

it('has two printed analyses, one with negative components', () => {
  expect(sets.map((set) => set.name)).toEqual(['breaking strength', 'gauge']);
  expect(analysed(cellsOf(sets[1] as Reference)).components.hands).toMatchObject({ negative: true, sdMl: 0 });
});

describe('what is no crossed design', () => {
  const cell = (hand: string, vessel: string, ...trialsMl: number[]): CrossedCell => ({ hand, vessel, trialsMl });
  const square = [cell('A', '1', 1, 2), cell('A', '2', 1, 2), cell('B', '1', 2, 3), cell('B', '2', 3, 4)];

  it('a missing or empty cell is named', () => {
    const missing = { outcome: 'not-crossed', cause: 'cell-missing', hand: 'B', vessel: '2' };
    expect(crossed(square.slice(0, 3))).toMatchObject(missing);
    expect(crossed([...square.slice(0, 3), cell('B', '2')])).toMatchObject(missing);
  });

  it('unequal cells are named', () => {
    const odd = [...square.slice(0, 3), cell('B', '2', 1, 2, 3)];
    expect(crossed(odd)).toMatchObject({ outcome: 'not-crossed', cause: 'unequal-trials', hand: 'B', vessel: '2' });
  });

  it('one trial a cell, one hand, one vessel, nothing', () => {
    const single = square.map((one) => ({ ...one, trialsMl: one.trialsMl.slice(0, 1) }));
    expect(crossed(single)).toMatchObject({ cause: 'one-trial' });
    expect(crossed(square.slice(0, 2))).toMatchObject({ cause: 'too-few-hands' });
    expect(crossed([square[0] as CrossedCell, square[2] as CrossedCell])).toMatchObject({ cause: 'too-few-vessels' });
    expect(crossed([])).toMatchObject({ cause: 'too-few-hands' });
  });

  it('a cell in two parts is one cell', () => {
    const parts = square.flatMap((one) => one.trialsMl.map((value) => ({ ...one, trialsMl: [value] })));
    expect(crossed(parts)).toEqual(crossed(square));
  });

  it('refuses what is no number', () => {
    expect(() => crossed([...square.slice(0, 3), cell('B', '2', 1, Number.NaN)])).toThrow(RangeError);
  });
});

describe('simulated hands and vessels, 200 seeds', () => {
  const [a, b, n] = [6, 5, 3];
  const sd = { hands: 0.04, vessels: 0.06, interaction: 0.03, repeatability: 0.02 };
  const runs = Array.from({ length: 200 }, (_, seed) => {
    const stream = new RandomStream(seed + 1);
    const draw = (count: number, spread: number) => Array.from({ length: count }, () => spread * stream.normal());
    const [hands, vessels] = [draw(a, sd.hands), draw(b, sd.vessels)];
    return analysed(
      hands.flatMap((ofHand, hand) =>
        vessels.map((ofVessel, vessel) => {
          const own = 25 + ofHand + ofVessel + sd.interaction * stream.normal();
          const trialsMl = draw(n, sd.repeatability).map((error) => own + error);
          return { hand: `${hand}`, vessel: `${vessel}`, trialsMl };
        }),
      ),
    );
  });

  // The mean over 200 seeds lies within four of its own standard errors of the truth but once in 16 000.
  it.each(SOURCES)('give the component of %s back', (source) => {
    const found = runs.map((run) => run.components[source]?.varianceMl2 ?? Number.NaN);
    const average = found.reduce((sum, value) => sum + value, 0) / found.length;
    const scatter = found.reduce((sum, value) => sum + (value - average) ** 2, 0) / (found.length - 1);
    expect(Math.abs(average - sd[source] ** 2)).toBeLessThan(4 * Math.sqrt(scatter / found.length));
  });

  it('have a mean that scatters as its uncertainty says', () => {
    const spread = runs.reduce((sum, run) => sum + (run.meanMl - 25) ** 2, 0) / runs.length;
    const stated = runs.reduce((sum, run) => sum + run.meanUncertaintyMl ** 2, 0) / runs.length;
    // a variance of 200 values is known to 10 %; four of these, and what the stated one itself scatters
    expect(Math.abs(spread / stated - 1)).toBeLessThan(0.5);
  });
});

describe('properties', () => {
  const [a, b, n] = [3, 2, 2];
  const numbers = fc.array(fc.integer({ min: -999, max: 999 }), { minLength: a * b * n, maxLength: a * b * n });
  const cellsFrom = (values: readonly number[]): CrossedCell[] =>
    Array.from({ length: a * b }, (_, at) => ({
      hand: `${Math.floor(at / b)}`,
      vessel: `${at % b}`,
      trialsMl: values.slice(at * n, at * n + n),
    }));

  it('the four sums of squares add up to that around the mean', () => {
    fc.assert(
      fc.property(numbers, (values) => {
        const average = values.reduce((sum, value) => sum + value, 0) / values.length;
        const all = values.reduce((sum, value) => sum + (value - average) ** 2, 0);
        const { meanSquares } = analysed(cellsFrom(values));
        const sum = SOURCES.reduce((squares, source) => squares + (meanSquares[source]?.ssMl2 ?? 0), 0);
        expect(Math.abs(sum - all)).toBeLessThanOrEqual(1e-9 * Math.max(1, all));
      }),
    );
  });

  it('exchanging hands and vessels exchanges their components', () => {
    fc.assert(
      fc.property(numbers, (values) => {
        const cells = cellsFrom(values);
        const own = analysed(cells).components;
        const turned = analysed(cells.map(({ hand, vessel, trialsMl }) => ({ hand: vessel, vessel: hand, trialsMl })));
        expect(turned.components.hands.varianceMl2).toBeCloseTo(own.vessels.varianceMl2, 6);
        expect(turned.components.vessels.varianceMl2).toBeCloseTo(own.hands.varianceMl2, 6);
        expect(turned.components.interaction?.varianceMl2).toBeCloseTo(own.interaction?.varianceMl2 ?? 0, 6);
      }),
    );
  });

  it('the order of cells does not matter, and spreads grow with their scale', () => {
    fc.assert(
      fc.property(numbers, (values) => {
        const own = analysed(cellsFrom(values));
        const turned = analysed(cellsFrom(values.map((value) => 2 * value + 7)).reverse());
        expect(turned.anyHandSdMl).toBeCloseTo(2 * own.anyHandSdMl, 6);
        expect(turned.anyHandAnyVesselSdMl).toBeCloseTo(2 * own.anyHandAnyVesselSdMl, 6);
        expect(turned.meanMl).toBeCloseTo(2 * own.meanMl + 7, 9);
      }),
    );
  });
});
