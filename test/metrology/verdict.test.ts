import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judge, vesselVerdict } from '../../server/metrology/verdict.ts';
import type { Verdict } from '../../server/metrology/result.ts';

function verdict(
  rule: 'guarded' | 'simple',
  toleranceMl: number,
  biasMl: number,
  expandedUncertaintyMl: number,
): Verdict {
  return judge({ rule, toleranceMl, biasMl, expandedUncertaintyMl, undecided: false });
}

describe('decision rules, cases of ILAC-G8:09/2019 worked out in numbers', () => {
  // T, e, U, guarded with w = U (non-binary), simple
  const cases: [string, number, number, number, Verdict, Verdict][] = [
    ['well inside', 0.1, 0.06, 0.03, 'pass', 'pass'],
    ['on the acceptance limit', 0.1, 0.07, 0.03, 'pass', 'pass'],
    ['between acceptance and tolerance limit', 0.1, 0.085, 0.03, 'conditional-pass', 'pass'],
    ['on the tolerance limit', 0.1, 0.1, 0.03, 'conditional-pass', 'pass'],
    ['just outside', 0.1, 0.115, 0.03, 'conditional-fail', 'fail'],
    ['far outside', 0.1, 0.14, 0.03, 'fail', 'fail'],
    // U = T leaves a single point, which no measurement hits: not decidable under either rule
    ['U equals T', 0.1, 0, 0.1, 'not-decidable', 'not-decidable'],
    ['U half of T', 0.1, 0.02, 0.05, 'pass', 'pass'],
    ['negative bias, small U', 0.02, -0.0219, 0.00138, 'fail', 'fail'],
    ['U one third', 0.06, 0.03, 0.02, 'pass', 'pass'],
    ['U one quarter', 0.06, 0.03, 0.015, 'pass', 'pass'],
    ['flask of 100 mL', 0.1, -0.059079, 0.0072546, 'pass', 'pass'],
  ];

  it.each(cases)('%s: T %d, e %d, U %d', (_name, tolerance, bias, uncertainty, guarded, simple) => {
    expect(verdict('guarded', tolerance, bias, uncertainty)).toBe(guarded);
    expect(verdict('simple', tolerance, bias, uncertainty)).toBe(simple);
  });

  it('simple with U above a third of T passes only what is beyond doubt', () => {
    expect(verdict('simple', 0.1, 0.059, 0.04)).toBe('pass');
    expect(verdict('simple', 0.1, 0.061, 0.04)).toBe('not-decidable');
    expect(verdict('simple', 0.1, 0.141, 0.04)).toBe('fail');
  });

  it('fails beyond doubt even where U exceeds T', () => {
    expect(verdict('guarded', 0.1, 0.31, 0.2)).toBe('fail');
    expect(verdict('simple', 0.1, -0.31, 0.2)).toBe('fail');
    expect(verdict('guarded', 0.1, 0.29, 0.2)).toBe('not-decidable');
  });

  it('an undecided point fails beyond doubt or stays undecided', () => {
    const one = { rule: 'guarded', toleranceMl: 0.1, expandedUncertaintyMl: 0.01, undecided: true } as const;
    expect(judge({ ...one, biasMl: 0 })).toBe('not-decidable');
    expect(judge({ ...one, biasMl: 0.12 })).toBe('fail');
  });

  it('compares bias and tolerance alone where no uncertainty was worked out', () => {
    const alone = { rule: 'guarded', toleranceMl: 0.1, expandedUncertaintyMl: null, undecided: false } as const;
    expect(judge({ ...alone, biasMl: -0.1 })).toBe('pass');
    expect(judge({ ...alone, biasMl: 0.1001 })).toBe('fail');
  });

  it('counts the last bit of a double as equal', () => {
    // 0.1 + 0.2 is 0.30000000000000004
    expect(verdict('guarded', 0.3, 0.1 + 0.2, 0)).toBe('pass');
    expect(verdict('guarded', 0.1, 0.1 - 0.03, 0.03)).toBe('pass');
    expect(verdict('guarded', 0.1, 0.07 + 3e-10, 0.03)).toBe('conditional-pass');
  });
});

describe('properties', () => {
  const inputs = fc.record({
    toleranceMl: fc.double({ min: 0.001, max: 10, noNaN: true }),
    share: fc.double({ min: -3, max: 3, noNaN: true }),
    ratio: fc.double({ min: 0, max: 1.5, noNaN: true }),
    rule: fc.constantFrom('guarded' as const, 'simple' as const),
  });

  it('does not mind the sign of the bias', () => {
    fc.assert(
      fc.property(inputs, ({ toleranceMl, share, ratio, rule }) => {
        const at = (sign: number) => verdict(rule, toleranceMl, sign * share * toleranceMl, ratio * toleranceMl);
        expect(at(1)).toBe(at(-1));
      }),
    );
  });

  it('never gets better as the bias grows', () => {
    const rank = ['pass', 'conditional-pass', 'not-decidable', 'conditional-fail', 'fail'];
    fc.assert(
      fc.property(inputs, fc.double({ min: 0, max: 1, noNaN: true }), ({ toleranceMl, share, ratio, rule }, more) => {
        const nearer = verdict(rule, toleranceMl, Math.abs(share) * toleranceMl, ratio * toleranceMl);
        const further = verdict(rule, toleranceMl, (Math.abs(share) + more) * toleranceMl, ratio * toleranceMl);
        expect(rank.indexOf(further)).toBeGreaterThanOrEqual(rank.indexOf(nearer));
      }),
    );
  });
});

describe('verdict of a vessel', () => {
  it('is the gravest of its points', () => {
    expect(vesselVerdict(['pass', 'conditional-pass', 'pass'])).toBe('conditional-pass');
    expect(vesselVerdict(['conditional-pass', 'not-decidable'])).toBe('not-decidable');
    expect(vesselVerdict(['not-decidable', 'conditional-fail'])).toBe('conditional-fail');
    expect(vesselVerdict(['conditional-fail', 'fail', 'pass'])).toBe('fail');
    expect(vesselVerdict(['none-stated', 'none-stated'])).toBe('none-stated');
  });

  it('waits until every point has one', () => {
    expect(vesselVerdict(['fail', null])).toBeNull();
    expect(vesselVerdict([])).toBeNull();
  });
});
