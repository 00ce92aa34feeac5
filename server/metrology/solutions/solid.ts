import type { Reader, SolutionModel } from './influences.ts';
import { Influences } from './influences.ts';
import type { SolidDensity } from './solid-buoyancy.ts';
import { buoyancyFactor } from './solid-buoyancy.ts';
import { molarMass, takeMolarMass, takePurity } from './substance.ts';
import type { AtomCount, PrimaryStandard, Purity } from './substance.ts';
import { takeTemperature, takeVolume, temperatureFactor } from './vessel-in-use.ts';
import type { LiquidTemperature, SolutionExpansion, VesselInUse } from './vessel-in-use.ts';
import { takeMass } from './weighing.ts';
import type { WeighedPortion } from './weighing.ts';

export const CONCENTRATION_UNITS = ['mol/L', 'g/L', 'mg/L', 'g/g', 'mg/kg'] as const;
export type ConcentrationUnit = (typeof CONCENTRATION_UNITS)[number];

/** True for what is amount in a volume, false for what is mass in a mass. */
export function isByVolume(unit: ConcentrationUnit): boolean {
  return unit === 'mol/L' || unit === 'g/L' || unit === 'mg/L';
}

/** Grams a litre or grams a gram to the unit named. */
export const MASS_SCALE: Record<Exclude<ConcentrationUnit, 'mol/L'>, number> = {
  'g/L': 1,
  'mg/L': 1000,
  'g/g': 1,
  'mg/kg': 1e6,
};

/** A solid with what it is made of. */
export interface Solid {
  /** Names the bottle. */
  key: string;
  atoms: readonly AtomCount[];
  /** What is counted where it is not the whole formula: copper in its sulfate. */
  counted: { atoms: readonly AtomCount[]; perFormula: number } | null;
  purity: Purity;
  primaryStandard: PrimaryStandard;
  density: SolidDensity;
}

/** Made up to the mark of a vessel, or weighed as a whole. */
export type MadeUp =
  | {
      by: 'volume';
      vessel: VesselInUse;
      temperature: LiquidTemperature;
      expansion: SolutionExpansion;
      /** Temperature the concentration is quoted at, °C. */
      quotedC: number;
    }
  | {
      by: 'mass';
      portion: WeighedPortion;
      /** Missing in what was recorded before it was corrected for: then it was not. */
      density?: SolidDensity;
    };

export interface SolidSolution {
  solid: Solid;
  portion: WeighedPortion;
  madeUp: MadeUp;
  unit: ConcentrationUnit;
}

/** Reader of what one gram of the solid brings: moles, or grams of what is counted. */
function takeYield(influences: Influences, solid: Solid, unit: ConcentrationUnit): Reader {
  const share = takePurity(influences, solid.key, solid.purity, solid.primaryStandard);
  const { counted } = solid;
  if (unit === 'mol/L') {
    const mass = takeMolarMass(influences, solid.atoms);
    const times = counted?.perFormula ?? 1;
    return (values) => (times * share(values)) / mass(values);
  }
  const scale = MASS_SCALE[unit];
  if (!counted) return (values) => scale * share(values);
  const whole = takeMolarMass(influences, solid.atoms);
  const part = takeMolarMass(influences, counted.atoms);
  return (values) => (scale * share(values) * counted.perFormula * part(values)) / whole(values);
}

function takeMadeUp(influences: Influences, madeUp: MadeUp): Reader {
  if (madeUp.by === 'mass') return takeMass(influences, madeUp.portion, madeUp.density ?? { known: 'off' });
  const { vessel, expansion, quotedC } = madeUp;
  const temperature = takeTemperature(influences, madeUp.temperature);
  const volume = takeVolume(influences, vessel, 'mark', temperature);
  const quoted = temperatureFactor(expansion, temperature, quotedC);
  return (values) => volume(values) / 1000 / quoted(values);
}

/**
 * Concentration of a solution made from a solid: c = m·b·P·(1 − w)·y/V, with the buoyancy b of the solid, its purity
 * P, its water w, and y = 1/M for an amount; V is the volume this vessel holds at the temperature of filling, carried
 * to the temperature it is quoted at. Made up by weighing, the mass of the solution stands in place of V.
 * @param making unit and way of making up agree: volume for mol/L, g/L, mg/L, mass for g/g and mg/kg
 * @throws RangeError when they do not, or for an element without a standard atomic weight
 * @source eurachem-cg-4-2012, A1, c = 1000·m·P/V
 */
export function solidModel(making: SolidSolution): SolutionModel {
  const { solid, portion, madeUp, unit } = making;
  if (isByVolume(unit) !== (madeUp.by === 'volume')) throw new RangeError(`${unit} is not made up by ${madeUp.by}`);
  const influences = new Influences();
  const mass = takeMass(influences, portion, solid.density);
  const gives = takeYield(influences, solid, unit);
  const madeTo = takeMadeUp(influences, madeUp);
  const output: Reader = (values) => (mass(values) * gives(values)) / madeTo(values);
  return { unit, influences: influences.list, output };
}

/** What to weigh for a concentration. */
export interface MassWanted {
  /** Mass of the solid, g. */
  massG: number;
  /** What the balance shows for it in air, g. */
  readingG: number;
}

function gramsPerUnit(solid: Solid, unit: ConcentrationUnit): number {
  const { purity, counted } = solid;
  const share = purity.massFraction * (1 - purity.waterMassFraction);
  const whole = molarMass(solid.atoms).gPerMol;
  if (unit === 'mol/L') return (counted?.perFormula ?? 1) * (share / whole);
  const part = counted ? (counted.perFormula * molarMass(counted.atoms).gPerMol) / whole : 1;
  return MASS_SCALE[unit] * share * part;
}

/**
 * Mass of solid for a concentration in `amountOfSolution` litres, or grams when it is made up by mass.
 * @throws RangeError for an element without a standard atomic weight
 * @source eurachem-cg-4-2012, A1, solved for the mass
 */
export function massForConcentration(
  solid: Solid,
  concentration: number,
  unit: ConcentrationUnit,
  amountOfSolution: number,
): MassWanted {
  const massG = (concentration * amountOfSolution) / gramsPerUnit(solid, unit);
  const { density } = solid;
  return { massG, readingG: massG / buoyancyFactor(density) };
}
