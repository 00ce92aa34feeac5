import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { airDensityKgPerM3 } from '../../server/metrology/air-density.ts';
import { COMPONENT_NAMES } from '../../server/metrology/component.ts';
import { evaluate } from '../../server/metrology/evaluate.ts';
import { completeInputs } from '../../server/metrology/mean-inputs.ts';
import type { RawInputs } from '../../server/metrology/mean-inputs.ts';
import type { BalanceFacts, CalibrationRecord, ConditionFacts } from '../../server/metrology/record.ts';
import type { BudgetLine, PointResult } from '../../server/metrology/result.ts';
import { sensitivities } from '../../server/metrology/sensitivity.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { massToVolumeFactor } from '../../server/metrology/volume.ts';
import { readJson, valueOf, workedExample } from './fixture.ts';
import { codes, flask, record, trial, trialsOf } from './make.ts';

function point(changes: Partial<CalibrationRecord> = {}): PointResult {
  return evaluate(record({ trials: trialsOf(['99.70', '99.71', '99.72']), ...changes }), toleranceRows)
    .points[0] as PointResult;
}

function line(result: PointResult, component: string): BudgetLine {
  const found = result.budget.find((one) => one.component === component);
  if (found === undefined) throw new Error(`no ${component}`);
  return found;
}

interface Reference {
  name: string;
  record: CalibrationRecord;
  expected: Record<string, number> & { contributionsMl: Record<string, number> };
}

const { budgets } = readJson('examples/budgets.json') as { budgets: Reference[] };

describe('whole budgets against an independent program with central differences', () => {
  it.each(budgets)('$name', ({ record: given, expected }) => {
    const result = evaluate(given, toleranceRows).points[0] as PointResult;
    expect(result.budget.map((one) => one.component)).toEqual([...COMPONENT_NAMES]);
    for (const one of result.budget) {
      const reference = expected.contributionsMl[one.component] ?? Number.NaN;
      expect(Math.abs(one.contributionMl - reference), one.component).toBeLessThanOrEqual(2e-6 * reference);
    }
    expect(Math.abs((result.meanMl ?? 0) / valueOf(expected, 'meanMl') - 1)).toBeLessThan(1e-12);
    for (const key of [
      'sdMl',
      'combinedUncertaintyMl',
      'effectiveDegreesOfFreedom',
      'coverageFactor',
      'expandedUncertaintyMl',
      'probabilityOfConformity',
      'singleUseUncertaintyMl',
    ] as const) {
      const value = result[key];
      const reference = valueOf(expected, key);
      expect(Math.abs((value ?? Number.NaN) - reference), key).toBeLessThanOrEqual(5e-6 * Math.abs(reference));
    }
  });
});

describe('a flask worked out by an independent program', () => {
  const { inputs, expected } = workedExample('bench-flask-100mL-classA');
  const air = { temperature: true, pressure: true, humidity: true };
  const raw: RawInputs = {
    massG: (inputs['masses_g'] as number[]).reduce((sum, one) => sum + one, 0) / 10,
    waterC: valueOf(inputs, 't_water_C'),
    waterHalfWidthC: null,
    airC: valueOf(inputs, 't_air_C'),
    pressureHpa: valueOf(inputs, 'p_Pa') / 100,
    humidityPercent: 100 * valueOf(inputs, 'rh'),
    measured: air,
    evaporationG: 0,
    massStepG: 0.0001,
    waterStepC: 0.1,
    conditions: {},
    expansionPerK: valueOf(inputs, 'gamma'),
    referenceC: 20,
  };
  const by = sensitivities(completeInputs(raw));
  const reference = expected['sensitivity'] as Record<string, number>;

  it.each([
    ['dV_dm_mL_per_g', by.perG, 5e-8],
    ['dV_dt_mL_per_K', by.perWaterK, 5e-9],
    ['dV_drho_w', by.perWaterKgPerM3, 5e-8],
    ['dV_drho_a', by.perAirKgPerM3, 5e-8],
    ['dV_drho_b', by.perWeightsKgPerM3, 5e-13],
    ['dV_dgamma', by.perExpansion, 5e-5],
  ])('%s', (key, value, half) => {
    expect(Math.abs(value - valueOf(reference, key))).toBeLessThanOrEqual(half);
  });

  it('mean and spread', () => {
    const masses = (inputs['masses_g'] as number[]).map((mass) => mass.toFixed(4));
    const result = point({ trials: trialsOf(masses) });
    expect(Math.abs((result.meanMl ?? 0) - valueOf(expected, 'mean_V20_mL'))).toBeLessThanOrEqual(5e-7);
    expect(Math.abs((result.sdMl ?? 0) - valueOf(expected, 'sd_mL'))).toBeLessThanOrEqual(5e-9);
    expect(Math.abs((result.biasMl ?? 0) - valueOf(expected, 'bias_mL'))).toBeLessThanOrEqual(5e-7);
  });
});

