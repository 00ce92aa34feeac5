/** Expected places follow from the definition of the axis alone; every number below is made up by hand. */
import { pictureHeight } from '../../web/pages/class/board-height.ts';
import { isOwnMachine } from '../../web/parts/own-machine.ts';
import { describe, expect, it } from 'vitest';
import { boardAxis, boardGeometry, type BoardRow, type BoardRowGeometry } from '../../web/plots/board.ts';

const trial = (group: number, volumeMl: number, excluded = false) => ({ group, volumeMl, excluded });
const row = (key: string, facts: Partial<BoardRow> = {}): BoardRow => ({
  ...{ key, nominalMl: 25, toleranceMl: 0.04, trials: [], predictions: [] },
  ...facts,
});
const flask = row('flask', { trials: [trial(1, 25.01), trial(1, 24.99), trial(2, 25.03), trial(2, 24.97)] });
const beaker = row('beaker', { toleranceMl: 2.5, trials: [trial(1, 24), trial(2, 26.5), trial(2, 25.5)] });

const drawn = (rows: readonly BoardRow[], scale: 'millilitres' | 'relative', width = 1000, rowHeight = 160) =>
  boardGeometry(rows, boardAxis(rows, scale), { width, rowHeight });
const rowIn = ({ rows }: { rows: BoardRowGeometry[] }, key: string): BoardRowGeometry => {
  const found = rows.find((one) => one.key === key);
  if (!found) throw new Error(`There is no row ${key}.`);
  return found;
};
/** Smallest distance between the middles of two dots. */
const closest = ({ dots }: BoardRowGeometry): number =>
  Math.min(...dots.flatMap((a, i) => dots.slice(i + 1).map((b) => Math.hypot(a.x - b.x, a.y - b.y))));

describe('axis in mL', () => {
  it('is one for all rows and reaches 1.5 times the widest tolerance', () => {
    const axis = boardAxis([flask, beaker], 'millilitres');
    expect(axis.halfRange).toBeCloseTo(3.75, 12);
    expect(axis.sharedNominalMl).toBe(25);
  });

  it('places every volume by its distance from the nominal one', () => {
    const geometry = drawn([flask, beaker], 'millilitres');
    const { x1, x2, nominalX } = geometry.axis;
    expect(nominalX).toBeCloseTo((x1 + x2) / 2, 9);
    for (const { dots } of geometry.rows)
      for (const { x, volumeMl } of dots) expect(25 - 3.75 + (7.5 * (x - x1)) / (x2 - x1)).toBeCloseTo(volumeMl, 9);
    const { band } = rowIn(geometry, 'beaker');
    expect((band?.width ?? 0) / (x2 - x1)).toBeCloseTo(5 / 7.5, 9);
  });

  it('compares different nominal volumes by their distance from it', () => {
    const large = row('large', { nominalMl: 100, toleranceMl: 0.1, trials: [trial(1, 100.05)] });
    const small = row('small', { trials: [trial(1, 25.05)] });
    const geometry = drawn([large, small], 'millilitres');
    expect(geometry.axis.ticks.find(({ value }) => value === 0)?.x).toBeCloseTo(geometry.axis.nominalX, 9);
    expect(rowIn(geometry, 'large').dots[0]?.x).toBeCloseTo(rowIn(geometry, 'small').dots[0]?.x ?? NaN, 9);
    expect(boardAxis([large, small], 'millilitres').sharedNominalMl).toBeNull();
  });

  it('keeps what lies beyond it at its edge, with the farthest value', () => {
    const far = row('flask', { trials: [...flask.trials, trial(3, 31), trial(3, 26), trial(4, 18.2)] });
    const geometry = drawn([far], 'millilitres');
    const { dots, edges } = rowIn(geometry, 'flask');
    expect(dots.filter(({ outside }) => outside === 'high').map(({ x }) => x)).toEqual([
      geometry.axis.x2,
      geometry.axis.x2,
    ]);
    expect(edges.map(({ side, volumeMl }) => [side, volumeMl])).toEqual([
      ['low', 18.2],
      ['high', 31],
    ]);
    expect(geometry.axis.x1).toBeGreaterThan(drawn([flask], 'millilitres').axis.x1);
  });

  it('has room for volumes that another view shows, so that it does not move when the view changes', () => {
    const simple = flask.trials.map(({ volumeMl }) => volumeMl - 0.08);
    const corrected = flask.trials.map(({ volumeMl }) => volumeMl);
    const roomForMl = [...simple, ...corrected];
    const asSimple = { ...flask, roomForMl, trials: simple.map((volumeMl) => trial(1, volumeMl)) };
    const asCorrected = { ...flask, roomForMl };
    const axis = boardAxis([asSimple], 'millilitres');
    expect(boardAxis([asCorrected], 'millilitres')).toEqual(axis);
    expect(axis.halfRange).toBeGreaterThan(0.11);
  });

  it('takes its width from the data where no tolerance is stated, and is there before the first trial', () => {
    const free = row('drops', { nominalMl: 1, toleranceMl: null, trials: [trial(1, 0.98), trial(1, 1.06)] });
    const geometry = drawn([free], 'millilitres');
    expect(rowIn(geometry, 'drops')).toMatchObject({ band: null, edges: [] });
    expect(geometry.axis.ticks.length).toBeGreaterThan(1);
    expect(boardAxis([row('empty', { toleranceMl: null })], 'millilitres').halfRange).toBeGreaterThan(0);
  });
});

