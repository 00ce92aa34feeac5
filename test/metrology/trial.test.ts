import { describe, expect, it } from 'vitest';
import { airDensityKgPerM3 } from '../../server/metrology/air-density.ts';
import { OutsideValidity } from '../../server/metrology/outside-validity.ts';
import { findTolerance, rowOf } from '../../server/metrology/tolerance.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { evaluateTrial } from '../../server/metrology/trial.ts';
import { volumeAtReference } from '../../server/metrology/volume.ts';
import { waterDensityKgPerM3 } from '../../server/metrology/water-density.ts';
import type { CalibrationRecord, ConditionFacts, TrialFacts } from '../../server/metrology/record.ts';
import { codes, flask, record, trial } from './make.ts';

function run(changes: Partial<CalibrationRecord> = {}, facts: Partial<TrialFacts> = {}, number = 1) {
  return evaluateTrial(record(changes), trial(facts), number);
}

function withConditions(facts: ConditionFacts): Partial<CalibrationRecord> {
  return { conditions: { ...record().conditions, ...facts } };
}

describe('from reading to volume', () => {
  it('keeps what was typed and computes beside it', () => {
    const result = run();
    expect(result).toMatchObject({ ...trial(), number: 1, massG: 99.6337 });
    expect(result.used).toEqual({ emptyG: '61.2034', filledG: '160.8371', waterTemperatureC: '21.3' });
    expect(result.simpleVolumeMl).toBe(99.6337);
  });

  it('is the volume equation at the values of the trial', () => {
    const result = run();
    expect(result.waterDensityGPerMl).toBe(waterDensityKgPerM3(21.3) / 1000);
    expect(result.airDensityGPerMl).toBe(airDensityKgPerM3(21.8, 992.5, 48) / 1000);
    const volume = volumeAtReference({
      massG: 99.6337,
      waterTemperatureC: 21.3,
      airTemperatureC: 21.8,
      airPressureHpa: 992.5,
      relativeHumidityPercent: 48,
      expansionPerK: 9.9e-6,
      referenceTemperatureC: 20,
    });
    expect(result.volumeMl).toBe(volume);
  });

  it('takes the typed expansion coefficient before the material, zero included', () => {
    const at = (expansionPerK: string | null) => run({ vessel: flask({ expansionPerK }) }).volumeMl;
    // 1.3 K above 20 °C: γ·1.3 of the volume, by hand
    expect(at('0') / at(null)).toBeCloseTo(1 / (1 - 9.9e-6 * 1.3), 12);
    expect(at('0.000027') / at('0')).toBeCloseTo(1 - 27e-6 * 1.3, 12);
  });

  it('says so when a material of unknown expansion counts as 0', () => {
    expect(codes(run({ vessel: flask({ material: 'other' }) }).findings)).toContain('expansion-not-known');
    expect(codes(run({ vessel: flask({ material: 'other', expansionPerK: '0' }) }).findings)).not.toContain(
      'expansion-not-known',
    );
  });

  it('refers to 27 °C where the vessel does', () => {
    const ratio = run({ vessel: flask({ referenceTemperatureC: '27' }) }).volumeMl / run().volumeMl;
    // 7 K of borosilicate 3.3: 69 ppm
    expect(Math.abs((ratio - 1) * 1e6 - 69.3)).toBeLessThan(0.05);
  });

  it('refuses water and air no formula covers', () => {
    expect(() => run({}, { waterTemperatureC: '40.1' })).toThrow(OutsideValidity);
    expect(() => run({}, { airPressureHpa: '599' })).toThrow(OutsideValidity);
    expect(() => run({}, { filledG: '1e3' })).toThrow(TypeError);
  });
});

