import { describe, expect, it } from 'vitest';
import { atomicWeight } from '../../../server/metrology/solutions/atomic-weights.ts';
import { molarMass } from '../../../server/metrology/solutions/substance.ts';

const atoms = (counts: Record<string, number>) => Object.entries(counts).map(([symbol, count]) => ({ symbol, count }));

describe('standard atomic weights', () => {
  it('are those of the table of the IUPAC commission, 2024', () => {
    // CIAAW, standard atomic weights 2024: intervals and single values with their uncertainty.
    expect(atomicWeight('Cl')).toMatchObject({ published: '[35.446, 35.457]' });
    expect(atomicWeight('Cl')?.value).toBeCloseTo(35.4515, 10);
    expect(atomicWeight('Cl')?.halfWidth).toBeCloseTo(0.0055, 10);
    expect(atomicWeight('Cu')).toMatchObject({ value: 63.546, halfWidth: 0.003 });
    expect(atomicWeight('Na')?.halfWidth).toBeCloseTo(2e-8, 15);
    expect(atomicWeight('Yb')).toMatchObject({ value: 173.045, halfWidth: 0.01 });
  });

  it('hold the abridged value of the same commission within their half-width and half its last digit', () => {
    // IUPAC periodic table, abridged to five digits (from memory).
    const abridged = {
      H: 1.008,
      C: 12.011,
      N: 14.007,
      O: 15.999,
      Mg: 24.305,
      S: 32.06,
      Cl: 35.45,
      K: 39.098,
      Br: 79.904,
      Ag: 107.87,
      I: 126.9,
      Pb: 207.2,
      U: 238.03,
    };
    for (const [symbol, value] of Object.entries(abridged)) {
      const weight = atomicWeight(symbol);
      const lastDigit = 10 ** -(String(value).split('.')[1] ?? '').length;
      expect(Math.abs((weight?.value ?? 0) - value), symbol).toBeLessThanOrEqual(
        (weight?.halfWidth ?? 0) + lastDigit / 2,
      );
    }
  });

  it('do not exist for technetium, nor for what is no element', () => {
    expect(atomicWeight('Tc')).toBeNull();
    expect(atomicWeight('Xx')).toBeNull();
  });
});

describe('molar mass', () => {
  it('is that of the handbook within what the atomic weights leave open', () => {
    // CRC Handbook of Chemistry and Physics, physical constants of inorganic and organic compounds (from memory).
    const handbook: [Record<string, number>, number][] = [
      [{ Cu: 1, S: 1, O: 9, H: 10 }, 249.685],
      [{ K: 1, H: 5, C: 8, O: 4 }, 204.222],
      [{ Na: 2, C: 1, O: 3 }, 105.988],
      [{ Na: 1, Cl: 1 }, 58.443],
      [{ K: 2, Cr: 2, O: 7 }, 294.185],
      [{ Ag: 1, N: 1, O: 3 }, 169.873],
    ];
    for (const [counts, expected] of handbook) {
      const { gPerMol, standardUncertainty } = molarMass(atoms(counts));
      expect(Math.abs(gPerMol - expected)).toBeLessThan(Math.sqrt(3) * standardUncertainty + 0.0005);
    }
  });

  it('counts the atoms of one element together', () => {
    // Eurachem/CITAC CG 4, A2.4: n atoms of one element contribute n times the uncertainty of one, not √n times.
    const carbon = (atomicWeight('C')?.halfWidth ?? 0) / Math.sqrt(3);
    expect(molarMass(atoms({ C: 8 })).standardUncertainty).toBeCloseTo(8 * carbon, 12);
  });

  it('is refused for an element without an atomic weight', () => {
    expect(() => molarMass(atoms({ Tc: 1, O: 2 }))).toThrow(RangeError);
  });
});