describe('the conversion grid of an independent program', () => {
  const grid = workedExample('bench-conversion-grid').expected as unknown as Record<string, number>[];

  it.each(grid)('$m_g g at $t_w_C °C', (row) => {
    const [t, rb] = [valueOf(row, 't_w_C'), valueOf(row, 'rho_b')];
    const air = airDensityKgPerM3(valueOf(row, 't_a_C'), valueOf(row, 'p_Pa') / 100, 100 * valueOf(row, 'rh'));
    const z = massToVolumeFactor(valueOf(row, 'rho_w'), air, rb);
    const v20 = valueOf(row, 'm_g') * z * (1 - valueOf(row, 'gamma') * (t - 20));
    expect(Math.abs(v20 / valueOf(row, 'V20_mL') - 1)).toBeLessThan(1e-7);
    expect(Math.abs(air - valueOf(row, 'rho_a'))).toBeLessThanOrEqual(0.5e-7);
  });
});

describe('sensitivities', () => {
  const raws = fc.record({
    massG: fc.double({ min: 0.1, max: 2000, noNaN: true }),
    waterC: fc.double({ min: 6, max: 38, noNaN: true }),
    airC: fc.double({ min: 15, max: 27, noNaN: true }),
    pressureHpa: fc.double({ min: 700, max: 1080, noNaN: true }),
    humidityPercent: fc.double({ min: 0, max: 100, noNaN: true }),
    expansionPerK: fc.constantFrom(0, 9.9e-6, 27e-6, 450e-6),
    referenceC: fc.constantFrom(20, 27),
    conditions: fc.constantFrom<ConditionFacts>({}, { waterGrade: 'tap' }, { dissolvedAir: true }),
  });

  it('are the central differences of the volume equation', () => {
    fc.assert(
      fc.property(raws, (drawn) => {
        const raw: RawInputs = {
          ...drawn,
          waterHalfWidthC: null,
          measured: { temperature: true, pressure: true, humidity: true },
          evaporationG: 0,
          massStepG: 0.001,
          waterStepC: 0.1,
        };
        const inputs = completeInputs(raw);
        const by = sensitivities(inputs);
        const slope = (key: 'massG' | 'waterC' | 'expansionPerK' | 'airC' | 'pressureHpa', step: number) =>
          (completeInputs({ ...raw, [key]: raw[key] + step }).volumeMl -
            completeInputs({ ...raw, [key]: raw[key] - step }).volumeMl) /
          (2 * step);
        const close = (value: number, reference: number) =>
          expect(Math.abs(value - reference)).toBeLessThanOrEqual(1e-6 * Math.abs(reference) + 1e-8 * raw.massG);
        close(by.perG, slope('massG', 1e-3 * raw.massG));
        close(by.perWaterK, slope('waterC', 1e-2));
        close(by.perExpansion, slope('expansionPerK', 1e-7));
        close(by.perAirKgPerM3 * inputs.air.perC, slope('airC', 1e-2));
        close(by.perAirKgPerM3 * inputs.air.perHpa, slope('pressureHpa', 1e-1));
      }),
    );
  });
});