describe('corrections', () => {
  it('of a typing slip: the last one counts, the typed value stays', () => {
    const corrections = [
      { field: 'filledG', value: '160.8000', reason: 'digits swapped' },
      { field: 'filledG', value: '160.8370', reason: 'still wrong' },
    ];
    const result = run({}, { filledG: '160.3871', corrections });
    expect(result.filledG).toBe('160.3871');
    expect(result.used.filledG).toBe('160.8370');
    expect(result.massG).toBe(99.6336);
  });

  it('of the instruments are added to the readings', () => {
    const instruments = {
      balance: {
        corrections: [
          { at: '0', correction: '0' },
          { at: '200', correction: '0.0020' },
        ],
      },
      thermometer: {
        corrections: [
          { at: '20', correction: '-0.10' },
          { at: '30', correction: '-0.10' },
        ],
      },
      barometer: {
        corrections: [
          { at: '900', correction: '2' },
          { at: '1050', correction: '2' },
        ],
      },
    };
    const result = run({ instruments });
    // 1 mg per 100 g: 99.6337 g become 99.634 696 g
    expect(result.massG).toBeCloseTo(99.6337 * 1.00001, 9);
    expect(result.corrected.waterTemperatureC).toBeCloseTo(21.2, 12);
    expect(result.air.pressureHpa).toBe(994.5);
    expect(result.used).toEqual({ emptyG: '61.2034', filledG: '160.8371', waterTemperatureC: '21.3' });
  });

  it('none known and beyond the table are said', () => {
    const known = {
      corrections: [
        { at: '0', correction: '0' },
        { at: '100', correction: '0' },
      ],
    };
    expect(codes(run().findings)).toContain('no-correction-known');
    const instruments = {
      balance: known,
      thermometer: known,
      airThermometer: known,
      barometer: { corrections: [{ at: '990', correction: '0' }] },
      hygrometer: known,
    };
    const findings = run({ instruments }).findings;
    expect(codes(findings)).not.toContain('no-correction-known');
    // filled 160.8371 g and 992.5 hPa lie beyond; empty, both temperatures and the humidity do not
    expect(codes(findings).filter((code) => code === 'correction-extrapolated')).toHaveLength(2);
  });

  it('of the thermometer do not touch an assumed temperature', () => {
    const instruments = { thermometer: { corrections: [{ at: '20', correction: '-0.5' }] } };
    const result = run({ instruments }, { waterTemperatureHalfWidthC: '1' });
    expect(result.corrected.waterTemperatureC).toBe(21.3);
    expect(codes(result.findings)).toContain('water-temperature-assumed');
  });
});

describe('evaporation', () => {
  it('adds rate times open time to the mass', () => {
    // 2 mg/min for 90 s: 3 mg
    const result = run(withConditions({ evaporationMgPerMin: '2' }), { openTimeS: '90' });
    expect(result.evaporationG).toBeCloseTo(0.003, 12);
    expect(result.massG).toBeCloseTo(99.6367, 9);
  });

  it('is asked about below 0.2 mL', () => {
    const vessel = flask({ nominalVolumeMl: '0.1', tolerance: { markedMl: '0.01' } });
    const small = { pointMl: '0.1', emptyG: '1.0000', filledG: '1.0990' };
    expect(codes(run({ vessel }, small).findings)).toContain('evaporation-unknown');
    const known = run({ vessel, ...withConditions({ evaporationMgPerMin: '0' }) }, { ...small, openTimeS: '10' });
    expect(codes(known.findings)).not.toContain('evaporation-unknown');
  });
});

