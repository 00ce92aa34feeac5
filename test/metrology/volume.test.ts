import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { airDensityKgPerM3 } from '../../server/metrology/air-density.ts';
import {
  expansionFactor,
  massGFrom,
  massToVolumeFactor,
  simpleVolumeMl,
  volumeAtReference,
  volumeMlAt,
  volumeMlFrom,
} from '../../server/metrology/volume.ts';
import { waterDensityKgPerM3 } from '../../server/metrology/water-density.ts';
import { cell, halfDigit, number, readTable, valueOf, workedExample } from './fixture.ts';

function z(t: number, hpa: number): number {
  return massToVolumeFactor(waterDensityKgPerM3(t), airDensityKgPerM3(t, hpa, 50));
}

/** Z in air of 1.2 kg/m3, as textbooks take it. */
function zTextbook(t: number): number {
  return massToVolumeFactor(waterDensityKgPerM3(t), 1.2);
}

const LAST_DIGIT = 1e-4;

describe('Z against ISO 8655-6, table A.1', () => {
  // printed with an older water formula, 3 to 4 ppm lighter; these two lie so near a half that the last digit tips
  const tipping = new Set(['21.0/1000', '23.0/1050']);
  const cells = readTable('z-iso-8655-6.csv').flatMap((row) =>
    Object.keys(row)
      .filter((column) => column !== 't_C')
      .map((hpa) => ({ t: cell(row, 't_C'), hpa, printed: cell(row, hpa) })),
  );

  it('has 32 cells', () => expect(cells).toHaveLength(32));

  it.each(cells)('$t °C, $hpa hPa: $printed mL/g', ({ t, hpa, printed }) => {
    const off = Math.abs(z(Number(t), Number(hpa)) - Number(printed));
    if (tipping.has(`${t}/${hpa}`)) {
      expect(off).toBeGreaterThan(halfDigit(printed));
      expect(off).toBeLessThanOrEqual(5.4e-5);
    } else {
      expect(off).toBeLessThanOrEqual(halfDigit(printed));
    }
  });
});

describe('Z against tables from memory, comparison only', () => {
  // three cells of the 25.0 °C row are one last digit low: misremembered, or cut off instead of rounded
  const low = new Set(['25.0/800', '25.0/900', '25.0/1000']);
  const cells = readTable('z-iso-8655-6-from-memory.csv').flatMap((row) =>
    Object.keys(row)
      .filter((column) => column !== 't_C')
      .map((hpa) => ({ t: cell(row, 't_C'), hpa, printed: cell(row, hpa) })),
  );

  it.each(cells)('ISO 8655-6:2002, $t °C, $hpa hPa: $printed mL/g', ({ t, hpa, printed }) => {
    const off = z(Number(t), Number(hpa)) - Number(printed);
    if (low.has(`${t}/${hpa}`)) {
      expect(off).toBeGreaterThan(halfDigit(printed));
      expect(off).toBeLessThan(LAST_DIGIT);
    } else {
      expect(Math.abs(off)).toBeLessThanOrEqual(halfDigit(printed));
    }
  });

  it.each(readTable('z-harris-from-memory.csv'))('Harris, $t_C °C', (row) => {
    // built from rounded intermediates: up to 0.74 of a last digit off
    const t = number(row, 't_C');
    expect(Math.abs(zTextbook(t) - number(row, 'at_t'))).toBeLessThan(0.75 * LAST_DIGIT);
    const at20 = zTextbook(t) * expansionFactor(1e-5, t, 20);
    expect(Math.abs(at20 - number(row, 'at_20C'))).toBeLessThan(0.75 * LAST_DIGIT);
  });

  it.each(readTable('z-skoog-from-memory.csv'))('Skoog, $t_C °C', (row) => {
    // about half a last digit low throughout; corrected to 20 °C, the cell of 25 °C is out of line with its neighbours
    // and that of 29 °C one whole last digit low
    const limit = new Map([
      [25, 2],
      [29, 1.05],
    ]);
    const t = number(row, 't_C');
    expect(Math.abs(zTextbook(t) - number(row, 'at_t'))).toBeLessThan(LAST_DIGIT);
    const off = zTextbook(t) * expansionFactor(2.5e-5, t, 20) - number(row, 'at_20C');
    expect(Math.abs(off)).toBeLessThan((limit.get(t) ?? 1) * LAST_DIGIT);
  });

  it.each(readTable('z-four-decimals-tank-procedure.csv'))('tank procedure, $t_C °C (no source)', (row) => {
    // mostly cut off instead of rounded; 19 °C is misprinted
    const t = number(row, 't_C');
    const off = Math.abs(zTextbook(t) - number(row, 'z'));
    expect(off).toBeLessThan(t === 19 ? 1.6 * LAST_DIGIT : LAST_DIGIT);
  });
});

