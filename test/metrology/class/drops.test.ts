import { describe, expect, it } from 'vitest';
import { dropFigures } from '../../../server/metrology/class/drops.ts';
import { oneWay } from '../../../server/metrology/class/one-way.ts';

describe('drops from a burette', () => {
  // common practice, no source: about twenty drops make a millilitre
  const groups = [
    [
      { drops: 20, volumeMl: 1.0 },
      { drops: 40, volumeMl: 2.08 },
    ],
    [
      { drops: 25, volumeMl: 1.2 },
      { drops: 50, volumeMl: 2.5 },
    ],
  ];

  it('each count gives one volume per drop, worked out by hand', () => {
    const figures = dropFigures(groups);
    // 0.050, 0.052, 0.048, 0.050 mL
    expect(figures).toMatchObject({ n: 4 });
    expect(figures?.dropMl).toBeCloseTo(0.05, 12);
    expect(figures?.dropsPerMl).toBeCloseTo(20, 9);
    // within the groups 0.001² four times over, two degrees of freedom
    expect(figures?.repeatabilitySdMl).toBeCloseTo(Math.sqrt((4 * 0.001 ** 2) / 2), 12);
  });

  it('spreads as the trials of a class', () => {
    const { withinRoomSdMl, meanUncertaintyMl } = oneWay([
      [1 / 20, 2.08 / 40],
      [1.2 / 25, 2.5 / 50],
    ]);
    expect(dropFigures(groups)).toMatchObject({ withinRoomSdMl, meanUncertaintyMl });
  });

  it('one count has no spread, none nothing', () => {
    expect(dropFigures([[{ drops: 20, volumeMl: 1 }]])).toMatchObject({ n: 1, repeatabilitySdMl: null });
    expect(dropFigures([[], []])).toBeNull();
  });

  it.each([
    [0, 1],
    [2.5, 1],
    [20, 0],
    [20, Number.NaN],
  ])('refuses %d drops of %d mL', (drops, volumeMl) => {
    expect(() => dropFigures([[{ drops, volumeMl }]])).toThrow(RangeError);
  });
});
