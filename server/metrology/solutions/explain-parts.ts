import { leaf } from '../explain.ts';
import type { Explanation } from '../explain.ts';
import { WEIGHTS_DENSITY } from '../constants.ts';
import { waterDensityKgPerM3 } from '../water-density.ts';
import { ATOMIC_WEIGHTS_SOURCE, atomicWeight } from './atomic-weights.ts';
import type { SolidDensity } from './solid-buoyancy.ts';
import { buoyancyFactor, SOLUTION_KG_PER_M3 } from './solid-buoyancy.ts';
import { molarMass } from './substance.ts';
import type { AtomCount, Purity } from './substance.ts';
import type { LiquidTemperature, SolutionExpansion, VesselInUse } from './vessel-in-use.ts';
import type { WeighedPortion } from './weighing.ts';

/** Typed digits by what they are: `mass`, `purity`, `temperature` … */
export type TypedDigits = Readonly<Record<string, string | undefined>>;

/** A number somebody typed, with its digits where they are at hand. */
export function typedLeaf(symbol: string, label: string, value: number, unit: string, typed?: string): Explanation {
  return leaf(symbol, label, value, unit, typed === undefined ? {} : { typed });
}

/**
 * Molar mass unfolded to the standard atomic weights.
 * @source ciaaw-2024, table of standard atomic weights
 */
export function explainMolarMass(atoms: readonly AtomCount[], symbol = 'M'): Explanation {
  return {
    symbol,
    label: 'molar mass',
    formula: atoms.map((atom) => (atom.count === 1 ? atom.symbol : `${atom.count}·${atom.symbol}`)).join(' + '),
    value: molarMass(atoms).gPerMol,
    unit: 'g/mol',
    parts: atoms.map((atom) => {
      const weight = atomicWeight(atom.symbol);
      const locator = `${ATOMIC_WEIGHTS_SOURCE.locator}: ${weight?.published ?? ''}`;
      const origin = { source: ATOMIC_WEIGHTS_SOURCE.source, locator };
      return leaf(atom.symbol, `atomic weight of ${atom.symbol}`, weight?.value ?? null, 'g/mol', origin);
    }),
  };
}

export function explainPurity(purity: Purity, typed: TypedDigits): Explanation[] {
  return [
    typedLeaf('P', 'purity of the dry solid', purity.massFraction, '1', typed['purity']),
    typedLeaf('w', 'water in the solid', purity.waterMassFraction, '1', typed['water']),
  ];
}

/** What was weighed: its words and the signs of its mass, reading, buoyancy and density. */
const WEIGHED = {
  solid: { words: 'solid', mass: 'm', reading: 'R', correction: 'k', buoyancy: 'b', density: 'ρs' },
  solution: { words: 'solution', mass: 'ms', reading: 'Rs', correction: 'ks', buoyancy: 'bs', density: 'ρl' },
} as const;

function explainBuoyancy(density: SolidDensity, signs: (typeof WEIGHED)['solid' | 'solution']): Explanation {
  const { words } = signs;
  const value = buoyancyFactor(density);
  if (density.known === 'off' || density.known === 'range')
    return leaf(signs.buoyancy, `buoyancy of a ${words} of unknown density`, value, '1', { assumed: true });
  const body =
    density.known === 'solution'
      ? leaf(signs.density, 'density of the solution, as water', SOLUTION_KG_PER_M3, 'kg/m3', { assumed: true })
      : leaf(signs.density, 'density of the solid', density.kgPerM3, 'kg/m3', { locator: 'typed, or from a handbook' });
  return {
    symbol: signs.buoyancy,
    label: `buoyancy of the ${words}`,
    formula: `(1 − ρa/ρb)/(1 − ρa/${signs.density})`,
    value,
    unit: '1',
    source: 'oiml-d-28-2004',
    locator: 'conventional value of the result of weighing in air',
    parts: [
      leaf('ρa', 'density of the air', density.airKgPerM3, 'kg/m3', {
        source: 'cipm-2007',
        locator: 'eq. (1), carbon dioxide 400 ppm',
      }),
      leaf('ρb', 'density of the reference weights', WEIGHTS_DENSITY.value, 'kg/m3', {
        source: WEIGHTS_DENSITY.source,
        locator: WEIGHTS_DENSITY.locator,
      }),
      body,
    ],
  };
}

/**
 * From the reading of the balance to the mass.
 * @source oiml-d-28-2004, conventional value of the result of weighing in air
 */
