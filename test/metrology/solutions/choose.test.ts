import { describe, expect, it } from 'vitest';
import { judgeCandidate, kindsFor, rankCandidates } from '../../../server/metrology/solutions/choose.ts';
import type { Candidate, Wanted } from '../../../server/metrology/solutions/choose.ts';
import { planSeries } from '../../../server/metrology/solutions/series.ts';
import type { SeriesTask } from '../../../server/metrology/solutions/series.ts';
import { twoDeliveries } from '../../../server/metrology/solutions/two-deliveries.ts';
import { room, vessel } from './make.ts';

const spread = (sdMl: number) => ({ sdMl, degreesOfFreedom: null });

/** ISO 648:2008, ISO 1042:1998, ISO 4788:2005 class A or B, in mL; spreads of single fillings invented. */
const PIPETTE_25: Candidate = {
  id: 'P25',
  kind: 'single-volume-pipette',
  basis: 'deliver',
  overdue: false,
  nominalMl: 25,
  use: vessel('P25', 25, { toleranceMl: 0.03, spread: spread(0.005) }),
};
const FLASK_25: Candidate = {
  id: 'F25',
  kind: 'volumetric-flask',
  basis: 'contain',
  overdue: false,
  nominalMl: 25,
  use: vessel('F25', 25, { toleranceMl: 0.04, spread: spread(0.008) }),
};
const CYLINDER_25: Candidate = {
  id: 'C25',
  kind: 'measuring-cylinder',
  basis: 'deliver',
  overdue: false,
  nominalMl: 25,
  use: vessel('C25', 25, { toleranceMl: 0.5, spread: spread(0.08) }),
};
const BEAKER_50: Candidate = {
  id: 'B50',
  kind: 'beaker',
  basis: 'contain',
  overdue: false,
  nominalMl: 50,
  use: vessel('B50', 50, { toleranceMl: 5, classed: false, spread: spread(1) }),
};

const wanted = (more: Partial<Wanted>): Wanted => ({
  job: 'portion',
  volumeMl: 25,
  accuracyPercent: 1,
  standardised: false,
  ...more,
});

describe('one vessel for a job', () => {
  it('delivers 25 mL to 1 % with a class A pipette, not with a cylinder', () => {
    // Uncalibrated: T ≤ A/5; 0.03 mL against 0.05 mL, 0.5 mL against 0.05 mL (UKAS LAB 15).
    expect(judgeCandidate(PIPETTE_25, wanted({}))).toMatchObject({ adequate: true, against: [] });
    expect(judgeCandidate(CYLINDER_25, wanted({}))).toMatchObject({ adequate: false, against: ['tolerance-too-wide'] });
  });

  it('does not deliver with a flask, nor measure with a beaker', () => {
    expect(judgeCandidate(FLASK_25, wanted({})).against).toEqual(['holds-does-not-deliver']);
    expect(judgeCandidate(BEAKER_50, wanted({})).against).toContain('scale-is-no-measure');
    expect(judgeCandidate(FLASK_25, wanted({ job: 'hold' })).against).toEqual(['never-store']);
  });

  it('counts twice the uncertainty of one use where it was calibrated', () => {
    // u = √(0.004² + 0.005²) = 0.0064 mL; 2u = 0.0128 mL against a third of 0.05 mL (0.2 %) and of 0.025 mL (0.1 %).
    const measured = { meanMl: 25.02, combinedUncertaintyMl: 0.004, degreesOfFreedom: null };
    const calibrated = { ...PIPETTE_25, use: { ...PIPETTE_25.use, measured } };
    expect(judgeCandidate(calibrated, wanted({ accuracyPercent: 0.2 })).adequate).toBe(true);
    expect(judgeCandidate(calibrated, wanted({ accuracyPercent: 0.1 })).against).toEqual(['too-uncertain']);
    expect(judgeCandidate({ ...calibrated, overdue: true }, wanted({})).against).toEqual(['overdue']);
  });

  it('lets a cylinder do where the solution is standardised anyway, and takes the plainest ware first', () => {
    const ranked = rankCandidates([PIPETTE_25, CYLINDER_25, FLASK_25], wanted({ standardised: true }));
    expect(ranked.map(({ id, adequate }) => [id, adequate])).toEqual([
      ['C25', true],
      ['P25', true],
      ['F25', false],
    ]);
  });

  it('names every kind for a job, with a reason for those that are not for it', () => {
    const kinds = kindsFor('titrate');
    expect(kinds[0]).toEqual({ kind: 'burette', against: null });
    expect(new Set(kinds.map(({ kind }) => kind)).size).toBe(9);
    expect(kinds.slice(1).every(({ against }) => against !== null)).toBe(true);
  });
});

