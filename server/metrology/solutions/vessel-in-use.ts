import type { ExpansionCoefficient } from '../materials.ts';
import { waterDensityKgPerM3, waterDensityUnchecked } from '../water-density.ts';
import { influenceUncertainty } from './influences.ts';
import type { InfluenceShape, Influences, Reader } from './influences.ts';

/** What is known of the volume a vessel holds or delivers at one of its marks. */
export interface VesselInUse {
  /** Names the vessel and its mark: uses of the same mark share what the calibration left unknown. */
  key: string;
  tag: string;
  /** What was measured, at the reference temperature; null where only the tolerance is known. */
  measured: { meanMl: number; combinedUncertaintyMl: number; degreesOfFreedom: number | null } | null;
  nominalMl: number;
  toleranceMl: number | null;
  /** The tolerance is that of a class of a standard; else somebody marked it. */
  classed: boolean;
  /** Spread of one filling, with its degrees of freedom (null = infinite). */
  spread: { sdMl: number; degreesOfFreedom: number | null };
  /** Half-width of setting the mark by another eye than the one that calibrated; 0 when it is the same. */
  otherPersonMl: number;
  expansion: Pick<ExpansionCoefficient, 'value' | 'relativeHalfWidth'>;
  referenceC: number;
  /** Set for a part of a scale: all parts of one scale err together, each about a volume of its own. */
  scaleKey?: string;
  /** The readings of that part; missing in recipes kept before they were told apart. */
  between?: { fromMl: number; toMl: number };
}

function calibrationOf(vessel: VesselInUse): { shape: InfluenceShape; spread: number; degrees: number | null } {
  const { measured, toleranceMl, classed } = vessel;
  if (measured) return { shape: 'normal', spread: measured.combinedUncertaintyMl, degrees: measured.degreesOfFreedom };
  return { shape: classed ? 'triangular' : 'rectangular', spread: toleranceMl ?? 0, degrees: null };
}

/**
 * Standard uncertainty in mL of one use of a vessel at its reference temperature: √(u_c² + s² + another eye²); u_c is
 * that of the mean where measured, T/√6 for classed ware and T/√3 for a marked tolerance where not.
 * @source eurachem-cg-4-2012, A1.4, triangular distribution of tolerances; jcgm-100-2008, 4.3.9 and 5.1.2
 */
export function oneUseUncertaintyMl(vessel: VesselInUse): number {
  const { shape, spread } = calibrationOf(vessel);
  const other = vessel.otherPersonMl / Math.sqrt(3);
  return Math.hypot(influenceUncertainty({ shape, spread }), vessel.spread.sdMl, other);
}

/** Temperature of the liquid when the mark was set, shared by all vessels of one room. */
export interface LiquidTemperature {
  key: string;
  valueC: number;
  /** Rectangular. */
  halfWidthC: number;
}

/** Reader of the temperature of the liquid, °C. */
export function takeTemperature(influences: Influences, temperature: LiquidTemperature): Reader {
  return influences.take({
    key: temperature.key,
    label: 'temperature of the solution',
    value: temperature.valueC,
    unit: '°C',
    shape: 'rectangular',
    spread: temperature.halfWidthC,
    degreesOfFreedom: null,
    source: 'typed',
    assumed: false,
  });
}

/** Calibration and expansion of a vessel, the same in each of its uses. */
function takeLasting(influences: Influences, vessel: VesselInUse): { base: Reader; gamma: Reader } {
  const { key, tag, measured, nominalMl, expansion } = vessel;
  const { shape, spread, degrees } = calibrationOf(vessel);
  const volumeMl = measured ? measured.meanMl : nominalMl;
  const isPart = vessel.scaleKey !== undefined;
  const whole = measured ? `measured volume of ${tag}` : `volume of ${tag}, by its tolerance`;
  const taken = influences.take({
    key: `${vessel.scaleKey ?? key}:calibration`,
    label: isPart ? `scale of ${tag}` : whole,
    value: isPart ? 0 : volumeMl,
    unit: 'mL',
    shape,
    spread,
    degreesOfFreedom: degrees,
    source: measured ? 'calibration' : vessel.classed ? 'tolerance of its class' : 'marked tolerance',
    assumed: measured === null,
  });
  const base: Reader = isPart ? (values) => volumeMl + taken(values) : taken;
  const gamma = influences.take({
    key: `${vessel.scaleKey ?? key}:expansion`,
    label: `expansion of ${tag}`,
    value: expansion.value,
    unit: '1/K',
    shape: 'rectangular',
    spread: expansion.value * expansion.relativeHalfWidth,
    degreesOfFreedom: null,
    source: 'material',
    assumed: false,
  });
  return { base, gamma };
}

const markWords = ({ tag, between }: VesselInUse): string =>
  between === undefined ? `mark of ${tag}` : `marks of ${tag} from ${between.fromMl} to ${between.toMl} mL`;

/**
 * Volume in mL a vessel holds or delivers once, at the temperature of the liquid. Uses of the same vessel share its
 * calibration and its expansion; each has a spread of its own.
 * @param use names this use among those of the solution
 * @source iso-4787-2021, volume at a temperature other than the reference; jcgm-100-2008, 5.2 and F.1.2 (what is shared)
 */
export function takeVolume(influences: Influences, vessel: VesselInUse, use: string, temperature: Reader): Reader {
  const { tag, spread, otherPersonMl, referenceC } = vessel;
  const { base, gamma } = takeLasting(influences, vessel);
  const filling = influences.take({
    key: `${use}:filling`,
    label: `one use of ${tag}`,
    value: 0,
    unit: 'mL',
    shape: 'normal',
    spread: spread.sdMl,
    degreesOfFreedom: spread.degreesOfFreedom,
    source: 'spread of single fillings',
    assumed: vessel.measured === null,
  });
  const eye =
    otherPersonMl === 0
      ? () => 0
      : influences.take({
          key: `${vessel.key}:eye`,
          label: `${markWords(vessel)} set by another person`,
          value: 0,
          unit: 'mL',
          shape: 'rectangular',
          spread: otherPersonMl,
          degreesOfFreedom: null,
          source: 'setting of the mark',
          assumed: true,
        });
  return (values) =>
    (base(values) + filling(values) + eye(values)) * (1 + gamma(values) * (temperature(values) - referenceC));
}

/** How the density of the solution goes with temperature. */
export type SolutionExpansion = { by: 'water' } | { by: 'coefficient'; perK: number };

/**
 * Factor from a concentration at the temperature of filling to that at another: ρ(t₂)/ρ(t₁) with water's density for
 * dilute aqueous solutions, else 1/(1 + α·(t₂ − t₁)).
 * @param quoted °C, 0 to 40 with water's density
 * @source tanaka-2001, eq. (1), for the density of water; conservation of mass
 * @throws OutsideValidity outside 0 to 40 °C with water's density
 */
export function temperatureFactor(expansion: SolutionExpansion, filled: Reader, quotedC: number): Reader {
  if (expansion.by === 'coefficient') return (values) => 1 / (1 + expansion.perK * (quotedC - filled(values)));
  const quoted = waterDensityKgPerM3(quotedC);
  return (values) => quoted / waterDensityUnchecked(filled(values));
}
