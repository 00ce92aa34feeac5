import { describe, expect, it } from 'vitest';
import { capability } from '../../server/metrology/capability.ts';
import { evaluate } from '../../server/metrology/evaluate.ts';
import { oneMore } from '../../server/metrology/one-more.ts';
import { balanceFindings } from '../../server/metrology/piston-balance.ts';
import { judgeRandom, jointVerdict, randomLimitMl } from '../../server/metrology/random-error.ts';
import type { VesselFacts } from '../../server/metrology/record.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { codes, flask, record, trialsOf } from './make.ts';

const pipette = (nominalVolumeMl: string, facts: Partial<VesselFacts> = {}): VesselFacts =>
  flask({
    kind: 'piston-pipette',
    nominalVolumeMl,
    basis: 'deliver',
    material: 'polypropylene',
    tolerance: { standard: 'ISO 8655-2', edition: '2002', class: '-' },
    ...facts,
  });

const rowOf = (nominalMl: number) => {
  const row = toleranceRows.find((one) => one.standard === 'ISO 8655-2' && one.nominalMl === nominalMl);
  if (row === undefined) throw new Error(`no row for ${nominalMl} mL`);
  return row;
};

describe('limits of piston pipettes, ISO 8655-2:2002', () => {
  // Systematic and random limit in µL. 1000 µL as in a journal article of 2019 on micropipettes, the others from memory.
  it.each([
    [1, 0.05, 0.05],
    [10, 0.12, 0.08],
    [20, 0.2, 0.1],
    [100, 0.8, 0.3],
    [200, 1.6, 0.6],
    [1000, 8, 3],
    [5000, 40, 15],
    [10_000, 60, 30],
  ])('%d µL: ±%d µL and %d µL', (nominalUl, systematicUl, randomUl) => {
    const row = rowOf(nominalUl / 1000);
    expect((row.toleranceMl ?? 0) * 1000).toBeCloseTo(systematicUl, 9);
    expect((randomLimitMl(pipette(String(nominalUl / 1000)), row) ?? 0) * 1000).toBeCloseTo(randomUl, 9);
  });

  it('hold at every setting in mL of the nominal volume, and for no other ware', () => {
    expect(randomLimitMl(pipette('1'), { ...rowOf(1), randomMl: undefined as never })).toBeCloseTo(0.003, 12);
    expect(randomLimitMl(flask(), rowOf(1))).toBeNull();
    expect(randomLimitMl(pipette('1'), null)).toBeNull();
  });
});

describe('the random error', () => {
  it('is within up to the limit itself, and undecided for one delivery', () => {
    expect([0.0029, 0.003, 0.0031, null].map((sdMl) => judgeRandom(sdMl, 0.003))).toEqual([
      'pass',
      'pass',
      'fail',
      'not-decidable',
    ]);
  });

  it('and the systematic one both have to be within: the graver verdict stands', () => {
    expect(jointVerdict('pass', 'fail')).toBe('fail');
    expect(jointVerdict('conditional-fail', 'pass')).toBe('conditional-fail');
    expect(jointVerdict('pass', 'not-decidable')).toBe('not-decidable');
    expect(jointVerdict('pass', 'pass')).toBe('pass');
  });
});

/** Masses around that of 1 mL of water at 21.3 °C in air, about 0.9969 g; the spread is chosen. */
const spreading = (stepG: number) => [0, 1, -1, 1, -1, 0].map((sign) => (0.9969 + sign * stepG).toFixed(4));

function measured(masses: readonly string[], facts: Partial<VesselFacts> = {}) {
  const one = record({
    vessel: pipette('1', facts),
    conditions: { evaporationMgPerMin: '0' },
    instruments: { balance: { resolutionG: '0.0001', repeatabilityG: '0.0001', linearityG: '0.0001' } },
    trials: trialsOf(masses, { pointMl: '1' }),
  });
  const point = evaluate(one, toleranceRows).points[0];
  if (point === undefined) throw new Error('no point');
  return { one, point };
}

describe('a piston pipette', () => {
  it('with a small error fails by its spread alone', () => {
    // s of 0, ±4 mg four times, 0 is 4·√(4/5) = 3.6 mg, more than 3 µL
    const { point } = measured(spreading(0.004));
    expect(point.randomError).toMatchObject({ limitMl: 0.003, verdict: 'fail', systematicVerdict: 'pass' });
    expect(point.verdict).toBe('fail');
    expect(codes(point.findings)).toContain('random-error-outside');
  });

  it('passes with both within', () => {
    const { point } = measured(spreading(0.001));
    expect(point).toMatchObject({ verdict: 'pass', randomError: { verdict: 'pass', systematicVerdict: 'pass' } });
    expect(oneMore(point, 'guarded', null)?.verdictCouldChange).toBe(false);
  });

  it('near its random limit may come to lie on either side of it', () => {
    const { point } = measured(spreading(0.0033));
    expect(point.randomError?.verdict).toBe('pass');
    expect(oneMore(point, 'guarded', null)?.verdictCouldChange).toBe(true);
  });

  it('without a known random limit is judged by its systematic error, and says so', () => {
    const { point } = measured(spreading(0.004), { tolerance: { markedMl: '0.008' } });
    expect(point.randomError).toBeNull();
    expect(point.verdict).toBe('pass');
    expect(codes(point.findings)).toContain('random-limit-unknown');
  });

  it('cannot be decided with a balance that spreads more than the random limit', () => {
    const foreseen = (repeatabilityG: string) => {
      const instruments = { balance: { resolutionG: '0.0001', linearityG: '0.0001', repeatabilityG } };
      const plan = record({ vessel: pipette('1'), trials: [], points: ['1'], plannedTrials: 10, instruments });
      return capability(plan, toleranceRows).points[0];
    };
    // √2 of the balance's own repeatability against 3 mg
    expect(foreseen('0.0001')).toMatchObject({ randomLimitMl: 0.003, decidableAtZeroError: true });
    expect(foreseen('0.0025')).toMatchObject({ randomLimitMl: 0.003, decidableAtZeroError: false });
  });

  it.each([
    // From memory: balance table of ISO 8655-6:2002, last digit and repeatability in mg for a nominal volume in mL.
    ['0.01', 0.001, 0.002],
    ['0.1', 0.01, 0.02],
    ['1', 0.1, 0.2],
    ['10', 0.1, 0.2],
    ['50', 1, 2],
  ])('of %s mL wants a balance of %s mg that repeats to %s mg', (nominal, resolutionMg, repeatabilityMg) => {
    const found = (resolution: number, repeatability: number) =>
      codes(
        balanceFindings(pipette(nominal), { resolutionG: resolution / 1000, repeatabilityG: repeatability / 1000 }),
      );
    expect(found(resolutionMg, repeatabilityMg)).toEqual([]);
    expect(found(2 * resolutionMg, repeatabilityMg)).toEqual(['balance-too-coarse']);
    expect(found(resolutionMg, 2 * repeatabilityMg)).toEqual(['balance-too-coarse']);
  });

  it('is held against its balance before the first delivery, other ware is not', () => {
    const foreseen = (vessel: VesselFacts) => {
      const instruments = { balance: { resolutionG: '0.001' } };
      const plan = record({ vessel, trials: [], points: [vessel.nominalVolumeMl], plannedTrials: 10, instruments });
      return codes(capability(plan, toleranceRows).points[0]?.findings ?? []);
    };
    expect(foreseen(pipette('0.1'))).toContain('balance-too-coarse');
    expect(foreseen({ ...pipette('0.1'), kind: 'single-volume-pipette' })).not.toContain('balance-too-coarse');
  });
});
