/** Solutions away from 20 °C, as in laboratories at 27 °C. */
import { describe, expect, it } from 'vitest';
import { Influences } from '../../../server/metrology/solutions/influences.ts';
import { propagate } from '../../../server/metrology/solutions/propagate.ts';
import { solidModel } from '../../../server/metrology/solutions/solid.ts';
import type { SolidSolution } from '../../../server/metrology/solutions/solid.ts';
import { takeTemperature, takeVolume, temperatureFactor } from '../../../server/metrology/solutions/vessel-in-use.ts';
import { number, readTable } from '../fixture.ts';
import { KHP, portion, room, vessel } from './make.ts';

/** Density of water in kg/m3, the published table of Tanaka et al. 2001. */
const published = (temperatureC: number): number => {
  const row = readTable('water-density-tanaka-2001.csv').find((one) => number(one, 't_C') === temperatureC);
  return row ? number(row, 'air_free') : Number.NaN;
};
const WATER = { 20: published(20), 27: published(27) };
/** Borosilicate glass 3.3, three times the linear coefficient of ISO 3585:1998. */
const BOROSILICATE = { value: 9.9e-6, relativeHalfWidth: 0 };

const madeAt = (filledC: number, quotedC: number, referenceC = 20): SolidSolution => ({
  solid: KHP,
  portion: portion(2.0422, { statedUncertaintyG: 0 }),
  madeUp: {
    by: 'volume',
    vessel: vessel('F', 100, { expansion: BOROSILICATE, referenceC }),
    temperature: room(filledC, 0),
    expansion: { by: 'water' },
    quotedC,
  },
  unit: 'mol/L',
});
const concentration = (made: SolidSolution): number => propagate(solidModel(made), 0.95).value;

describe('a solution made up at 27 °C', () => {
  it('is stronger at 20 °C by what water shrinks, once the flask’s own growth is taken off', () => {
    const ratio = concentration(madeAt(27, 20)) / concentration(madeAt(20, 20));
    expect(ratio).toBeCloseTo(WATER[20] / WATER[27] / (1 + 9.9e-6 * 7), 5);
  });

  it('is what the flask says where flask and use are both at 27 °C', () => {
    const ratio = concentration(madeAt(27, 27, 27)) / concentration(madeAt(20, 20));
    expect(ratio).toBeCloseTo(1, 12);
  });

  it('follows a typed coefficient where the solution is not like water', () => {
    // Ethanol about 1.1e-3 per K (common practice, no source): 7 K make 0.77 %.
    const made = madeAt(27, 20);
    const ethanol = { ...made, madeUp: { ...made.madeUp, expansion: { by: 'coefficient', perK: 1.1e-3 } as const } };
    const atFilling = concentration(madeAt(27, 27));
    expect(concentration(ethanol as SolidSolution) / atFilling).toBeCloseTo(1 / (1 - 7 * 1.1e-3), 9);
  });
});

describe('a pipette at 27 °C', () => {
  it('delivers V20·(1 + γ·7) of a liquid that brings less with it', () => {
    const influences = new Influences();
    const temperature = takeTemperature(influences, room(27, 0));
    const pipette = vessel('P', 25, { expansion: BOROSILICATE });
    const volume = takeVolume(influences, pipette, 'once', temperature);
    const toTwenty = temperatureFactor({ by: 'water' }, temperature, 20);
    const values = influences.list.map(({ value }) => value);
    expect(volume(values)).toBeCloseTo(25 * (1 + 9.9e-6 * 7), 9);
    expect(1 / toTwenty(values)).toBeCloseTo(WATER[27] / WATER[20], 5);
  });
});