describe('water', () => {
  it('of a stated grade is pure', () => {
    for (const waterGrade of ['grade-1', 'grade-2', 'grade-3', 'distilled', 'deionised'] as const) {
      const result = run(withConditions({ waterGrade }));
      expect(result.waterDensityGPerMl).toBe(waterDensityKgPerM3(21.3) / 1000);
      expect(codes(result.findings)).not.toContain('water-grade-not-stated');
    }
  });

  it('from the tap is denser, by its conductivity or by 200 ppm', () => {
    const pure = run().waterDensityGPerMl;
    const measured = run(withConditions({ waterGrade: 'tap', conductivityUsPerCm: '500' }));
    expect((measured.waterDensityGPerMl / pure - 1) * 1e6).toBeCloseTo(250, 6);
    expect(codes(measured.findings)).not.toContain('tap-water-assumed');
    const assumed = run(withConditions({ waterGrade: 'tap' }));
    expect((assumed.waterDensityGPerMl / pure - 1) * 1e6).toBeCloseTo(200, 6);
    expect(codes(assumed.findings)).toContain('tap-water-assumed');
  });

  it('not stated counts as pure and says so', () => {
    for (const waterGrade of ['not-stated', null] as const) {
      const result = run(withConditions({ waterGrade }));
      expect(result.waterDensityGPerMl).toBe(waterDensityKgPerM3(21.3) / 1000);
      expect(codes(result.findings)).toContain('water-grade-not-stated');
    }
  });

  it('with dissolved air is lighter, where set', () => {
    // −2.35 ppm at 21.3 °C: (−4.612e-3 + 1.06e-4·21.3)/997.929
    const ppm = (run(withConditions({ dissolvedAir: true })).waterDensityGPerMl / run().waterDensityGPerMl - 1) * 1e6;
    expect(ppm).toBeCloseTo((-4.612e-3 + 1.06e-4 * 21.3) / 997.92948e-6, 3);
    const warm = run(withConditions({ dissolvedAir: true }), { waterTemperatureC: '25.1' });
    expect(codes(warm.findings)).toContain('dissolved-air-extrapolated');
  });
});

describe('air', () => {
  it('not measured is 20 °C, 1013.25 hPa, 50 %, and says so', () => {
    const result = run({ conditions: { waterGrade: 'grade-3' } });
    expect(result.air).toEqual({
      temperatureC: 20,
      pressureHpa: 1013.25,
      relativeHumidityPercent: 50,
      measured: { temperature: false, pressure: false, humidity: false },
    });
    expect(codes(result.findings)).toContain('air-assumed');
    expect(codes(run().findings)).not.toContain('air-assumed');
  });

  it('not measured at altitude is the standard atmosphere there', () => {
    // ISO 2533: 845.56 hPa at 1500 m
    const high = run({ conditions: {}, laboratory: { altitudeM: '1500' } });
    expect(Math.abs(high.air.pressureHpa - 845.56)).toBeLessThanOrEqual(0.005);
  });

  it('of the trial wins over a later reading, that over the conditions', () => {
    const conditionReadings = [
      { afterTrial: 2, airTemperatureC: '22.4' },
      { afterTrial: 4, airPressureHpa: '990.0' },
    ];
    const air = (number: number, own: Partial<TrialFacts> = {}) => run({ conditionReadings }, own, number).air;
    expect(air(2)).toMatchObject({ temperatureC: 21.8, pressureHpa: 992.5 });
    expect(air(3)).toMatchObject({ temperatureC: 22.4, pressureHpa: 992.5, relativeHumidityPercent: 48 });
    expect(air(5)).toMatchObject({ temperatureC: 22.4, pressureHpa: 990 });
    expect(air(5, { airTemperatureC: '20.1' })).toMatchObject({ temperatureC: 20.1, pressureHpa: 990 });
  });

  it.each([
    ['14.9', true],
    ['15', false],
    ['27', false],
    ['27.1', true],
  ])('at %s °C: extrapolated %s', (airTemperatureC, extrapolated) => {
    const found = codes(run(withConditions({ airTemperatureC })).findings);
    expect(found.includes('air-formula-extrapolated')).toBe(extrapolated);
  });

  it.each([
    ['849.9', null, true],
    ['850', null, false],
    ['1013', '1500', true],
    ['850', '1500', false],
  ])('%s hPa at altitude %s: unusual %s', (airPressureHpa, altitudeM, unusual) => {
    const found = codes(run({ ...withConditions({ airPressureHpa }), laboratory: { altitudeM } }).findings);
    expect(found.includes('air-pressure-unusual')).toBe(unusual);
  });
});

