import { sampleStandardDeviation } from 'simple-statistics';
import type { Influence, Reader, SolutionModel } from './influences.ts';
import { embed, Influences } from './influences.ts';
import type { Solid } from './solid.ts';
import { takeMolarMass, takePurity } from './substance.ts';
import { takeTemperature, takeVolume, temperatureFactor } from './vessel-in-use.ts';
import type { LiquidTemperature, VesselInUse } from './vessel-in-use.ts';
import { takeMass } from './weighing.ts';
import type { WeighedPortion } from './weighing.ts';

/** What is titrated: a portion of a primary standard, or a volume of a solution of known concentration. */
export type Titrand = { by: 'mass'; portion: WeighedPortion } | { by: 'volume'; pipette: VesselInUse };

/** One titration. */
export interface Titration {
  titrand: Titrand;
  /** The burette between its readings: what its calibration curve says was delivered. */
  delivered: VesselInUse;
}

export type TitrationStandard =
  | { known: 'solid'; solid: Solid }
  | { known: 'solution'; key: string; molPerL: number; standardUncertainty: number; degreesOfFreedom: number | null }
  /** A solution in mol/L whose own model is known, quoted at a temperature in °C. */
  | { known: 'model'; key: string; model: SolutionModel; quotedC: number };

export interface Standardisation {
  standard: TitrationStandard;
  titrations: readonly Titration[];
  /** Moles of titrant for one mole of the standard. */
  molesPerMole: number;
  /** Bias of the end point, mL, the same in all titrations, and its half-width. */
  endPointMl: number;
  endPointHalfWidthMl: number;
  /** Relative spread of one titration where fewer than three were done; 0 where nobody knows. */
  repeatabilityRelative: number;
  temperature: LiquidTemperature;
}

/** From this many titrations on, their own spread speaks. */
export const FEWEST_REPLICATES = 3;

/** Titrations done alike agree within some tenths of a per cent. */
const APART_RELATIVE = 0.01;
/** … and one lies apart only where it leaves the others, however they scatter, well behind. */
const APART_RANGES = 3;

const middleOf = (sorted: readonly number[]): number => {
  const half = Math.floor(sorted.length / 2);
  const [lower = NaN, upper = NaN] = [sorted[sorted.length % 2 === 0 ? half - 1 : half], sorted[half]];
  return (lower + upper) / 2;
};

/**
 * Place of the titration that lies apart from all others: by more than a hundredth of their middle and more than three
 * times their range; null where none does, or where two stand against each other.
 * @source common-practice, titrations done alike agree within some tenths of a per cent
 */
export function titrationApart(singles: readonly number[]): number | null {
  if (singles.length < FEWEST_REPLICATES) return null;
  const isApart = singles.map((single, place) => {
    const others = singles.filter((_, at) => at !== place).sort((one, other) => one - other);
    const distance = Math.abs(single - middleOf(others));
    const range = (others.at(-1) ?? NaN) - (others[0] ?? NaN);
    return distance > APART_RELATIVE * Math.abs(middleOf(others)) && distance > APART_RANGES * range;
  });
  const place = isApart.indexOf(true);
  return place < 0 ? null : place;
}

/** Ends of keys of what differs from one titration to the next. */
const OWN_OF_EACH = [':filling', ':digits', ':repeatability'];

/** What is the same in all titrations stays; what each has of its own is in the spread of their results. */
function withoutOwn(list: readonly Influence[]): Influence[] {
  const isOwn = ({ key }: Influence): boolean =>
    key.startsWith('titration ') && OWN_OF_EACH.some((end) => key.endsWith(end));
  return list.map((influence) =>
    isOwn(influence) ? { ...influence, spread: 0, source: 'in the spread of the titrations' } : influence,
  );
}

/** Moles of titrant per titration. */
function takeMoles(influences: Influences, work: Standardisation, temperature: Reader): Reader[] {
  const { standard, titrations, molesPerMole } = work;
  const perGram = standard.known === 'solid' ? takePerGram(influences, standard.solid) : null;
  const strength = standard.known === 'solid' ? null : takeStrength(influences, standard, temperature);
  return titrations.map(({ titrand }, index) => {
    const use = `titration ${index + 1}`;
    if (titrand.by === 'mass' && perGram && standard.known === 'solid') {
      const mass = takeMass(influences, { ...titrand.portion, key: `${use}:portion` }, standard.solid.density);
      return (values) => molesPerMole * mass(values) * perGram(values);
    }
    if (titrand.by === 'volume' && strength) {
      const volume = takeVolume(influences, titrand.pipette, `${use}:pipette`, temperature);
      return (values) => (molesPerMole * strength(values) * volume(values)) / 1000;
    }
    throw new RangeError('a solid standard is weighed, a solution is pipetted');
  });
}