describe('mass of 1000 mL of water in old tables', () => {
  const OLD_LITRE = 1.000028;

  it.each(readTable('mass-of-1000-ml-1917.csv'))('1917, $t_C °C: $mass_g g', (row) => {
    const t = number(row, 't_C');
    const factor = massToVolumeFactor(waterDensityKgPerM3(t), 1.2, 8400) * expansionFactor(2.5e-5, t, 20);
    // water and air formulas of the time: 24 ppm at most
    expect(Math.abs((1000 * OLD_LITRE) / factor - number(row, 'mass_g'))).toBeLessThanOrEqual(0.0245);
  });

  const misprinted = new Set(['22/760', '22/740']);
  const cells = readTable('mass-of-1000-ml-rd-52.csv').flatMap((row) =>
    ['760', '740', '720'].map((mmHg) => ({ t: cell(row, 't_C'), mmHg, printed: cell(row, mmHg) })),
  );

  it.each(cells)('RD 52.04.186-89, $t °C, $mmHg mmHg: $printed g', ({ t, mmHg, printed }) => {
    const hpa = (Number(mmHg) * 1013.25) / 760;
    const water = waterDensityKgPerM3(Number(t));
    const mass = OLD_LITRE * massGFrom(1000, water, airDensityKgPerM3(Number(t), hpa, 50), 2.5e-5, Number(t), 20);
    const meant = misprinted.has(`${t}/${mmHg}`) ? Number(printed) - 1 : Number(printed);
    expect(Math.abs(mass - meant)).toBeLessThanOrEqual(0.0205);
  });
});

describe('worked examples of named sources', () => {
  it('Harvey, example 5.1: 9.9736 g at 25 °C fill 10.014 mL', () => {
    const { inputs, expected } = workedExample('harvey-5.1-pipet-10mL');
    const mass = valueOf(inputs, 'apparent_mass_g');
    const air = 1000 * valueOf(inputs, 'rho_air_g_mL');
    const water = 1000 * valueOf(inputs, 'rho_w_g_mL');
    const factor = massToVolumeFactor(water, air, 1000 * valueOf(inputs, 'rho_weights_g_mL'));
    expect(Math.abs(mass * factor - valueOf(expected, 'volume_mL'))).toBeLessThanOrEqual(0.0005);
    expect(Math.abs((mass * factor * water) / 1000 - valueOf(expected, 'true_mass_g'))).toBeLessThanOrEqual(0.00005);
  });

  it('Harris, glassware calibration (from memory): 24.942 g at 27 °C', () => {
    const { inputs, expected } = workedExample('harris-2-9-pipet-25mL');
    const t = valueOf(inputs, 't_C');
    const volume = (reference: number) =>
      volumeMlFrom(24.942, waterDensityKgPerM3(t), valueOf(inputs, 'rho_a'), valueOf(inputs, 'gamma'), t, reference);
    expect(Math.abs(volume(27) - valueOf(expected, 'volume_at_27C_mL'))).toBeLessThanOrEqual(0.005);
    expect(Math.abs(volume(20) - valueOf(expected, 'volume_at_20C_mL'))).toBeLessThanOrEqual(0.005);
  });

  it('Skoog, example 2-1 (from memory): 24.976 g at 25 °C', () => {
    const { inputs, expected } = workedExample('skoog-2-1-pipet-25mL');
    const t = valueOf(inputs, 't_C');
    const volume = (reference: number) =>
      volumeMlFrom(
        valueOf(inputs, 'mass_g'),
        waterDensityKgPerM3(t),
        valueOf(inputs, 'rho_a'),
        valueOf(inputs, 'gamma'),
        t,
        reference,
      );
    // the book multiplies by factors of four decimals: 25 mL × 0.00005
    expect(Math.abs(volume(25) - valueOf(expected, 'volume_at_25C_mL'))).toBeLessThanOrEqual(0.006);
    expect(Math.abs(volume(20) - valueOf(expected, 'volume_at_20C_mL'))).toBeLessThanOrEqual(0.006);
  });
});