export function explainMass(
  { readingG, correctionG = 0, balanceTag }: WeighedPortion,
  density: SolidDensity,
  typed?: string,
  what: keyof typeof WEIGHED = 'solid',
): Explanation {
  const signs = WEIGHED[what];
  const reading = typedLeaf(signs.reading, 'reading of the balance', readingG, 'g', typed);
  const isCorrected = correctionG !== 0;
  const label = `mass of the ${signs.words}`;
  if (density.known === 'off' && !isCorrected)
    return { ...reading, symbol: signs.mass, label: `${label}, not corrected for buoyancy` };
  const known = { locator: `certificate of ${balanceTag}` };
  const correction = leaf(signs.correction, `correction of ${balanceTag}`, correctionG, 'g', known);
  const read = isCorrected ? `(${signs.reading} + ${signs.correction})` : signs.reading;
  return {
    symbol: signs.mass,
    label,
    formula: density.known === 'off' ? read : `${read}·${signs.buoyancy}`,
    value: (readingG + correctionG) * buoyancyFactor(density),
    unit: 'g',
    parts: [
      reading,
      ...(isCorrected ? [correction] : []),
      ...(density.known === 'off' ? [] : [explainBuoyancy(density, signs)]),
    ],
  };
}

export function volumeAtMl(vessel: VesselInUse, temperatureC: number): number {
  const { measured, nominalMl, expansion, referenceC } = vessel;
  return (measured?.meanMl ?? nominalMl) * (1 + expansion.value * (temperatureC - referenceC));
}

/**
 * Volume of one use of a vessel at the temperature of the liquid.
 * @source iso-4787-2021, volume at a temperature other than the reference
 */
export function explainVolume(
  vessel: VesselInUse,
  temperature: LiquidTemperature,
  typed: TypedDigits,
  symbol = 'V',
): Explanation {
  const { tag, measured, nominalMl, expansion, referenceC } = vessel;
  const known = measured ? { locator: `calibration of ${tag}` } : { assumed: true };
  const label = measured ? `measured volume of ${tag}` : `marked volume of ${tag}`;
  return {
    symbol,
    label: `volume of ${tag} at the temperature of the solution`,
    formula: 'Vr·(1 + γ·(t − tr))',
    value: volumeAtMl(vessel, temperature.valueC),
    unit: 'mL',
    source: 'iso-4787-2021',
    locator: 'equation for the volume at the reference temperature',
    parts: [
      leaf('Vr', label, measured?.meanMl ?? nominalMl, 'mL', known),
      leaf('γ', `expansion of ${tag}`, expansion.value, '1/K', { locator: 'its material' }),
      typedLeaf('t', 'temperature of the solution', temperature.valueC, '°C', typed['temperature']),
      leaf('tr', 'reference temperature', referenceC, '°C', { locator: `marked on ${tag}` }),
    ],
  };
}

export function temperatureRatio(expansion: SolutionExpansion, filledC: number, quotedC: number): number {
  if (expansion.by === 'coefficient') return 1 / (1 + expansion.perK * (quotedC - filledC));
  return waterDensityKgPerM3(quotedC) / waterDensityKgPerM3(filledC);
}

/**
 * From the concentration at the temperature of filling to that it is quoted at.
 * @throws OutsideValidity outside 0 to 40 °C with water's density
 * @source tanaka-2001, eq. (1)
 */
export function explainTemperature(
  expansion: SolutionExpansion,
  temperature: LiquidTemperature,
  quotedC: number,
  typed: TypedDigits,
): Explanation {
  const t = typedLeaf('t', 'temperature of the solution', temperature.valueC, '°C', typed['temperature']);
  const q = typedLeaf('tq', 'temperature it is quoted at', quotedC, '°C', typed['quoted']);
  const common = {
    symbol: 'f',
    label: 'to the temperature it is quoted at',
    value: temperatureRatio(expansion, temperature.valueC, quotedC),
    unit: '1',
  };
  if (expansion.by === 'coefficient') {
    const alpha = typedLeaf('α', 'expansion of the solution', expansion.perK, '1/K', typed['expansion']);
    return { ...common, formula: '1/(1 + α·(tq − t))', parts: [alpha, q, t] };
  }
  return { ...common, formula: 'ρw(tq)/ρw(t)', source: 'tanaka-2001', locator: 'eq. (1)', parts: [q, t] };
}
