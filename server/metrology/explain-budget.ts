import type { ComponentName } from './component.ts';
import { WEIGHTS_DENSITY } from './constants.ts';
import { numberOf } from './decimal.ts';
import { leaf } from './explain.ts';
import type { Explanation } from './explain.ts';
import { expansionPerK, MATERIAL_FACTS } from './materials.ts';
import type { CalibrationRecord, DecimalText } from './record.ts';
import type { BudgetLine, PointResult } from './result.ts';
import type { Constant } from './sources.ts';
import { AIR_FORMULA_EXTRAPOLATED, AIR_FORMULA_STATED, DEFAULTS } from './uncertainty-defaults.ts';
import { WATER_DENSITY_FORMULA } from './water-density.ts';

/** How one standard uncertainty is made, and the typed digits and constants it is made of. */
interface Making {
  formula: string;
  parts: Explanation[];
}

/** A leaf for a typed quantity, nothing where nobody typed it. */
function typed(symbol: string, label: string, text: DecimalText | null | undefined, unit: string): Explanation[] {
  return text == null ? [] : [leaf(symbol, label, numberOf(text), unit, { typed: text })];
}

function constant(symbol: string, label: string, from: Constant): Explanation {
  const { value, unit, source, locator } = from;
  return leaf(symbol, label, value, unit, { source, locator });
}

/** The typed leaves, or the constant that stands in where there are none. */
function orDefault(leaves: Explanation[], symbol: string, label: string, from: Constant): Explanation[] {
  return leaves.length > 0 ? leaves : [constant(symbol, label, from)];
}

type Certificate = { coverageFactor?: DecimalText | null | undefined } | null | undefined;

function certificate(facts: Certificate, expanded: DecimalText | null | undefined, unit: string): Explanation[] {
  if (facts == null || expanded == null) return [];
  return [
    ...typed('U', 'expanded uncertainty of the certificate', expanded, unit),
    ...typed('k', 'its coverage factor', facts.coverageFactor, '1'),
  ];
}

function repeatabilityMaking({ record, point }: Context): Making {
  const { repeatability, n } = point;
  const choice = record.repeatability;
  const count = leaf('n', 'trials that count', n, '1', { source: 'jcgm-100-2008', locator: '4.2.3' });
  const spread = leaf('s', repeatability?.kind ?? 'own', repeatability?.sdMl ?? null, 'mL', {
    source: 'jcgm-100-2008',
    locator: '4.2.2',
  });
  if (repeatability?.kind === 'pooled' && choice?.use === 'pooled') {
    return { formula: 's_p/√n', parts: [...typed('s_p', 'pooled spread', choice.sdMl, 'mL'), count] };
  }
  if (repeatability?.kind === 'predicted') {
    const { balance } = record.instruments ?? {};
    const parts = [
      ...typed('r', 'repeatability of the balance', balance?.repeatabilityG, 'g'),
      ...typed('e', 'expected spread of the vessel', record.vessel.expectedSpreadMl, 'mL'),
    ];
    return { formula: '√(2·r² + h² + e²)/√n', parts: [spread, ...parts, count] };
  }
  return { formula: 's/√n', parts: [spread, count] };
}

interface Context {
  record: CalibrationRecord;
  point: PointResult;
  line: BudgetLine;
}