/** Concentration of a standard solution, mol/L; one with a model of its own as it is at the temperature of use. */
function takeStrength(
  influences: Influences,
  standard: Exclude<TitrationStandard, { known: 'solid' }>,
  temperature: Reader,
): Reader {
  if (standard.known === 'model') {
    const strength = embed(influences, standard.model, standard.key);
    const quoted = temperatureFactor({ by: 'water' }, temperature, standard.quotedC);
    return (values) => strength(values) / quoted(values);
  }
  return influences.take({
    key: `${standard.key}:concentration`,
    label: 'concentration of the standard solution',
    value: standard.molPerL,
    unit: 'mol/L',
    shape: 'normal',
    spread: standard.standardUncertainty,
    degreesOfFreedom: standard.degreesOfFreedom,
    source: 'its own result',
    assumed: false,
  });
}

function takePerGram(influences: Influences, solid: Solid): Reader {
  const share = takePurity(influences, solid.key, solid.purity, solid.primaryStandard);
  const mass = takeMolarMass(influences, solid.atoms);
  return (values) => share(values) / mass(values);
}

function titrantReaders(influences: Influences, work: Standardisation): Reader[] {
  const temperature = takeTemperature(influences, work.temperature);
  const moles = takeMoles(influences, work, temperature);
  const endPoint = influences.take({
    key: 'end-point',
    label: 'end point',
    value: work.endPointMl,
    unit: 'mL',
    shape: 'rectangular',
    spread: work.endPointHalfWidthMl,
    degreesOfFreedom: null,
    source: 'typed',
    assumed: false,
  });
  return work.titrations.map(({ delivered }, index) => {
    const volume = takeVolume(influences, delivered, `titration ${index + 1}:burette`, temperature);
    const amount = moles[index] as Reader;
    return (values) => (1000 * amount(values)) / (volume(values) - endPoint(values));
  });
}

export interface StandardisationModel extends SolutionModel {
  /** Result of each titration, mol/L. */
  singles: number[];
}

/**
 * Concentration of a titrant: mean over titrations of 1000·m·P/(M·(V − V_e)), times moles of titrant a mole. From three
 * titrations on, the spread of their results stands for all that differs between them, s/√n with n − 1 degrees of
 * freedom; below, every filling and reading counts by itself.
 * @throws RangeError without a titration, or where standard and portion do not fit
 * @source eurachem-cg-4-2012, A2, c = 1000·m·P/(M·V)
 */
export function standardisationModel(work: Standardisation): StandardisationModel {
  const n = work.titrations.length;
  if (n === 0) throw new RangeError('a standardisation needs a titration');
  const influences = new Influences();
  const readers = titrantReaders(influences, work);
  const best = influences.list.map(({ value }) => value);
  const singles = readers.map((reader) => reader(best));
  const mean = singles.reduce((sum, single) => sum + single, 0) / n;
  const repeated = n >= FEWEST_REPLICATES;
  const spread = repeated ? sampleStandardDeviation(singles) : work.repeatabilityRelative * mean;
  const common = repeated ? withoutOwn(influences.list) : influences.list;
  const repeatability: Influence = {
    key: 'titrations:repeatability',
    label: repeated ? `spread of ${n} titrations` : 'repeatability of the titration',
    value: 0,
    unit: 'mol/L',
    shape: 'normal',
    spread: spread / Math.sqrt(n),
    degreesOfFreedom: repeated ? n - 1 : null,
    source: repeated ? 'standard deviation of the mean' : 'typed',
    assumed: false,
  };
  const last = common.length;
  const output: Reader = (values) => {
    let sum = 0;
    for (const reader of readers) sum += reader(values);
    return sum / n + (values[last] as number);
  };
  return { unit: 'mol/L', influences: [...common, repeatability], output, singles };
}
