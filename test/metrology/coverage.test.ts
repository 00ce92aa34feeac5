import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  combinedUncertainty,
  coverageFactor,
  effectiveDegreesOfFreedom,
  probabilityOfConformity,
} from '../../server/metrology/coverage.ts';
import { cell, halfDigit, number, readTable, valueOf, workedExample } from './fixture.ts';

describe('coverage factor', () => {
  const printed = readTable('student-t-gum-g2.csv').flatMap((row) =>
    ['0.95', '0.9545', '0.99'].map((p) => ({ nu: cell(row, 'nu'), p, k: cell(row, p) })),
  );

  it.each(printed)('GUM table G.2 (from memory): ν $nu, P $p: $k', ({ nu, p, k }) => {
    const factor = coverageFactor(Number(p), nu === '' ? null : Number(nu));
    expect(Math.abs(factor - Number(k))).toBeLessThanOrEqual(halfDigit(k));
  });

  it.each(readTable('student-t-library.csv'))('another library: ν $nu, P $p: $k', (row) => {
    const factor = coverageFactor(number(row, 'p'), number(row, 'nu'));
    expect(Math.abs(factor - number(row, 'k'))).toBeLessThanOrEqual(1e-8 * number(row, 'k'));
  });

  it('is normal above ten million degrees of freedom, where t itself breaks down', () => {
    expect(coverageFactor(0.95, 1e7 + 1)).toBe(coverageFactor(0.95, null));
    // normal quantiles of any table
    expect(coverageFactor(0.95, null)).toBeCloseTo(1.959964, 6);
    expect(coverageFactor(0.99, null)).toBeCloseTo(2.575829, 6);
  });
});

describe('effective degrees of freedom', () => {
  it('GUM G.4.1 (from memory): 19.0, k 2.09, U 2.2 %', () => {
    const { inputs, expected } = workedExample('gum-G4-welch-satterthwaite');
    const relative = inputs['relative_u'] as number[];
    const n = inputs['n'] as number[];
    const contributions = relative.map((u, at) => ({ contributionMl: u, degreesOfFreedom: (n[at] ?? 0) - 1 }));
    const combined = combinedUncertainty(contributions);
    const degrees = effectiveDegreesOfFreedom(contributions) ?? 0;
    expect(Math.abs(100 * combined - valueOf(expected, 'relative_u_c_percent'))).toBeLessThanOrEqual(0.005);
    expect(Math.abs(degrees - valueOf(expected, 'nu_eff'))).toBeLessThanOrEqual(0.05);
    const k = coverageFactor(0.95, degrees);
    expect(Math.abs(k - valueOf(expected, 't_95'))).toBeLessThanOrEqual(0.005);
    expect(Math.abs(100 * k * combined - valueOf(expected, 'U_percent'))).toBeLessThanOrEqual(0.05);
  });

  it('are infinite without a finite part, and of one part alone are its own', () => {
    expect(effectiveDegreesOfFreedom([{ contributionMl: 1, degreesOfFreedom: null }])).toBeNull();
    expect(effectiveDegreesOfFreedom([{ contributionMl: 0, degreesOfFreedom: 3 }])).toBeNull();
    expect(effectiveDegreesOfFreedom([{ contributionMl: 0.3, degreesOfFreedom: 7 }])).toBeCloseTo(7, 12);
    const nearly = [
      { contributionMl: 1e-3, degreesOfFreedom: 1 },
      { contributionMl: 1, degreesOfFreedom: null },
    ];
    expect(effectiveDegreesOfFreedom(nearly)).toBeNull();
  });

  it('lie between the smallest part and the sum of all', () => {
    const part = fc.record({
      contributionMl: fc.double({ min: 0.001, max: 1, noNaN: true }),
      degreesOfFreedom: fc.integer({ min: 1, max: 100 }),
    });
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 8 }), (parts) => {
        const degrees = effectiveDegreesOfFreedom(parts) ?? 0;
        const each = parts.map((one) => one.degreesOfFreedom);
        expect(degrees).toBeGreaterThanOrEqual(Math.min(...each) * (1 - 1e-9));
        expect(degrees).toBeLessThanOrEqual(each.reduce((sum, one) => sum + one, 0) * (1 + 1e-9));
      }),
    );
  });
});

