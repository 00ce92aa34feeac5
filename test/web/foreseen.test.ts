import { describe, expect, it } from 'vitest';
import { emptyStrip, type ForeseenPoint, hardestPoint, helpsFor, isAboveThird } from '../../web/parts/foreseen.ts';
import { decisionWords } from '../../web/parts/capability.tsx';
import { stripGeometry } from '../../web/plots/tolerance-strip.ts';

// Set by hand: T 0.100 mL, U 0.040 mL, so a pass is possible within 0.060 mL.
const point: ForeseenPoint = {
  pointMl: '100',
  plannedTrials: 5,
  randomLimitMl: null,
  toleranceMl: 0.1,
  repeatability: { kind: 'predicted', sdMl: 0.03, degreesOfFreedom: 4 },
  combinedUncertaintyMl: 0.02,
  effectiveDegreesOfFreedom: 12,
  coverageFactor: 2,
  expandedUncertaintyMl: 0.04,
  ratio: 0.4,
  decidableAtZeroError: true,
  passPossibleWithinMl: 0.06,
  largestComponent: 'repeatability',
  largestShare: 0.6,
  trialsForThird: 8,
  trialsForDecision: 2,
  balances: [],
  budget: [],
  findings: [],
};
const undecided: ForeseenPoint = {
  ...point,
  expandedUncertaintyMl: 0.12,
  ratio: 1.2,
  decidableAtZeroError: false,
  passPossibleWithinMl: null,
  trialsForDecision: 7,
  largestComponent: 'balance-calibration',
  balances: [
    { id: 'coarse', tag: 'TL-1', expandedUncertaintyMl: 0.12, does: false },
    { id: 'fine', tag: 'AB-1', expandedUncertaintyMl: 0.014, does: true },
    { id: 'middling', tag: 'PB-1', expandedUncertaintyMl: 0.05, does: true },
  ],
};

describe('what a set-up can decide', () => {
  it('shows the hardest of several points', () => {
    const capability = { points: [point, { ...point, pointMl: '50', ratio: 0.7 }], decidable: true };
    expect(hardestPoint(capability)?.pointMl).toBe('50');
  });

  it('leaves of the band what U does not take', () => {
    const { band, guard } = stripGeometry(emptyStrip(point), 600, 96);
    // T − U over T = 0.6 by hand.
    expect((guard?.width ?? 0) / (band?.width ?? 1)).toBeCloseTo(0.6, 6);
  });

  it('shows no part of the band where U takes it whole', () => {
    expect(stripGeometry(emptyStrip(undecided), 600, 96).guard).toBeNull();
  });

  it('warns above a third and not at it', () => {
    expect(isAboveThird(0.34)).toBe(true);
    expect(isAboveThird(1 / 3)).toBe(false);
    expect(isAboveThird(null)).toBe(false);
  });

  it('says what passes, and that U is more than a third', () => {
    expect(decisionWords(point, 'guarded')).toMatch(/up to ±0\.060 mL\..*40 % of T/);
  });

  it('says before anyone weighs that it cannot decide', () => {
    expect(decisionWords(undecided, 'guarded')).toMatch(/cannot decide this tolerance: U ≈ 0\.12 mL/);
  });

  it('tells a single trial from a large uncertainty', () => {
    const single = { ...point, plannedTrials: 1, decidableAtZeroError: false };
    expect(decisionWords(single, 'guarded')).toMatch(/a single trial shows no spread/);
  });

  it('names more trials, the best balance, and what the largest component asks for', () => {
    expect(helpsFor(undecided, 'coarse')).toEqual([
      { help: 'trials', count: 7 },
      { help: 'balance', tag: 'AB-1', expandedUncertaintyMl: 0.014 },
      { help: 'balanceFiner' },
      { help: 'tolerance' },
    ]);
  });

  it('does not offer the balance already chosen', () => {
    const only = { ...undecided, balances: undecided.balances.slice(1, 2) };
    expect(helpsFor(only, 'fine').map(({ help }) => help)).not.toContain('balance');
  });
});
