import { describe, expect, it } from 'vitest';
import { drawAll } from '../../../server/metrology/monte-carlo.ts';
import { dilutionModels } from '../../../server/metrology/solutions/dilute.ts';
import type { Dilution } from '../../../server/metrology/solutions/dilute.ts';
import { drawnModel, propagate } from '../../../server/metrology/solutions/propagate.ts';
import { oneUseUncertaintyMl } from '../../../server/metrology/solutions/vessel-in-use.ts';
import { room, vessel } from './make.ts';

/** ISO 648:2008 class A, 10 mL: 0.02 mL; ISO 1042:1998 class A, 100 mL: 0.1 mL. */
const PIPETTE = vessel('P', 10, { toleranceMl: 0.02, spread: { sdMl: 0.002, degreesOfFreedom: null } });
const FLASK = vessel('F', 100, { toleranceMl: 0.1, spread: { sdMl: 0.01, degreesOfFreedom: null } });

const CHAIN: Dilution = {
  stock: {
    known: 'concentration',
    key: 'stock',
    value: 1,
    unit: 'mol/L',
    standardUncertainty: 0,
    degreesOfFreedom: null,
  },
  steps: Array.from({ length: 4 }, () => ({ deliveries: [PIPETTE], madeUpIn: FLASK })),
  temperature: room(20, 0),
  expansion: { by: 'water' },
  quotedC: 20,
};

/** Numbers between 0 and 1, a generator apart from the one under test. */
function* uniform(seed: number): Generator<number> {
  let state = seed;
  for (;;) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    yield (state + 0.5) / 2 ** 32;
  }
}

/** A simulation of its own: each vessel's error drawn once, each filling anew. */
function simulate(draws: number): number {
  const random = uniform(7);
  const next = (): number => random.next().value as number;
  const triangle = (halfWidth: number): number => halfWidth * (next() - next());
  const normal = (sd: number): number => sd * Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
  let sum = 0;
  let squares = 0;
  for (let draw = 0; draw < draws; draw += 1) {
    const pipette = 10 + triangle(0.02);
    const flask = 100 + triangle(0.1);
    let c = 1;
    for (let step = 0; step < 4; step += 1) c *= (pipette + normal(0.002)) / (flask + normal(0.01));
    const relative = c / 1e-4 - 1;
    sum += relative;
    squares += relative ** 2;
  }
  return Math.sqrt((squares - sum ** 2 / draws) / (draws - 1));
}

describe('four steps of 10 to 100 mL with the same pipette and flask', () => {
  const models = dilutionModels(CHAIN);
  const last = models[3] as (typeof models)[number];
  const { value, combined } = propagate(last, 0.95);

  it('are as uncertain as a simulation that draws each vessel’s error once', () => {
    expect(value).toBeCloseTo(1e-4, 12);
    expect(combined / value / simulate(60_000)).toBeCloseTo(1, 2);
  });

  it('would look far more certain if the steps were taken as independent', () => {
    const one = Math.hypot(oneUseUncertaintyMl(PIPETTE) / 10, oneUseUncertaintyMl(FLASK) / 100);
    const independent = 2 * one;
    // 4 to √4 with spreads of single fillings beside: about 40 to 50 % short.
    expect(1 - independent / (combined / value)).toBeGreaterThan(0.35);
    expect(1 - independent / (combined / value)).toBeLessThan(0.5);
  });

  it('agree with the draws of the same model', () => {
    const drawn = drawAll(drawnModel(last), {
      seed: 11,
      probability: 0.95,
      tolerance: null,
      leastDraws: 100_000,
      mostDraws: 100_000,
    });
    expect(drawn.standardUncertainty / combined).toBeCloseTo(1, 2);
  });

  it('list each vessel once', () => {
    const keys = last.influences.map(({ key }) => key).filter((key) => key.endsWith(':calibration'));
    expect(keys).toEqual(['vessel:P:calibration', 'vessel:F:calibration']);
  });
});

describe('a stock by density and mass fraction', () => {
  it('of hydrochloric acid, 37 % and 1.18 g/mL, is 12 mol/L', () => {
    // Common practice, no source: concentrated hydrochloric acid is about 12 mol/L.
    const [model] = dilutionModels({
      ...CHAIN,
      stock: {
        known: 'density',
        key: 'acid',
        atoms: [
          { symbol: 'H', count: 1 },
          { symbol: 'Cl', count: 1 },
        ],
        densityGPerMl: 1.18,
        densityHalfWidth: 0.01,
        massFraction: 0.37,
        massFractionHalfWidth: 0.01,
      },
      steps: [{ deliveries: [PIPETTE], madeUpIn: FLASK }],
    });
    expect(model && propagate(model, 0.95).value).toBeCloseTo(1.2, 1);
  });
});