function balanceMaking(component: ComponentName, { record, line }: Context): Making {
  const balance = record.instruments?.balance;
  if (component === 'balance-resolution') {
    return { formula: '√(d² + d²)/√12', parts: typed('d', 'last digit of the balance', balance?.resolutionG, 'g') };
  }
  if (component === 'balance-linearity') {
    const leaves = typed('a', 'non-linearity of the balance', balance?.linearityG, 'g');
    return { formula: 'a·√(2/3)', parts: orDefault(leaves, 'a/d', 'in last digits', DEFAULTS.linearitySteps) };
  }
  if (component === 'balance-drift') {
    return { formula: 'm·δ/√3', parts: typed('δ', 'relative drift of the balance', balance?.driftRelative, '1') };
  }
  if (line.source === 'certificate') {
    const parts = [
      ...typed('U_g', 'expanded uncertainty of the certificate', balance?.expandedUncertaintyG, 'g'),
      ...typed('U_rel', 'its relative part', balance?.expandedUncertaintyRelative, '1'),
      ...typed('k', 'its coverage factor', balance?.coverageFactor, '1'),
    ];
    return { formula: '(U_g + U_rel·m)/k', parts };
  }
  const adjusted = line.source.includes('adjusted');
  const from = adjusted ? DEFAULTS.calibrationAdjusted : DEFAULTS.calibration;
  return { formula: 'm·a/√3', parts: [constant('a', 'relative half-width', from)] };
}

function waterMaking(component: ComponentName, { record }: Context): Making {
  const { conditions, instruments, trials } = record;
  if (component === 'water-density') {
    const { standardUncertainty = null, source, locator } = WATER_DENSITY_FORMULA;
    return { formula: 'u', parts: [leaf('u', 'formula', standardUncertainty, 'kg/m3', { source, locator })] };
  }
  if (component === 'water-purity') {
    const parts = typed('κ', 'conductivity', conditions?.conductivityUsPerCm, 'µS/cm');
    return { formula: parts.length > 0 ? '0.3·0.5e-6·κ/√3' : '0, or 200e-6/√3 for tap water', parts };
  }
  const assumed = trials.find((trial) => trial.waterTemperatureHalfWidthC != null);
  if (assumed !== undefined) {
    const parts = typed('a', 'half-width of the assumed temperature', assumed.waterTemperatureHalfWidthC, 'K');
    return { formula: 'a/√3', parts };
  }
  const thermometer = instruments?.thermometer;
  const scale = orDefault(
    certificate(thermometer, thermometer?.expandedUncertaintyC, 'K'),
    'a',
    'half-width without certificate',
    DEFAULTS.thermometerHalfWidthC,
  );
  if (thermometer == null) return { formula: 'a/√3', parts: scale };
  const gradient = typed('g', 'half-width of the gradient', thermometer.gradientC, 'K');
  const parts = [
    ...scale,
    ...typed('d', 'last digit of the thermometer', thermometer.resolutionC, 'K'),
    ...orDefault(gradient, 'g', 'half-width of the gradient', DEFAULTS.gradientC),
  ];
  return { formula: '√((U/k)² + d²/12 + g²/3)', parts };
}

/** A typed half-width, else the certificate, else the default the line speaks of. */
function airMaking(component: ComponentName, { record, line }: Context): Making {
  const { conditions, instruments } = record;
  const [halfWidth, expanded, facts, fallback] =
    component === 'air-temperature'
      ? ([
          conditions?.airTemperatureHalfWidthC,
          instruments?.airThermometer?.expandedUncertaintyC,
          instruments?.airThermometer,
          DEFAULTS.airTemperatureC,
        ] as const)
      : component === 'air-pressure'
        ? ([
            conditions?.airPressureHalfWidthHpa,
            instruments?.barometer?.expandedUncertaintyHpa,
            instruments?.barometer,
            line.standardUncertainty > DEFAULTS.airPressureKnownHpa.value
              ? DEFAULTS.airPressureUnknownHpa
              : DEFAULTS.airPressureKnownHpa,
          ] as const)
        : ([
            conditions?.relativeHumidityHalfWidthPercent,
            instruments?.hygrometer?.expandedUncertaintyPercent,
            instruments?.hygrometer,
            DEFAULTS.humidityPercent,
          ] as const);
  const leaves = typed('a', 'half-width', halfWidth, line.unit);
  if (leaves.length > 0) return { formula: 'a/√3', parts: leaves };
  if (line.source === 'certificate') return { formula: 'U/k', parts: certificate(facts, expanded, line.unit) };
  return { formula: 'a/√3', parts: [constant('a', 'half-width', fallback)] };
}

