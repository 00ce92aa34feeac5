import { describe, expect, it } from 'vitest';
import { limitsOf } from '../../../server/metrology/class/limits.ts';
import { toleranceRows } from '../../../server/metrology/tolerance-table.ts';

const summary = (...parts: Parameters<typeof limitsOf>) =>
  limitsOf(...parts).map(({ name, toleranceMl }) => [name, toleranceMl]);

describe('limits of ware', () => {
  it('ISO 1042 table 1 (in the national adoption): flask of 25 mL, A 0.04, B 0.08', () => {
    const flask = { kind: 'volumetric-flask', nominalMl: 25, basis: 'contain' } as const;
    expect(summary(toleranceRows, flask)).toEqual([
      ['A', 0.04],
      ['B', 0.08],
    ]);
    expect(limitsOf(toleranceRows, flask)[0]?.source).toBe('ISO 1042:1998 class A');
  });

  it('ISO 648 (one source, class B from memory): pipette of 25 mL, A and AS 0.03, B 0.06', () => {
    const pipette = { kind: 'single-volume-pipette', nominalMl: 25, basis: 'deliver' } as const;
    expect(Object.fromEntries(summary(toleranceRows, pipette))).toEqual({ A: 0.03, AS: 0.03, B: 0.06 });
  });

  it('the standard named on the ware comes before the usual one', () => {
    const tolerance = { standard: 'ASTM E288', edition: 'E288-10', class: 'A' };
    const flask = { kind: 'volumetric-flask', nominalMl: 100, basis: 'contain', tolerance } as const;
    // ASTM E288: 0.08 mL for 100 mL, ISO 1042: 0.10 mL
    expect(limitsOf(toleranceRows, flask)[0]).toMatchObject({ name: 'A', toleranceMl: 0.08 });
  });

  it('a mark on the ware stands last, per cent of the nominal volume', () => {
    const beaker = { kind: 'beaker', nominalMl: 50, basis: 'contain', tolerance: { markedPercent: '5' } } as const;
    expect(limitsOf(toleranceRows, beaker).at(-1)).toMatchObject({ name: 'marked', toleranceMl: 2.5 });
  });

  it('a class whose limit hangs on an unknown division is left out', () => {
    const burette = { kind: 'burette', nominalMl: 25, basis: 'deliver' } as const;
    // ISO 385 (one source, and from memory): 0.03 mL with divisions of 0.05 mL, 0.05 mL with divisions of 0.1 mL
    expect(limitsOf(toleranceRows, { ...burette, divisionMl: 0.05 })[0]?.toleranceMl).toBe(0.03);
    expect(limitsOf(toleranceRows, { ...burette, divisionMl: 0.1 })[0]?.toleranceMl).toBe(0.05);
    expect(limitsOf(toleranceRows, burette).map((limit) => limit.name)).not.toContain('A');
  });

  it('other ware and sizes nobody lists have none', () => {
    expect(limitsOf(toleranceRows, { kind: 'other', nominalMl: 25, basis: 'contain' })).toEqual([]);
    expect(limitsOf(toleranceRows, { kind: 'volumetric-flask', nominalMl: 33, basis: 'contain' })).toEqual([]);
    // a flask does not deliver its volume
    expect(limitsOf(toleranceRows, { kind: 'volumetric-flask', nominalMl: 25, basis: 'deliver' })).toEqual([]);
  });
});
