import { numberOf } from './decimal.ts';
import type { Material, VesselFacts } from './record.ts';
import type { Constant } from './sources.ts';

/** Cubic expansion coefficient of a material, and how far it may be off, as a share of its value (half-width). */
export interface MaterialFacts {
  expansion: Constant | null;
  relativeHalfWidth: number;
  plastic: boolean;
}

function perK(value: number, source: Constant['source'], locator: string): Constant {
  return { value, unit: '1/K', source, locator };
}

const USUAL = 'usual cubic coefficient';

export const MATERIAL_FACTS: Record<Material, MaterialFacts> = {
  'borosilicate-3.3': {
    expansion: perK(9.9e-6, 'iso-3585-1998', 'three times the linear coefficient 3.3e-6'),
    relativeHalfWidth: 0.05,
    plastic: false,
  },
  'borosilicate-5.0': {
    expansion: perK(15e-6, 'common-practice', 'three times the linear coefficient 5.0e-6'),
    relativeHalfWidth: 0.05,
    plastic: false,
  },
  'soda-lime': { expansion: perK(27e-6, 'common-practice', USUAL), relativeHalfWidth: 0.1, plastic: false },
  glass: {
    expansion: perK(18e-6, 'common-practice', 'between borosilicate and soda-lime'),
    relativeHalfWidth: 0.5,
    plastic: false,
  },
  'fused-silica': { expansion: perK(1.6e-6, 'common-practice', USUAL), relativeHalfWidth: 0.05, plastic: false },
  'stainless-steel': { expansion: perK(48e-6, 'common-practice', USUAL), relativeHalfWidth: 0.05, plastic: false },
  polypropylene: { expansion: perK(450e-6, 'common-practice', USUAL), relativeHalfWidth: 0.2, plastic: true },
  polymethylpentene: { expansion: perK(350e-6, 'common-practice', USUAL), relativeHalfWidth: 0.2, plastic: true },
  polycarbonate: { expansion: perK(200e-6, 'common-practice', USUAL), relativeHalfWidth: 0.2, plastic: true },
  polystyrene: { expansion: perK(210e-6, 'common-practice', USUAL), relativeHalfWidth: 0.2, plastic: true },
  polyethylene: { expansion: perK(500e-6, 'common-practice', USUAL), relativeHalfWidth: 0.2, plastic: true },
  other: { expansion: null, relativeHalfWidth: 0.05, plastic: false },
};

/** Share of a typed coefficient it may be off by. */
const TYPED_RELATIVE_HALF_WIDTH = 0.05;

export interface ExpansionCoefficient {
  /** Per kelvin; 0 where nothing is known. */
  value: number;
  relativeHalfWidth: number;
  origin: 'typed' | 'material' | 'unknown';
}

/**
 * Cubic expansion coefficient of a vessel per K: the typed one wins, zero included, else its material's.
 * `other` material without a typed value is `unknown` and counts as 0.
 * @source iso-3585-1998, linear coefficient of borosilicate glass 3.3; the others are common practice
 */
export function expansionPerK(vessel: Pick<VesselFacts, 'material' | 'expansionPerK'>): ExpansionCoefficient {
  if (vessel.expansionPerK != null) {
    return {
      value: numberOf(vessel.expansionPerK),
      relativeHalfWidth: TYPED_RELATIVE_HALF_WIDTH,
      origin: 'typed',
    };
  }
  const facts = MATERIAL_FACTS[vessel.material];
  if (facts.expansion === null) return { value: 0, relativeHalfWidth: 0, origin: 'unknown' };
  return { value: facts.expansion.value, relativeHalfWidth: facts.relativeHalfWidth, origin: 'material' };
}
