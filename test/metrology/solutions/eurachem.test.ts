/** The two preparation examples of the Eurachem/CITAC guide CG 4, third edition, to their printed digits. */
import { describe, expect, it } from 'vitest';
import { drawAll } from '../../../server/metrology/monte-carlo.ts';
import { drawnModel, propagate } from '../../../server/metrology/solutions/propagate.ts';
import { solidModel } from '../../../server/metrology/solutions/solid.ts';
import type { SolidSolution } from '../../../server/metrology/solutions/solid.ts';
import { standardisationModel } from '../../../server/metrology/solutions/standardise.ts';
import type { Standardisation } from '../../../server/metrology/solutions/standardise.ts';
import { oneUseUncertaintyMl } from '../../../server/metrology/solutions/vessel-in-use.ts';
import { KHP, portion, room, vessel } from './make.ts';

const DRAWS = { seed: 20_261_126, probability: 0.95, tolerance: null, leastDraws: 100_000, mostDraws: 100_000 };

/** u over the draws agrees with u of the budget within the scatter of 100 000 draws. */
function expectDrawn(model: Parameters<typeof drawnModel>[0]): void {
  const { value, combined } = propagate(model, 0.95);
  const drawn = drawAll(drawnModel(model), DRAWS);
  expect(Math.abs(drawn.mean - value)).toBeLessThan(combined / 50);
  expect(drawn.standardUncertainty / combined).toBeCloseTo(1, 2);
}

// Example A1: 100.28 mg of cadmium, purity 0.9999 ± 0.0001, in a 100 mL flask: tolerance 0.1 mL as a triangle, filling
// 0.02 mL, room within 4 °C, expansion of water 2.1e-4 per °C.
const CADMIUM: SolidSolution = {
  solid: {
    key: 'cadmium',
    atoms: [{ symbol: 'Cd', count: 1 }],
    counted: null,
    purity: { massFraction: 0.9999, halfWidth: 0.0001, certified: true, waterMassFraction: 0, waterHalfWidth: 0 },
    primaryStandard: 'yes',
    density: { known: 'off' },
  },
  portion: portion(0.10028, { statedUncertaintyG: 0.00005 }),
  madeUp: {
    by: 'volume',
    vessel: vessel('flask', 100, { toleranceMl: 0.1, spread: { sdMl: 0.02, degreesOfFreedom: null } }),
    temperature: room(20, 4),
    expansion: { by: 'coefficient', perK: 2.1e-4 },
    quotedC: 20,
  },
  unit: 'mg/L',
};

describe('a calibration standard of cadmium (Eurachem/CITAC CG 4, example A1)', () => {
  const result = propagate(solidModel(CADMIUM), 0.95);
  const lines = new Map(result.lines.map((line) => [line.key, line]));

  it('is 1002.7 mg/L', () => {
    expect(result.value).toBeCloseTo(1002.7, 1);
  });

  it('has the printed standard uncertainties: purity 0.000058, volume 0.07 mL, result 0.9 mg/L', () => {
    expect(lines.get('cadmium:purity')?.standardUncertainty).toBeCloseTo(0.000058, 6);
    const oneUse = oneUseUncertaintyMl(
      vessel('flask', 100, { toleranceMl: 0.1, spread: { sdMl: 0.02, degreesOfFreedom: null } }),
    );
    // The guide adds 0.05 mL for the temperature and prints the root of the sum of squares to two decimals.
    const temperature = ((lines.get('room')?.contribution ?? 0) / result.value) * 100;
    expect(temperature).toBeCloseTo(0.05, 2);
    expect(Math.hypot(oneUse, temperature)).toBeCloseTo(0.07, 2);
    // Printed 0.9 from relative uncertainties rounded to one digit; unrounded from the same printed inputs 0.835.
    expect(Math.abs(result.combined - 0.9)).toBeLessThan(0.07);
    expect(result.combined).toBeCloseTo(0.835, 2);
  });

  it('is mostly volume, then mass, and hardly purity', () => {
    const shares = [':calibration', ':filling'].reduce(
      (sum, end) =>
        sum + result.lines.filter(({ key }) => key.endsWith(end)).reduce((part, { share }) => part + share, 0),
      lines.get('room')?.share ?? 0,
    );
    const mass = lines.get('portion:mass')?.share ?? 0;
    expect(shares).toBeGreaterThan(mass);
    expect(mass).toBeGreaterThan(lines.get('cadmium:purity')?.share ?? 1);
  });

  it('agrees with its simulation', () => {
    expectDrawn(solidModel(CADMIUM));
  });
});

// Example A2: 0.3888 g of potassium hydrogen phthalate, purity 1.0000 ± 0.0005, balance linear within 0.15 mg; 18.64 mL
// from a burette: 0.03 mL as a triangle, 0.006 mL for the temperature, 0.05 % repeatability.
const SODIUM_HYDROXIDE: Standardisation = {
  standard: { known: 'solid', solid: KHP },
  titrations: [
    {
      // Linearity twice, no other influence: 0.15 mg √(2/3).
      titrand: { by: 'mass', portion: portion(0.3888, { statedUncertaintyG: 0.00015 * Math.sqrt(2 / 3) }) },
      delivered: vessel('burette', 18.64, { toleranceMl: 0.03, spread: { sdMl: 0.006, degreesOfFreedom: null } }),
    },
  ],
  molesPerMole: 1,
  endPointMl: 0,
  endPointHalfWidthMl: 0,
  repeatabilityRelative: 0.0005,
  temperature: room(20, 0),
};

describe('standardising sodium hydroxide (Eurachem/CITAC CG 4, example A2)', () => {
  const result = propagate(standardisationModel(SODIUM_HYDROXIDE), 0.95);

  it('is 0.10214 mol/L with a standard uncertainty of 0.00010 mol/L', () => {
    expect(result.value).toBeCloseTo(0.10214, 5);
    expect(result.combined).toBeCloseTo(0.0001, 5);
  });

  it('takes its mass within 0.13 mg, printed from a rounded intermediate; unrounded 0.1225 mg', () => {
    const mass = result.lines.find(({ key }) => key.endsWith('portion:mass'));
    expect(Math.abs((mass?.standardUncertainty ?? 0) - 0.00013)).toBeLessThan(0.00001);
  });

  it('agrees with its simulation', () => {
    expectDrawn(standardisationModel(SODIUM_HYDROXIDE));
  });
});