describe('combined uncertainty, worked examples of volumes', () => {
  const alone = (contributionMl: number) => ({ contributionMl, degreesOfFreedom: null });

  it('Eurachem/CITAC CG 4, example A1: 100 mL flask in use, 0.07 mL', () => {
    const { inputs, expected } = workedExample('eurachem-cg4-A1-cadmium');
    const warmth = inputs['V_temperature'] as Record<string, number>;
    const volume = valueOf(inputs, 'V_mL');
    const u = combinedUncertainty([
      alone(valueOf(inputs, 'V_tolerance_half_width_triangular_mL') / Math.sqrt(6)),
      alone(valueOf(inputs, 'V_repeatability_u_mL')),
      alone((volume * valueOf(warmth, 'alpha_water_per_K') * valueOf(warmth, 'dT_half_width_rect_K')) / Math.sqrt(3)),
    ]);
    expect(Math.abs(u - valueOf(expected, 'u_V_mL_printed'))).toBeLessThanOrEqual(0.005);
  });

  it('University of Tartu: 50 mL flask in use, 0.067 mL', () => {
    const { inputs, expected } = workedExample('tartu-flask-50mL');
    const halfWidths = [
      valueOf(inputs, 'tolerance_half_width_rect_mL'),
      valueOf(inputs, 'filling_half_width_rect_mL'),
      valueOf(inputs, 'V_mL') * valueOf(inputs, 'alpha') * valueOf(inputs, 'dT_half_width_rect_K'),
    ];
    const u = combinedUncertainty(halfWidths.map((halfWidth) => alone(halfWidth / Math.sqrt(3))));
    expect(Math.abs(u - valueOf(expected, 'u_mL'))).toBeLessThanOrEqual(0.0005);
  });
});

describe('probability of conformity', () => {
  it.each(['jcgm106-one-sided-upper', 'jcgm106-one-sided-lower'])('%s (from memory)', (id) => {
    const { inputs, expected } = workedExample(id);
    const limit = typeof inputs['upper'] === 'number' ? inputs['upper'] : valueOf(inputs, 'lower');
    const margin = Math.abs(limit - valueOf(inputs, 'y'));
    // the other limit is out of reach
    const far = 1e4;
    const p = probabilityOfConformity(far - margin, far, valueOf(inputs, 'u'), null);
    expect(Math.abs(p - valueOf(expected, 'p_c'))).toBeLessThanOrEqual(0.005);
  });

  // T, e, u: worked out by an independent program for the cases of ILAC-G8:09/2019
  it.each([
    [0.1, 0.06, 0.015, 0.99617],
    [0.1, 0.07, 0.015, 0.97725],
    [0.1, 0.085, 0.015, 0.841345],
    [0.1, 0.1, 0.015, 0.5],
    [0.1, 0.115, 0.015, 0.158655],
    [0.1, 0.14, 0.015, 0.00383],
    [0.1, 0, 0.05, 0.9545],
    [0.1, 0.02, 0.025, 0.999312],
    [0.02, -0.0219, 0.00069, 0.002947],
    [0.06, 0.03, 0.01, 0.99865],
    [0.06, 0.03, 0.0075, 0.999968],
  ])('normal: T %d, e %d, u %d: %d', (tolerance, error, u, expected) => {
    expect(Math.abs(probabilityOfConformity(error, tolerance, u, null) - expected)).toBeLessThanOrEqual(0.5e-6);
  });

  it.each([
    [3, 0.961167],
    [5, 0.977674],
    [9, 0.987118],
    [20, 0.992591],
  ])('Student t with ν = %d: %d (independent program)', (degrees, expected) => {
    expect(Math.abs(probabilityOfConformity(0.06, 0.1, 0.015, degrees) - expected)).toBeLessThanOrEqual(0.5e-6);
  });

  it.each(readTable('student-t-cdf-library.csv'))('another library: x $x, ν $nu', (row) => {
    // the share within ±x, from the cumulative share below x
    const within = Math.abs(2 * number(row, 'cdf') - 1);
    const own = probabilityOfConformity(0, Math.abs(number(row, 'x')), 1, number(row, 'nu'));
    expect(Math.abs(own - within)).toBeLessThanOrEqual(1e-11);
  });

  it('is certain without uncertainty', () => {
    expect(probabilityOfConformity(0.1, 0.1, 0, null)).toBe(1);
    expect(probabilityOfConformity(0.11, 0.1, 0, 5)).toBe(0);
  });
});