describe('axis in per cent of the nominal volume', () => {
  const geometry = drawn([flask, beaker], 'relative');
  const tickAt = (value: number) => geometry.axis.ticks.find((tick) => tick.value === value)?.x ?? NaN;

  it('has ticks in steps of ten on both sides', () => {
    expect(geometry.axis.ticks.map(({ value }) => value)).toEqual([-10, -1, -0.1, 0, 0.1, 1, 10]);
    expect(tickAt(1) - geometry.axis.nominalX).toBeCloseTo(geometry.axis.nominalX - tickAt(-1), 9);
  });

  it('places a volume of one per cent too much at the tick of one per cent, whatever the vessel', () => {
    const others = [
      row('a', { trials: [trial(1, 25.25)] }),
      row('b', { nominalMl: 100, toleranceMl: 10, trials: [trial(1, 101)] }),
    ];
    const { axis, rows } = drawn(others, 'relative');
    const one = axis.ticks.find(({ value }) => value === 1)?.x ?? NaN;
    for (const { dots } of rows) expect(dots[0]?.x).toBeCloseTo(one, 9);
  });

  it('leaves the flask beside the beaker wide enough to be seen', () => {
    const share = (key: string, of: typeof geometry) => (rowIn(of, key).band?.width ?? 0) / (of.axis.x2 - of.axis.x1);
    expect(share('flask', geometry)).toBeGreaterThan(0.15);
    expect(share('flask', drawn([flask, beaker], 'millilitres'))).toBeLessThan(0.02);
  });
});

describe('means and expected volumes', () => {
  const geometry = drawn(
    [row('flask', { trials: [...flask.trials, trial(1, 26, true)], predictions: [{ group: 2, volumeMl: 25.02 }] })],
    'millilitres',
  );
  const { groupMeans, mean, predictions } = rowIn(geometry, 'flask');

  it('are those of the counted trials: of each group above the dots, and of all', () => {
    expect(groupMeans.map(({ group }) => group)).toEqual([1, 2]);
    for (const { volumeMl, y2 } of groupMeans) {
      expect(volumeMl).toBeCloseTo(25, 12);
      expect(y2).toBeLessThanOrEqual(geometry.lanes.dotsTop);
    }
    expect(mean?.volumeMl).toBeCloseTo(25, 12);
    expect(mean?.x).toBeCloseTo(geometry.axis.nominalX, 6);
  });

  it('leave no mean of a group hidden behind an equal one', () => {
    const [first, second] = groupMeans;
    expect((first?.y2 ?? 0) <= (second?.y1 ?? 0) || (second?.y2 ?? 0) <= (first?.y1 ?? 0)).toBe(true);
  });

  it('stand below the line of the dots where they were foreseen', () => {
    expect(predictions).toHaveLength(1);
    expect(predictions[0]?.y).toBeGreaterThan(geometry.lanes.axisY);
    expect((predictions[0]?.x ?? 0) > geometry.axis.nominalX).toBe(true);
    expect((predictions[0]?.y ?? 0) + (predictions[0]?.size ?? 0)).toBeLessThanOrEqual(geometry.rowHeight);
  });
});