describe('the budget', () => {
  it('closes on the combined uncertainty', () => {
    const result = point();
    const sum = result.budget.reduce((total, one) => total + one.contributionMl ** 2, 0);
    expect(Math.sqrt(sum)).toBeCloseTo(result.combinedUncertaintyMl ?? 0, 14);
    for (const one of result.budget) {
      expect(one.contributionMl).toBeCloseTo(Math.abs(one.sensitivity) * one.standardUncertainty, 14);
    }
    expect(result.expandedUncertaintyMl).toBeCloseTo(
      (result.coverageFactor ?? 0) * (result.combinedUncertaintyMl ?? 0),
      14,
    );
  });

  it('marks as assumed what nobody knows, and nothing of a set-up that is named throughout', () => {
    const named = (budgets[0] as Reference).record;
    const result = evaluate(named, toleranceRows).points[0] as PointResult;
    expect(result.budget.filter((one) => one.assumed)).toEqual([]);
    const assumed = point({ conditions: {} })
      .budget.filter((one) => one.assumed)
      .map((one) => one.component);
    expect(assumed).toEqual([
      'balance-resolution',
      'balance-linearity',
      'balance-calibration',
      'water-temperature',
      'water-purity',
      'air-temperature',
      'air-pressure',
      'air-humidity',
    ]);
  });

  it('has degrees of freedom only where they are finite', () => {
    expect(line(point(), 'repeatability').degreesOfFreedom).toBe(2);
    expect(line(point(), 'balance-calibration').degreesOfFreedom).toBeNull();
    const equal = point({ trials: trialsOf(['99.70', '99.70', '99.70']) });
    // no spread at all: normal distribution
    expect(equal).toMatchObject({ sdMl: 0, effectiveDegreesOfFreedom: null });
    expect(equal.coverageFactor).toBeCloseTo(2.0000024, 6);
  });
});

describe('the balance', () => {
  const u = (balance: BalanceFacts, component: string, conditions: ConditionFacts = {}) =>
    line(point({ instruments: { balance }, conditions }), component).standardUncertainty;

  it('rounds twice: d/√6, d its own or the last digit of the filled reading', () => {
    expect(u({ resolutionG: '0.001' }, 'balance-resolution')).toBeCloseTo(0.001 / Math.sqrt(6), 15);
    expect(line(point(), 'balance-resolution').standardUncertainty).toBeCloseTo(0.01 / Math.sqrt(6), 15);
  });

  it('is not straight: a·√(2/3), a two last digits where not known', () => {
    expect(u({ linearityG: '0.003' }, 'balance-linearity')).toBeCloseTo(0.003 * Math.sqrt(2 / 3), 15);
    expect(u({ resolutionG: '0.001' }, 'balance-linearity')).toBeCloseTo(0.002 * Math.sqrt(2 / 3), 15);
  });

  it('is calibrated to (U_g + U_rel·m)/k, each 0 where only the other is known', () => {
    const m = 99.71;
    const both = { expandedUncertaintyG: '0.002', expandedUncertaintyRelative: '0.00001', coverageFactor: '2.5' };
    expect(u(both, 'balance-calibration')).toBeCloseTo((0.002 + 1e-5 * m) / 2.5, 12);
    expect(u({ expandedUncertaintyG: '0.002' }, 'balance-calibration')).toBeCloseTo(0.001, 12);
    expect(u({ expandedUncertaintyRelative: '0.00001' }, 'balance-calibration')).toBeCloseTo(0.5e-5 * m, 12);
  });

  it('without certificate is off by 1e-4, by 1.5e-5 when adjusted on the day', () => {
    expect(u({}, 'balance-calibration')).toBeCloseTo((1e-4 * 99.71) / Math.sqrt(3), 12);
    expect(u({}, 'balance-calibration', { adjustedToday: true })).toBeCloseTo((1.5e-5 * 99.71) / Math.sqrt(3), 12);
  });

  it('drifts by δ; not knowing it is a finding only beside a certificate on another day', () => {
    const balance = { expandedUncertaintyG: '0.002' };
    expect(u({ driftRelative: '0.00002' }, 'balance-drift')).toBeCloseTo((2e-5 * 99.71) / Math.sqrt(3), 12);
    const found = (facts: BalanceFacts, conditions: ConditionFacts = {}) =>
      codes(point({ instruments: { balance: facts }, conditions }).findings).includes('balance-drift-unknown');
    expect(found(balance)).toBe(true);
    expect(found(balance, { adjustedToday: true })).toBe(false);
    expect(found({})).toBe(false);
    expect(found({ ...balance, driftRelative: '0' })).toBe(false);
  });

  it('has what its certificate covers set to 0 and says so, but keeps the spread', () => {
    const balance: BalanceFacts = {
      expandedUncertaintyG: '0.002',
      certificateCovers: ['resolution', 'linearity', 'repeatability'],
    };
    const result = point({ instruments: { balance } });
    for (const component of ['balance-resolution', 'balance-linearity']) {
      expect(line(result, component)).toMatchObject({
        contributionMl: 0,
        source: 'in the certificate',
        assumed: false,
      });
    }
    expect(line(result, 'repeatability').contributionMl).toBeGreaterThan(0);
    const uncertified = point({ instruments: { balance: { certificateCovers: ['resolution'] } } });
    expect(line(uncertified, 'balance-resolution').contributionMl).toBeGreaterThan(0);
  });

  it('with typed degrees of freedom counts with them', () => {
    const balance = { expandedUncertaintyG: '0.2', degreesOfFreedom: 5 };
    const result = point({ instruments: { balance } });
    expect(line(result, 'balance-calibration').degreesOfFreedom).toBe(5);
    expect(result.effectiveDegreesOfFreedom).toBeGreaterThan(5);
    expect(result.effectiveDegreesOfFreedom).toBeLessThan(8);
  });
});