describe('findings of the work', () => {
  it.each([
    ['23.8', []],
    ['23.9', ['water-air-difference']],
    ['27', ['water-air-difference-strong']],
  ])('water at %s °C in air of 21.8 °C', (waterTemperatureC, expected) => {
    const found = codes(run({}, { waterTemperatureC }).findings);
    expect(found.filter((code) => code.startsWith('water-air'))).toEqual(expected);
  });

  it('plastics bear only half a kelvin', () => {
    const vessel = flask({ material: 'polypropylene' });
    expect(codes(run({ vessel }, { waterTemperatureC: '22.4' }).findings)).toContain('water-air-difference');
    expect(codes(run({ vessel }, { waterTemperatureC: '22.2' }).findings)).not.toContain('water-air-difference');
  });

  it('water colder than the dew point and one kelvin', () => {
    // 21.8 °C and 80 %: dew point about 18.2 °C
    const humid = withConditions({ relativeHumidityPercent: '80' });
    expect(codes(run(humid, { waterTemperatureC: '19.0' }).findings)).toContain('below-dew-point');
    expect(codes(run(humid, { waterTemperatureC: '19.5' }).findings)).not.toContain('below-dew-point');
  });

  it('a filled reading above the capacity of the balance', () => {
    expect(codes(run({ instruments: { balance: { capacityG: '160' } } }).findings)).toContain('above-capacity');
    expect(codes(run({ instruments: { balance: { capacityG: '220' } } }).findings)).not.toContain('above-capacity');
  });

  it('a volume far from its point', () => {
    expect(codes(run({}, { filledG: '163.0000' }).findings)).toContain('volume-unusual');
    expect(codes(run().findings)).not.toContain('volume-unusual');
  });

  it('an empty reading that no longer agrees with its source', () => {
    const trials = [trial(), trial({ emptySource: 'reused', emptyOf: 1, emptyG: '61.2030' })];
    const second = evaluateTrial(record({ trials }), trials[1] ?? trial(), 2);
    expect(codes(second.findings)).toContain('empty-differs-from-source');
    const carried = trial({ emptySource: 'carried', emptyOf: 1, emptyG: '160.8371', filledG: '260.4708' });
    expect(codes(run({}, carried, 2).findings)).not.toContain('empty-differs-from-source');
  });
});

describe('delivery and waiting times', () => {
  const vessel = flask({
    kind: 'single-volume-pipette',
    nominalVolumeMl: '10',
    basis: 'deliver',
    tolerance: { standard: 'ISO 648', edition: '2008', class: 'AS' },
  });
  const row = rowOf(findTolerance(toleranceRows, vessel));
  const delivered = (facts: Partial<TrialFacts>) => {
    const weighed = trial({ pointMl: '10', emptyG: '20.0000', filledG: '29.9700', ...facts });
    return codes(evaluateTrial(record({ vessel }), weighed, 1, row).findings);
  };

  it('are those of ISO 648 class AS: 5 s, 8 to 12 s (from memory)', () => {
    expect(row).toMatchObject({ waitTimeS: 5, deliveryTimeS: { min: 8, max: 12 } });
    const kept = delivered({ waitingTimeS: '5', deliveryTimeS: '10' });
    expect(kept.filter((code) => code.includes('time'))).toEqual([]);
    expect(delivered({ waitingTimeS: '3', deliveryTimeS: '10' })).toContain('waiting-time-outside');
    expect(delivered({ deliveryTimeS: '10' })).toContain('waiting-time-not-recorded');
    expect(delivered({ waitingTimeS: '5', deliveryTimeS: '13' })).toContain('delivery-time-outside');
    expect(delivered({ waitingTimeS: '5', deliveryTimeS: '7.9' })).toContain('delivery-time-outside');
  });

  it('do not concern a vessel that contains', () => {
    const found = codes(run({}, { waitingTimeS: '3', deliveryTimeS: '1' }).findings);
    expect(found.filter((code) => code.includes('time'))).toEqual([]);
  });
});
