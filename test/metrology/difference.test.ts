import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/metrology/evaluate.ts';
import type { CalibrationRecord, TrialFacts } from '../../server/metrology/record.ts';
import type { CalibrationResult, PointResult } from '../../server/metrology/result.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { flask, record, trialsOf } from './make.ts';

const burette = flask({
  kind: 'burette',
  nominalVolumeMl: '50',
  basis: 'deliver',
  divisionMl: '0.1',
  tolerance: { standard: 'ISO 385', edition: '2005', class: 'A' },
});
const instruments = {
  balance: { resolutionG: '0.001', linearityG: '0.001', expandedUncertaintyG: '0.001' },
  thermometer: { expandedUncertaintyC: '0.1', resolutionC: '0.1' },
};

function at(pointMl: string, middle: number, step = 0.002): TrialFacts[] {
  const masses = [-1, 0, 1, 0, -1, 1].map((offset) => (middle + offset * step).toFixed(3));
  return trialsOf(masses, { pointMl, waterTemperatureC: '20.0' });
}

function run(trials: TrialFacts[], changes: Partial<CalibrationRecord> = {}): CalibrationResult {
  const conditions = { airTemperatureC: '20', airPressureHpa: '1013.25', relativeHumidityPercent: '50' };
  return evaluate(record({ vessel: burette, instruments, conditions, trials, ...changes }), toleranceRows);
}

// 9.972 g, 24.929 g, 49.858 g weigh 10, 25, 50 mL at 20 °C
const good = [...at('10', 9.972), ...at('25', 24.929), ...at('50', 49.858)];

describe('difference of the errors of two points', () => {
  it('is the largest minus the smallest', () => {
    const result = run(good);
    const biases = result.points.map((point) => point.biasMl ?? 0);
    expect(result.difference?.valueMl).toBeCloseTo(Math.max(...biases) - Math.min(...biases), 12);
    expect(result.difference?.verdict).toBe('pass');
    expect(result.verdict).toBe('pass');
  });

  it('has the uncertainty of both spreads, roundings and linearities, and of what is shared only by volume', () => {
    const result = run([...at('10', 9.98), ...at('50', 49.83)]);
    const [small, large] = result.points as [PointResult, PointResult];
    const own = new Set(['repeatability', 'balance-resolution', 'balance-linearity']);
    const share = ((large.meanMl ?? 0) - (small.meanMl ?? 0)) / (large.meanMl ?? 1);
    let sum = 0;
    for (const line of small.budget) if (own.has(line.component)) sum += line.contributionMl ** 2;
    for (const line of large.budget) {
      if (own.has(line.component)) sum += line.contributionMl ** 2;
      else if (line.component !== 'meniscus') sum += (share * line.contributionMl) ** 2;
    }
    const k = (result.difference?.expandedUncertaintyMl ?? 0) / Math.sqrt(sum);
    // six trials at each point: k of 95.45 % lies between infinite and five degrees of freedom (GUM table G.2)
    expect(k).toBeGreaterThan(2);
    expect(k).toBeLessThan(2.65);
  });

  it('can fail a vessel whose points all pass', () => {
    // +0.03 and −0.03 mL: each within ±0.05 mL, 0.06 mL apart
    const result = run([...at('10', 10.002), ...at('50', 49.828)]);
    expect(result.points.map((point) => point.verdict)).toEqual(['pass', 'pass']);
    expect(result.difference?.verdict).toMatch(/fail/);
    expect(result.verdict).toBe(result.difference?.verdict);
  });

  it('exists only for graduated ware with two measured points', () => {
    expect(run(at('10', 9.972)).difference).toBeNull();
    expect(run(at('10', 9.972), { points: ['10', '50'] }).difference).toBeNull();
    const beaker = flask({ kind: 'beaker', tolerance: { markedPercent: '10' } });
    expect(run(good, { vessel: beaker }).difference).toBeNull();
  });

  it('is not judged on another basis', () => {
    expect(run(good, { basis: 'contain' }).difference?.verdict).toBe('none-stated');
  });

  it('is not decided by single trials', () => {
    const single = [...trialsOf(['9.972'], { pointMl: '10' }), ...trialsOf(['49.858'], { pointMl: '50' })];
    expect(run(single).difference?.verdict).toBe('not-decidable');
  });
});
