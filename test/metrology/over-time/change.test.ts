import { describe, expect, it } from 'vitest';
import { changeBetween } from '../../../server/metrology/over-time/change.ts';
import type { Occasion } from '../../../server/metrology/over-time/change.ts';
import { normalisedError } from '../../../server/metrology/over-time/en.ts';
import type { BudgetLine } from '../../../server/metrology/result.ts';

function line(component: string, standardUncertainty: number, sensitivity = 1): BudgetLine {
  return {
    component,
    value: null,
    unit: 'mL',
    standardUncertainty,
    distribution: 'normal',
    degreesOfFreedom: null,
    sensitivity,
    contributionMl: Math.abs(sensitivity) * standardUncertainty,
    source: 'made for the test',
    assumed: false,
  };
}

function occasion(facts: Partial<Occasion> = {}): Occasion {
  return {
    meanMl: 100,
    budget: [line('repeatability', 0.009)],
    thermometerScaleC: 0,
    certificates: { balance: 'B-1 2024', thermometer: 'T-1 2024' },
    people: ['Ada'],
    ...facts,
  };
}

// Common practice, no source: E_Δ is the change over twice its standard uncertainty; figures chosen so that a
// Pythagorean triple gives them by hand.
describe('change between two calibrations', () => {
  it('is 1 where it equals twice its standard uncertainty', () => {
    const change = changeBetween(occasion(), occasion({ meanMl: 100.03, budget: [line('repeatability', 0.012)] }));
    expect(change.changeMl).toBeCloseTo(0.03, 12);
    expect(change.standardUncertaintyMl).toBeCloseTo(0.015, 12);
    expect(change.normalisedChange).toBeCloseTo(1, 10);
  });

  it('leaves out what both occasions share', () => {
    const shared = [
      line('balance-calibration', 0.4),
      line('balance-linearity', 0.4),
      line('meniscus', 0.4),
      line('water-density', 0.4),
      line('expansion', 0.4),
      line('weights-density', 0.4),
      line('air-density-formula', 0.4),
    ];
    const change = changeBetween(
      occasion({ budget: [line('repeatability', 0.009), ...shared] }),
      occasion({ budget: [line('repeatability', 0.012), ...shared] }),
    );
    expect(change.standardUncertaintyMl).toBeCloseTo(0.015, 12);
  });

  it('counts the meniscus where another person set it', () => {
    const change = changeBetween(
      occasion({ budget: [line('meniscus', 0.03)] }),
      occasion({ budget: [line('meniscus', 0.04)], people: ['Bo'] }),
    );
    expect(change.standardUncertaintyMl).toBeCloseTo(0.05, 12);
  });

  it('counts the balance where its certificate changed, or none is named', () => {
    const before = occasion({ budget: [line('balance-calibration', 0.03)] });
    const after = occasion({ budget: [line('balance-calibration', 0.04)] });
    for (const balance of ['B-1 2026', null]) {
      const later = { ...after, certificates: { balance, thermometer: 'T-1 2024' } };
      expect(changeBetween(before, later).standardUncertaintyMl).toBeCloseTo(0.05, 12);
    }
    expect(changeBetween(before, after).normalisedChange).toBeNull();
  });

  it('takes the scale of the same thermometer off the water temperature, and not of another', () => {
    // 0.05 K in all, 0.03 K of it the scale, leaves 0.04 K; at 0.5 mL/K that is 0.02 mL on each side.
    const water = { budget: [line('water-temperature', 0.05, -0.5)], thermometerScaleC: 0.03 };
    const same = changeBetween(occasion(water), occasion(water));
    expect(same.standardUncertaintyMl).toBeCloseTo(Math.SQRT2 * 0.02, 12);
    const other = { ...water, certificates: { balance: 'B-1 2024', thermometer: 'T-2' } };
    expect(changeBetween(occasion(water), occasion(other)).standardUncertaintyMl).toBeCloseTo(Math.SQRT2 * 0.025, 12);
  });
});

describe('normalised error against an outside laboratory', () => {
  it('is that of the check case', () => {
    // ISO 13528 / ISO/IEC 17043, formula from memory; 0.025/√(0.02² + 0.025²) by hand.
    const own = { meanMl: 99.985, expandedUncertaintyMl: 0.02 };
    const outside = { meanMl: 100.01, expandedUncertaintyMl: 0.025 };
    expect(normalisedError(own, outside)).toBeCloseTo(-0.7809, 4);
  });

  it('is not defined where nothing is uncertain', () => {
    const exact = { meanMl: 100, expandedUncertaintyMl: 0 };
    expect(normalisedError(exact, exact)).toBeNull();
  });
});
