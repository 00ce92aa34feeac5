/** From what a class weighed to the rows its figures are worked out from. */
import { describe, expect, it } from 'vitest';
import { figuresOf } from '../../../server/experiments/figures-of.ts';
import { crossedCells, weighedRows, type Weighed, type WeighedRow } from '../../../server/metrology/class/weighed.ts';
import { toleranceRows } from '../../../server/metrology/tolerance-table.ts';
import { readJson } from '../fixture.ts';

interface Reference {
  name: string;
  certified: { dfBetween: number; dfWithin: number; f: string; residualSd: string };
  data?: string[][];
}
const { sets } = readJson('tables/nist-strd-anova.json') as { sets: Reference[] };

const ROW: WeighedRow = {
  key: 'flask',
  label: 'Flask',
  vessels: [],
  kind: 'volumetric-flask',
  nominalVolumeMl: '200',
  basis: 'contain',
  toleranceMl: null,
  toleranceSource: null,
};
const trial = (group: number, volumeMl: number, facts: Partial<Weighed['trials'][number]> = {}) => ({
  ...{
    row: 'flask',
    group,
    number: 1,
    vesselId: null,
    filledG: '261.2034',
    simpleVolumeMl: volumeMl - 1,
    volumeMl,
    excluded: null,
  },
  ...facts,
});

/** Groups that weighed in turn, the last one first, with one trial that was left out. */
const inTurn = (data: readonly (readonly string[])[]): Weighed => ({
  rows: [ROW],
  groups: data.map((_, at) => ({ number: data.length - at })),
  trials: [
    trial(1, 300, { excluded: { cause: 'spill' } }),
    ...(data[0] ?? []).flatMap((_, place) => data.map((group, at) => trial(at + 1, Number(group[place])))),
  ],
});

describe('the trials of a class', () => {
  const reference = sets.find(({ name }) => name === 'SiRstv');
  const weighed = inTurn(reference?.data ?? []);

  // NIST StRD, one-way analysis of variance, SiRstv: certified F and residual standard deviation.
  it('give the certified F and s_r, whatever the order they were weighed in', () => {
    const [row] = figuresOf(weighed, 'corrected');
    const { certified } = reference ?? {};
    expect(row?.oneWay).toMatchObject({ dfBetween: certified?.dfBetween, dfWithin: certified?.dfWithin });
    expect(row?.oneWay?.f).toBeCloseTo(Number(certified?.f), 9);
    expect(row?.repeatabilitySdMl).toBeCloseTo(Number(certified?.residualSd), 11);
    expect(row?.byGroup.map(({ key }) => key)).toEqual(['1', '2', '3', '4', '5']);
  });

  it('spread the same and lie elsewhere when simple volumes are asked for', () => {
    const [corrected] = figuresOf(weighed, 'corrected');
    const [simple] = figuresOf(weighed, 'simple');
    expect((corrected?.biasMl ?? 0) - (simple?.biasMl ?? 0)).toBeCloseTo(1, 9);
    expect(simple?.withinRoomSdMl).toBeCloseTo(corrected?.withinRoomSdMl ?? 0, 9);
  });
});

it('a trial far out is named by the number it was recorded under, whatever was left out before it', () => {
  // Invented volumes. Trials 1 and 3 were left out, so the one far out comes third of those that count.
  const volumes = [250, 200, 250, 200.01, 230, 200.02, 199.99, 200, 200.01];
  const [figures] = figuresOf(
    {
      rows: [ROW],
      groups: [{ number: 4 }],
      trials: volumes.map((volumeMl, at) =>
        trial(4, volumeMl, { number: at + 1, excluded: volumeMl === 250 ? { cause: 'spill' } : null }),
      ),
    },
    'corrected',
  );
  expect(figures?.suspect).toMatchObject({ group: '4', number: 5, index: 2 });
  expect(figures?.findings.find(({ code }) => code === 'suspected-outlier')?.detail).toMatch(/^Trial 5 of group 4 /);
});

describe('the cells of a crossed design', () => {
  const vessels = [
    { id: 'a', tag: 'F-1' },
    { id: 'b', tag: 'F-2' },
  ];
  const cellsOf = (rows: WeighedRow[], trials: Weighed['trials'], kind: 'corrected' | 'simple' = 'corrected') =>
    crossedCells({ rows, groups: [{ number: 1 }, { number: 2 }], trials }, kind).map(
      ({ hand, vessel, trialsMl }) => [hand, vessel, ...trialsMl] as const,
    );

  it('are rows and groups; where a row names several vessels, each of these is one', () => {
    const trials = [
      ...[trial(1, 201, { vesselId: 'a' }), trial(1, 202, { vesselId: 'b' }), trial(2, 203, { vesselId: 'a' })],
      ...[trial(1, 204, { vesselId: 'a' }), trial(2, 250, { vesselId: 'b', excluded: { cause: 'spill' } })],
    ];
    expect(cellsOf([{ ...ROW, vessels }], trials)).toEqual([
      ['Group 1', 'Flask F-1', 201, 204],
      ['Group 1', 'Flask F-2', 202],
      ['Group 2', 'Flask F-1', 203],
    ]);
    expect(cellsOf([ROW], trials, 'simple')).toEqual([
      ['Group 1', 'Flask', 200, 201, 203],
      ['Group 2', 'Flask', 202],
    ]);
  });

  it('keep rows of one name apart', () => {
    const trials = [trial(1, 201), trial(1, 202, { row: 'other' })];
    expect(cellsOf([ROW, { ...ROW, key: 'other' }], trials)).toEqual([
      ['Group 1', 'Flask (flask)', 201],
      ['Group 1', 'Flask (other)', 202],
    ]);
  });
});

describe('the limits of a row', () => {
  const limitsOfRow = (facts: Partial<WeighedRow>) =>
    weighedRows({ rows: [{ ...ROW, ...facts }], groups: [], trials: [] }, 'corrected', toleranceRows)[0]?.limits;

  // ISO 1042:1998, table of limits: 200 mL, class A 0.15 mL, class B 0.30 mL.
  it('are those of the classes of its standard', () => {
    expect(limitsOfRow({})?.map(({ toleranceMl }) => toleranceMl)).toEqual([0.15, 0.3]);
  });

  it('hold the mark beside them, and nothing where nothing is known', () => {
    expect(limitsOfRow({ tolerance: { markedMl: '0.5' } })?.at(-1)).toMatchObject({ name: 'marked', toleranceMl: 0.5 });
    expect(limitsOfRow({ kind: 'other' })).toEqual([]);
  });
});

describe('the last digit of a row', () => {
  const digitOf = (readings: string[]) =>
    weighedRows(
      { rows: [ROW], groups: [{ number: 1 }], trials: readings.map((filledG) => trial(1, 200, { filledG })) },
      'corrected',
      toleranceRows,
    )[0]?.lastDigitMl;

  it('is the one most readings show, so that one reading cut short hides no outlier', () => {
    expect(digitOf(['260.12', '260.11', '261'])).toBe(0.01);
    expect(digitOf(['260.1', '260.11'])).toBe(0.1);
    expect(digitOf([])).toBe(0);
  });
});
