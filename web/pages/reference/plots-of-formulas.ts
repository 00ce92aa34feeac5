/** The plots beside the calculators: which curve, its axes, and the sentence that says the same. */
import { airDensityKgPerM3 } from '../../../server/metrology/air-density.ts';
import { standardAtmosphereHpa } from '../../../server/metrology/atmosphere.ts';
import { massToVolumeFactor } from '../../../server/metrology/volume.ts';
import { waterDensityKgPerM3 } from '../../../server/metrology/water-density.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { fixed, signed } from '../../parts/rounding.ts';
import type { LinePlotData, PlotPoint } from '../../plots/line-plot.ts';
import {
  airDensityCurve,
  atmosphereCurve,
  factorCurve,
  simpleErrorCurve,
  simpleErrorMl,
  waterDensityCurve,
} from '../../plots/reference-curves.ts';
import { airOf, at, simpleCost, type Numbers } from './calculations.ts';

export interface FormulaPlot {
  data: LinePlotData;
  xLabel: string;
  yLabel: string;
  sentence: string;
  /** Decimals of the upright quantity in the table that says the same as the curve. */
  decimals: number;
}

const words = referenceText.plots;

const ends = (points: readonly PlotPoint[], show: (value: number) => string): [string, string] => [
  show(points[0]?.y ?? NaN),
  show(points.at(-1)?.y ?? NaN),
];

/** Flask of 100 mL, ISO 1042 class A: what everybody has in hand. */
const FLASK_TOLERANCE_ML = 0.1;
/** Usual pressure at 3000 m, for a second curve far from the first. */
const MOUNTAIN_M = 3000;

const waterPlot = (values: Numbers): FormulaPlot => ({
  data: {
    curves: [{ label: '', points: waterDensityCurve() }],
    here: { x: at(values, 'water'), y: waterDensityKgPerM3(at(values, 'water')) },
  },
  xLabel: words.water.x,
  yLabel: words.water.y,
  sentence: words.water.sentence,
  decimals: 3,
});

const airPlot = (values: Numbers): FormulaPlot => {
  const points = airDensityCurve(at(values, 'air'), at(values, 'humidity'));
  return {
    data: { curves: [{ label: '', points }], here: { x: at(values, 'pressure'), y: airOf(values) } },
    xLabel: words.air.x,
    yLabel: words.air.y,
    sentence: words.air.sentence(...ends(points, (value) => fixed(value, 3))),
    decimals: 4,
  };
};

const factorPlot = (values: Numbers): FormulaPlot => {
  const air = airOf(values);
  const points = factorCurve(air);
  const mountain = airDensityKgPerM3(at(values, 'air'), standardAtmosphereHpa(MOUNTAIN_M), at(values, 'humidity'));
  const water = at(values, 'water');
  return {
    data: {
      curves: [
        { label: words.factor.here, points },
        { label: words.factor.high, points: factorCurve(mountain) },
      ],
      here: { x: water, y: massToVolumeFactor(waterDensityKgPerM3(water), air) },
    },
    xLabel: words.factor.x,
    yLabel: words.factor.y,
    sentence: words.factor.sentence(...ends(points, (value) => fixed(value, 4))),
    decimals: 5,
  };
};

const costPlot = (values: Numbers): FormulaPlot => {
  const cost = simpleCost(values);
  const points = simpleErrorCurve(cost);
  const isHundred = cost.volumeMl === 100;
  const sentence = words.cost.sentence(...ends(points, (value) => signed(value, 3)));
  return {
    data: {
      curves: [{ label: '', points }],
      fromZero: true,
      here: { x: at(values, 'water'), y: simpleErrorMl(cost, at(values, 'water')) },
      ...(isHundred ? { band: { low: -FLASK_TOLERANCE_ML, high: FLASK_TOLERANCE_ML, label: words.cost.band } } : {}),
    },
    xLabel: words.cost.x,
    yLabel: words.cost.y,
    sentence: isHundred ? `${sentence} ${words.cost.sentenceBand}` : sentence,
    decimals: 4,
  };
};

const atmospherePlot = (values: Numbers): FormulaPlot => {
  const altitude = at(values, 'altitude');
  return {
    data: {
      curves: [{ label: '', points: atmosphereCurve() }],
      here: { x: altitude, y: standardAtmosphereHpa(altitude) },
    },
    xLabel: words.atmosphere.x,
    yLabel: words.atmosphere.y,
    sentence: words.atmosphere.sentence,
    decimals: 1,
  };
};

/** By the id of the formula. Called with values the formula holds for. */
export const FORMULA_PLOTS: Readonly<Record<string, (values: Numbers) => FormulaPlot>> = {
  'water-density': waterPlot,
  'air-density': airPlot,
  'z-factor': factorPlot,
  'simple-volume': costPlot,
  'standard-atmosphere': atmospherePlot,
};