describe('worked examples of common practice, no source', () => {
  it('burette, 49.867 g at 19 °C: a Z of four decimals costs 47 ppm', () => {
    const { inputs, expected } = workedExample('student-burette-50mL-19C');
    const mass = valueOf(inputs, 'mean_mass_g');
    const printed = valueOf(expected, 'volume_mL');
    expect(Math.abs(mass * valueOf(inputs, 'Z_mL_per_g') - printed)).toBeLessThanOrEqual(0.00005);
    expect(Math.abs(mass * z(19, 1013.25) - printed) / printed).toBeLessThan(50e-6);
  });

  it('pycnometer without buoyancy: the correction that is missing is 1.05 mL per litre', () => {
    const { expected } = workedExample('pycnometer-10mL-20C-no-buoyancy');
    const corrected = 9.951 * z(20, 1013.25);
    const missing = corrected / valueOf(expected, 'volume_mL') - 1;
    // 1.2/998.2 − 1.2/8000, common practice
    expect(missing * 1000).toBeCloseTo(1.05, 1);
  });

  it('road tank: the printed factor leaves the weights out, 150 ppm too much', () => {
    const { inputs, expected } = workedExample('russian-tank-4000L-25C');
    const litres = valueOf(inputs, 'm_kg') * zTextbook(25);
    const excess = valueOf(expected, 'volume_at_25C_L') / litres - 1;
    expect(Math.abs(excess - 1.2 / 8000)).toBeLessThan(2e-6);
  });

  it('100 mL flask at 20 °C: K = 1.00285', () => {
    const { inputs } = workedExample('chinese-flask-100mL-20C');
    expect(Math.abs(zTextbook(20) - valueOf(inputs, 'K_mL_per_g'))).toBeLessThanOrEqual(0.5e-5);
  });

  it('100.00 g of water at 20 °C in air at sea level are 100.29 mL', () => {
    expect(Math.abs(100 * z(20, 1013.25) - 100.29)).toBeLessThanOrEqual(0.005);
    // plain 100.180 mL, with buoyancy in air of 1.2 kg/m3 100.285 mL
    expect(Math.abs(100 / (waterDensityKgPerM3(20) / 1000) - 100.18)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs(100 * zTextbook(20) - 100.285)).toBeLessThanOrEqual(0.0005);
    expect(simpleVolumeMl(100)).toBe(100);
  });
});

const water = fc.record({
  massG: fc.double({ min: 0.01, max: 5000, noNaN: true }),
  waterTemperatureC: fc.double({ min: 5, max: 35, noNaN: true }),
  airTemperatureC: fc.double({ min: 15, max: 27, noNaN: true }),
  airPressureHpa: fc.double({ min: 700, max: 1080, noNaN: true }),
  relativeHumidityPercent: fc.double({ min: 0, max: 100, noNaN: true }),
  expansionPerK: fc.constantFrom(0, 1.6e-6, 9.9e-6, 27e-6, 450e-6),
  referenceTemperatureC: fc.constantFrom(20, 27),
});

describe('properties of the volume', () => {
  it('is linear in the mass', () => {
    fc.assert(
      fc.property(water, fc.double({ min: 0.1, max: 10, noNaN: true }), (weighed, factor) => {
        const twice = volumeAtReference({ ...weighed, massG: weighed.massG * factor });
        expect(twice / (volumeAtReference(weighed) * factor)).toBeCloseTo(1, 13);
      }),
    );
  });

  it('grows with the water temperature in glass', () => {
    fc.assert(
      fc.property(water, (weighed) => {
        fc.pre(weighed.expansionPerK < 1e-4 && weighed.waterTemperatureC > 8);
        const warmer = { ...weighed, waterTemperatureC: weighed.waterTemperatureC + 0.1 };
        expect(volumeAtReference(warmer)).toBeGreaterThan(volumeAtReference(weighed));
      }),
    );
  });

  it('weighs what it was made from', () => {
    fc.assert(
      fc.property(water, (weighed) => {
        const rw = waterDensityKgPerM3(weighed.waterTemperatureC);
        const ra = airDensityKgPerM3(weighed.airTemperatureC, weighed.airPressureHpa, weighed.relativeHumidityPercent);
        const { expansionPerK, waterTemperatureC, referenceTemperatureC } = weighed;
        const mass = massGFrom(
          volumeAtReference(weighed),
          rw,
          ra,
          expansionPerK,
          waterTemperatureC,
          referenceTemperatureC,
        );
        expect(mass / weighed.massG).toBeCloseTo(1, 13);
      }),
    );
  });

  it('at 27 °C is that at 20 °C times 1 + 7 γ, but for the square of γ', () => {
    fc.assert(
      fc.property(water, (weighed) => {
        const at20 = volumeAtReference({ ...weighed, referenceTemperatureC: 20 });
        const at27 = volumeAtReference({ ...weighed, referenceTemperatureC: 27 });
        const { expansionPerK, waterTemperatureC } = weighed;
        const square = Math.abs(expansionPerK ** 2 * 7 * (waterTemperatureC - 20));
        const off = Math.abs(at27 / volumeMlAt(at20, expansionPerK, 27, 20) - 1);
        expect(off).toBeLessThanOrEqual(1.02 * square + 1e-14);
      }),
    );
  });
});
