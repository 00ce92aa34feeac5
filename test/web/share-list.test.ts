import { describe, expect, it } from 'vitest';
import { refereeDecimals } from '../../web/parts/referee-words.ts';
import { largestShares, moreWords } from '../../web/parts/share-list.ts';

const line = (component: string, contributionMl: number) => ({
  component,
  value: null,
  unit: 'mL',
  standardUncertainty: contributionMl,
  distribution: 'normal',
  degreesOfFreedom: null,
  sensitivity: 1,
  contributionMl,
  source: '',
  assumed: false,
});

describe('beside the work', () => {
  // 1² + 2² + 4² + 2² = 25, so the shares are 16/25, 4/25, 4/25.
  it('lists the three largest parts of the variance', () => {
    const budget = [line('a', 1), line('b', 2), line('c', 4), line('d', 2), line('e', 0)];
    expect(largestShares({ budget })).toEqual([
      { component: 'c', share: 16 / 25 },
      { component: 'b', share: 4 / 25 },
      { component: 'd', share: 4 / 25 },
    ]);
  });

  it('lists nothing that contributes nothing', () => {
    expect(largestShares({ budget: [line('a', 0), line('b', 1)] })).toEqual([{ component: 'b', share: 1 }]);
  });

  const more = {
    trials: 7,
    expandedUncertaintyMl: 0.0073,
    plannedTrials: 10,
    plannedUncertaintyMl: 0.0062,
    verdictCouldChange: false,
  };
  it('says what one more trial would bring', () => {
    expect(moreWords(0.0074, more)).toBe('One more trial: U 0.0074 → 0.0073 mL; the verdict would not change.');
    expect(moreWords(0.0104, { ...more, verdictCouldChange: true })).toBe(
      'One more trial: U 0.0104 → 0.0073 mL; the verdict could still change.',
    );
  });

  it.each([
    [0.0005, 5],
    [0.005, 4],
    [5, 1],
  ])('shows ends to one digit below an agreement of %d mL', (toleranceMl, decimals) => {
    expect(refereeDecimals(toleranceMl)).toBe(decimals);
  });
});