describe('twelve groups with five trials each', () => {
  const volumes = Array.from({ length: 60 }, (_, index) => 24.97 + 0.006 * (index % 11));
  const many = row('flask', { trials: volumes.map((volumeMl, index) => trial(1 + (index % 12), volumeMl)) });
  const equal = row('flask', { trials: volumes.map((_, index) => trial(1 + (index % 12), 25)) });

  it.each([
    [360, 84],
    [1400, 160],
  ])('lie inside a picture of %i × %i px, and none hides another', (width, rowHeight) => {
    for (const one of [many, equal]) {
      const geometry = drawn([one], 'millilitres', width, rowHeight);
      const picture = rowIn(geometry, 'flask');
      expect(picture.dots).toHaveLength(60);
      for (const { x, y } of picture.dots) {
        expect(x - picture.dotRadius).toBeGreaterThanOrEqual(0);
        expect(x + picture.dotRadius).toBeLessThanOrEqual(width);
        expect(y - picture.dotRadius).toBeGreaterThanOrEqual(geometry.lanes.dotsTop - 1e-9);
        expect(y + picture.dotRadius).toBeLessThanOrEqual(geometry.lanes.axisY);
      }
      expect(closest(picture)).toBeGreaterThan(1);
    }
  });

  it('do not touch on a projector, and are large enough for the last row of seats', () => {
    const picture = rowIn(drawn([many], 'millilitres', 1400, 160), 'flask');
    expect(closest(picture)).toBeGreaterThanOrEqual(2 * picture.dotRadius);
    expect(picture.dotRadius).toBeGreaterThanOrEqual(5);
  });

  it('can be told apart on a phone: no dot below 4 px across', () => {
    const picture = rowIn(drawn([many], 'millilitres', 360, 84), 'flask');
    expect(picture.dotRadius).toBeGreaterThanOrEqual(2);
  });
});

describe('the pictures of a board', () => {
  const room = { rows: 4, isGroups: false, hasSteps: false, top: 248, windowHeight: 1080, width: 1400 };

  it('leave room for all that stands above, between and below them', () => {
    for (const facts of [room, { ...room, top: 290, hasSteps: true }]) {
      const height = pictureHeight(facts);
      expect(height).toBeGreaterThanOrEqual(100);
      expect(facts.top + 4 * (height + 54) + 104 + (facts.hasSteps ? 36 : 0)).toBeLessThanOrEqual(1080);
    }
  });

  it('stay readable where there is no room, and of one size on a phone', () => {
    expect(pictureHeight({ ...room, rows: 12 })).toBe(72);
    expect(pictureHeight({ ...room, width: 320 })).toBe(84);
  });
});

describe('an address shown for phones', () => {
  it.each(['http://127.0.0.1:4180/join#ABC234', 'http://localhost:4180/join', 'http://[::1]:4180/join'])(
    '%s leads to its own machine only',
    (address) => expect(isOwnMachine(address)).toBe(true),
  );
  it.each(['http://192.168.1.20:4181/join', 'https://lab.school.example/join', 'http://127.example.org/join'])(
    '%s may lead to another',
    (address) => expect(isOwnMachine(address)).toBe(false),
  );
});