function vesselMaking(component: ComponentName, { record, line }: Context): Making {
  const { vessel, conditions } = record;
  if (component === 'expansion') {
    const { expansion } = MATERIAL_FACTS[vessel.material];
    const known = typed('γ', 'expansion coefficient', vessel.expansionPerK, '1/K');
    const usual = expansion === null ? [] : [constant('γ', `expansion coefficient, ${vessel.material}`, expansion)];
    const { relativeHalfWidth, origin } = expansionPerK(vessel);
    const share = leaf('r', 'half-width of γ as a share', relativeHalfWidth, '1', { assumed: origin !== 'typed' });
    return { formula: 'γ·r/√3', parts: [...(known.length > 0 ? known : usual), share] };
  }
  if (component === 'vessel-temperature') {
    const parts = [
      constant('least', 'least half-width', DEFAULTS.vesselMinimumK),
      constant('share', 'share of |ta − tw|', DEFAULTS.vesselShare),
    ];
    return { formula: 'max(0.2 K, |ta − tw|/4)/√3', parts };
  }
  if (component === 'evaporation') {
    const parts = typed('e', 'rate of evaporation', conditions?.evaporationMgPerMin, 'mg/min');
    return { formula: '½·e·t/√3', parts };
  }
  const height = line.unit === 'mm' ? [constant('h', 'half-width of setting the mark', DEFAULTS.ringMarkMm)] : [];
  const parts = [
    ...height,
    ...typed('d', 'inner diameter at the mark', vessel.neckDiameterMm, 'mm'),
    ...typed('division', 'division', vessel.divisionMl, 'mL'),
  ];
  return { formula: line.unit === 'mm' ? 'h/√3' : 'a/√3', parts };
}

function makingOf(context: Context): Making {
  const component = context.line.component as ComponentName;
  if (component === 'repeatability') return repeatabilityMaking(context);
  if (component.startsWith('balance')) return balanceMaking(component, context);
  if (component.startsWith('water')) return waterMaking(component, context);
  if (component === 'weights-density') {
    const parts = [
      constant('ρb', 'density of the weights', WEIGHTS_DENSITY),
      constant('a', 'half-width', DEFAULTS.weightsDensity),
    ];
    return { formula: 'a/√3', parts };
  }
  if (component === 'air-density-formula') {
    const { value, standardUncertainty } = context.line;
    const extrapolated = standardUncertainty > 2 * AIR_FORMULA_STATED.value * (value ?? 0);
    const from = extrapolated ? AIR_FORMULA_EXTRAPOLATED : AIR_FORMULA_STATED;
    return { formula: 'ρa·u_rel', parts: [constant('u_rel', 'formula', from)] };
  }
  return component.startsWith('air') ? airMaking(component, context) : vesselMaking(component, context);
}

/**
 * One line of a budget, unfolded: |c|·u, and u down to typed digits and constants with their source.
 * @source jcgm-100-2008, 4.3 and 5.1
 */
export function explainLine(record: CalibrationRecord, point: PointResult, line: BudgetLine): Explanation {
  const { formula, parts } = makingOf({ record, point, line });
  return {
    symbol: `u(${line.component})`,
    label: line.component,
    formula: '|c|·u',
    value: line.contributionMl,
    unit: 'mL',
    parts: [
      leaf('c', 'sensitivity', line.sensitivity, `mL/(${line.unit})`, {
        source: 'jcgm-100-2008',
        locator: '5.1.3, partial derivative of the volume equation',
      }),
      {
        symbol: 'u',
        label: line.source,
        formula,
        value: line.standardUncertainty,
        unit: line.unit,
        assumed: line.assumed,
        source: 'jcgm-100-2008',
        locator: '4.3.7',
        parts,
      },
    ],
  };
}