describe('two deliveries for one volume', () => {
  it('add the error of the same pipette, and only the root of squares of two', () => {
    // ISO 648:2008 class A, 10 mL: 0.02 mL as a triangle, u = 0.00816 mL: twice 0.01633 mL, √2 times 0.01155 mL.
    const ten = (tag: string) => vessel(tag, 10, { toleranceMl: 0.02 });
    const ways = twoDeliveries([ten('P1'), ten('P2')], 20);
    expect(ways).toHaveLength(3);
    expect(ways[0]?.uncertaintyMl).toBeCloseTo(0.01155, 5);
    expect(ways[2]?.uncertaintyMl).toBeCloseTo(0.01633, 5);
    expect(twoDeliveries([ten('P1')], 25)).toEqual([]);
  });
});

describe('a series of dilutions', () => {
  const pipettes = [
    vessel('P1', 1, { toleranceMl: 0.008 }),
    vessel('P5', 5, { toleranceMl: 0.015 }),
    vessel('P10', 10, { toleranceMl: 0.02 }),
  ];
  const flasks = [vessel('F50', 50, { toleranceMl: 0.06 }), vessel('F100', 100, { toleranceMl: 0.1 })];
  const task = (more: Partial<SeriesTask>): SeriesTask => ({
    pipettes,
    flasks,
    stock: {
      known: 'concentration',
      key: 's',
      value: 1000,
      unit: 'mg/L',
      standardUncertainty: 0,
      degreesOfFreedom: null,
    },
    stockValue: 1000,
    targets: [100, 10, 1],
    aim: 'fewest-transfers',
    temperature: room(20, 0),
    expansion: { by: 'water' },
    quotedC: 20,
    ...more,
  });
  const tags = (steps: { deliveries: readonly { tag: string }[]; madeUpIn: { tag: string } }[]) =>
    steps.map(({ deliveries, madeUpIn }) => `${deliveries.map(({ tag }) => tag).join('+')}>${madeUpIn.tag}`);

  it('takes one transfer for each where a solution made before serves as source', () => {
    const planned = planSeries(task({}));
    expect(planned.map(({ transfers }) => transfers)).toEqual([1, 1, 1]);
    expect(planned.map(({ value }) => value)).toEqual([100, 10, 1].map((value) => expect.closeTo(value, 9) as number));
    expect(planned[2]?.from).not.toBeNull();
  });

  it('takes the least uncertain way when asked: two steps by different ware rather than one by 1 mL', () => {
    // Triangles of ISO 648:2008 and ISO 1042:1998, class A: 1 in 100 mL 0.33 %; 10 in 100 mL twice, by the same ware,
    // 2·0.091 % = 0.18 %; 10 in 100 mL, then 5 in 50 mL, √(0.091² + 0.132²) % = 0.16 %.
    const [, second] = planSeries(task({ aim: 'least-uncertainty' }));
    expect(tags(second?.steps ?? [])).toEqual(['P10>F100', 'P5>F50']);
    expect((100 * (second?.combined ?? 0)) / 10).toBeCloseTo(0.16, 2);
  });

  it('goes by more steps where no vessel does it in one, and says where none does', () => {
    const [small, none] = planSeries(task({ targets: [1, 333], pipettes: [vessel('P10', 10, { toleranceMl: 0.02 })] }));
    expect(small?.steps).toHaveLength(3);
    expect(small?.value).toBeCloseTo(1, 9);
    expect(none).toMatchObject({ steps: [], value: null, from: null });
  });

  it('is refused for a target that is no dilution', () => {
    expect(() => planSeries(task({ targets: [1000] }))).toThrow(RangeError);
  });
});
