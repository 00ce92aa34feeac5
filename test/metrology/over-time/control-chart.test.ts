import { describe, expect, it } from 'vitest';
import { baseFor, chartStretches, individualsChart } from '../../../server/metrology/over-time/control-chart.ts';

/** NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: flow rates of ten batches. */
const FLOW_RATES = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

describe('chart of single values', () => {
  it('has the limits of the handbook', () => {
    const chart = individualsChart(FLOW_RATES, 10);
    expect(chart?.centre).toBeCloseTo(50.81, 10);
    expect(chart?.meanMovingRange).toBeCloseTo(1.8778, 4);
    expect(chart?.high).toBeCloseTo(55.8041, 3);
    expect(chart?.low).toBeCloseTo(45.8159, 3);
    expect(chart?.points.map(({ movingRange }) => movingRange?.toFixed(1))).toEqual([
      undefined,
      '2.0',
      '2.3',
      '1.4',
      '3.5',
      '3.4',
      '1.4',
      '0.2',
      '1.2',
      '1.5',
    ]);
    expect(chart?.points.some(({ outside, rangeOutside }) => outside || rangeOutside)).toBe(false);
  });

  it('has the tabulated factors of a moving range of two', () => {
    // 2.660 and 3.267: factors for charts of single values, printed in every table of control charts.
    const chart = individualsChart([0, 1, 0, 1, 0, 1], 6);
    expect((chart?.high ?? 0) - (chart?.centre ?? 0)).toBeCloseTo(2.66, 3);
    expect(chart?.movingRangeHigh).toBeCloseTo(3.267, 6);
  });

  it('holds later values against the limits of the twenty oldest', () => {
    const steady = Array.from({ length: 20 }, (_, index) => (index % 2 === 0 ? 0.1 : -0.1));
    const chart = individualsChart([...steady, 0.6], baseFor(21));
    expect(chart?.base).toBe(20);
    expect(chart?.high).toBeCloseTo(0.2 * 2.6596, 4);
    expect(chart?.points.at(-1)).toMatchObject({ outside: true, rangeOutside: true });
    expect(chart?.points.filter(({ outside }) => outside)).toHaveLength(1);
  });

  it('takes all but the newest while there are few', () => {
    expect([2, 3, 10, 20, 21, 300].map(baseFor)).toEqual([2, 2, 9, 19, 20, 20]);
  });

  it('takes equal values for in control, and needs two', () => {
    expect(individualsChart([0.0002, 0.0002, 0.0002], 2)?.points.some(({ outside }) => outside)).toBe(false);
    expect(individualsChart([1], 2)).toBeNull();
  });
});

describe('a chart that begins anew', () => {
  it('has the limits of the handbook after the cut, whatever stood before it', () => {
    // the eleventh is held against the ten of the handbook
    const [before, after] = chartStretches([20, 30, 20, ...FLOW_RATES, 56], [3]);
    expect(before).toMatchObject({ first: 0, count: 3, chart: { base: 2 } });
    expect(after).toMatchObject({ first: 3, count: 11 });
    expect(after?.chart?.centre).toBeCloseTo(50.81, 10);
    expect(after?.chart?.high).toBeCloseTo(55.8041, 3);
    expect(after?.chart?.points[0]?.movingRange).toBeNull();
    expect(after?.chart?.points.map(({ outside }) => outside).lastIndexOf(true)).toBe(10);
  });

  it('has no limits where fewer than two came after the cut', () => {
    expect(chartStretches([1, 2, 3], [2, 3]).map(({ count, chart }) => [count, chart === null])).toEqual([
      [2, false],
      [1, true],
      [0, true],
    ]);
  });
});