describe('the water', () => {
  const u = (changes: Partial<CalibrationRecord>) => line(point(changes), 'water-temperature').standardUncertainty;
  const root = (...parts: number[]) => Math.sqrt(parts.reduce((sum, part) => sum + part ** 2, 0));

  it('temperature: certificate, last digit, gradient', () => {
    const thermometer = { expandedUncertaintyC: '0.06', coverageFactor: '3', resolutionC: '0.01', gradientC: '0.2' };
    const whole = root(0.06 / 3, 0.01 / Math.sqrt(12), 0.2 / Math.sqrt(3));
    expect(u({ instruments: { thermometer } })).toBeCloseTo(whole, 14);
  });

  it('temperature of a thermometer with gaps: 0.5 K, the typed digits, a gradient of 0.1 K', () => {
    const gaps = root(0.5 / Math.sqrt(3), 0.1 / Math.sqrt(12), 0.1 / Math.sqrt(3));
    expect(u({ instruments: { thermometer: {} } })).toBeCloseTo(gaps, 14);
  });

  it('temperature without thermometer: half-width 0.5 K; assumed: the half-width typed', () => {
    expect(u({})).toBeCloseTo(0.5 / Math.sqrt(3), 14);
    const trials = trialsOf(['99.70', '99.71'], { waterTemperatureHalfWidthC: '1.5' });
    expect(u({ trials, instruments: { thermometer: { expandedUncertaintyC: '0.1' } } })).toBeCloseTo(
      1.5 / Math.sqrt(3),
      14,
    );
  });

  it('purity: nothing for grades, 30 % of the correction with κ, 200 ppm without', () => {
    const c = (conditions: ConditionFacts) => {
      const result = point({ conditions });
      return line(result, 'water-purity').contributionMl / (result.meanMl ?? 1);
    };
    expect(c({ waterGrade: 'grade-1' })).toBe(0);
    expect(c({ waterGrade: 'not-stated' })).toBe(0);
    expect(c({ waterGrade: 'tap' })).toBeCloseTo(200e-6 / Math.sqrt(3), 9);
    expect(c({ waterGrade: 'tap', conductivityUsPerCm: '400' })).toBeCloseTo((0.3 * 200e-6) / Math.sqrt(3), 9);
  });
});

describe('the air', () => {
  const u = (component: string, changes: Partial<CalibrationRecord>) =>
    line(point(changes), component).standardUncertainty;

  it('takes a typed half-width before the instrument, the instrument before the default', () => {
    const barometer = { expandedUncertaintyHpa: '1', coverageFactor: '2' };
    const conditions = { airPressureHpa: '1000' };
    const typed = { ...conditions, airPressureHalfWidthHpa: '3' };
    expect(u('air-pressure', { conditions: typed, instruments: { barometer } })).toBeCloseTo(3 / Math.sqrt(3), 14);
    expect(u('air-pressure', { conditions, instruments: { barometer } })).toBeCloseTo(0.5, 14);
    expect(u('air-pressure', { conditions, instruments: { barometer: {} } })).toBeCloseTo(20 / Math.sqrt(3), 14);
    expect(u('air-pressure', { conditions })).toBeCloseTo(20 / Math.sqrt(3), 14);
  });

  it('not measured is known to 100 hPa, to 20 hPa once the altitude is set', () => {
    const barometer = { expandedUncertaintyHpa: '1' };
    expect(u('air-pressure', { conditions: {}, instruments: { barometer } })).toBeCloseTo(100 / Math.sqrt(3), 13);
    expect(u('air-pressure', { conditions: {}, laboratory: { altitudeM: '300' } })).toBeCloseTo(20 / Math.sqrt(3), 13);
  });

  it('is never measured by the water thermometer', () => {
    const thermometer = { expandedUncertaintyC: '0.02' };
    expect(u('air-temperature', { instruments: { thermometer } })).toBeCloseTo(2 / Math.sqrt(3), 14);
    const airThermometer = { expandedUncertaintyC: '0.02' };
    expect(u('air-temperature', { instruments: { airThermometer } })).toBeCloseTo(0.01, 14);
  });

  it('formula: 2.2e-5 where stated, 2e-4 outside', () => {
    const ratio = (airTemperatureC: string) => {
      const one = line(point({ conditions: { airTemperatureC } }), 'air-density-formula');
      return one.standardUncertainty / (one.value ?? 1);
    };
    expect(ratio('27')).toBeCloseTo(2.2e-5, 12);
    expect(ratio('27.1')).toBeCloseTo(2e-4, 12);
  });
});

describe('the vessel', () => {
  it.each([
    ['borosilicate-3.3', 9.9e-6 * 0.05],
    ['borosilicate-5.0', 15e-6 * 0.05],
    ['soda-lime', 27e-6 * 0.1],
    ['glass', 18e-6 * 0.5],
    ['fused-silica', 1.6e-6 * 0.05],
    ['stainless-steel', 48e-6 * 0.05],
    ['polypropylene', 450e-6 * 0.2],
    ['polymethylpentene', 350e-6 * 0.2],
    ['polycarbonate', 200e-6 * 0.2],
    ['polystyrene', 210e-6 * 0.2],
    ['polyethylene', 500e-6 * 0.2],
  ] as const)('%s: half-width of the coefficient %d 1/K', (material, halfWidth) => {
    const one = line(point({ vessel: flask({ material }) }), 'expansion');
    expect(one.standardUncertainty).toBeCloseTo(halfWidth / Math.sqrt(3), 15);
  });

  it('typed coefficients are known to 5 %', () => {
    const one = line(point({ vessel: flask({ material: 'glass', expansionPerK: '0.00001' }) }), 'expansion');
    expect(one.standardUncertainty).toBeCloseTo(0.5e-6 / Math.sqrt(3), 15);
  });

  it('may be warmer than the water by a quarter of the difference to the air, at least 0.2 K', () => {
    const u = (airTemperatureC: string) =>
      line(point({ conditions: { airTemperatureC } }), 'vessel-temperature').standardUncertainty;
    expect(u('21.8')).toBeCloseTo(0.2 / Math.sqrt(3), 14);
    expect(u('25.3')).toBeCloseTo(1 / Math.sqrt(3), 12);
  });

  it('evaporates: half of e·t as half-width', () => {
    const trials = trialsOf(['99.70', '99.71'], { openTimeS: '60' });
    const result = point({ trials, conditions: { evaporationMgPerMin: '4' } });
    expect(line(result, 'evaporation').standardUncertainty).toBeCloseTo(0.002 / Math.sqrt(3), 12);
    expect(line(point(), 'evaporation').standardUncertainty).toBe(0);
  });
});

describe('a trial that was tared', () => {
  it('gives the same uncertainty as one weighed empty', () => {
    const weighed = point({ trials: [trial({ filledG: '160.9100' }), trial({ filledG: '160.9120' })] });
    const tared = point({ trials: trialsOf(['99.7066', '99.7086']) });
    expect(tared.expandedUncertaintyMl).toBeCloseTo(weighed.expandedUncertaintyMl ?? 0, 12);
    expect(tared.meanMl).toBeCloseTo(weighed.meanMl ?? 0, 10);
  });
});
