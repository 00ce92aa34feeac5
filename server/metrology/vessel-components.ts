import type { Component } from './component.ts';
import { rectangular } from './component.ts';
import type { ExpansionCoefficient } from './materials.ts';
import type { MeanInputs } from './mean-inputs.ts';
import type { Sensitivities } from './sensitivity.ts';
import { DEFAULTS } from './uncertainty-defaults.ts';

const ORIGIN_WORDS: Record<ExpansionCoefficient['origin'], string> = {
  typed: 'typed',
  material: 'material',
  unknown: 'not known, counts as 0',
};

/**
 * What the vessel adds: its expansion coefficient, and glass that is not at the water's temperature.
 * @source common-practice, half-widths of coefficients and of the temperature of the glass
 */
export function vesselComponents(expansion: ExpansionCoefficient, inputs: MeanInputs, by: Sensitivities): Component[] {
  const apart = Math.abs(inputs.airC - inputs.waterC) * DEFAULTS.vesselShare.value;
  const halfWidth = expansion.value * expansion.relativeHalfWidth;
  return [
    {
      component: 'expansion',
      value: expansion.value,
      unit: '1/K',
      parts: halfWidth === 0 ? [] : [rectangular(halfWidth)],
      sensitivity: by.perExpansion,
      degreesOfFreedom: null,
      source: ORIGIN_WORDS[expansion.origin],
      assumed: expansion.origin === 'unknown',
    },
    {
      component: 'vessel-temperature',
      value: 0,
      unit: 'K',
      parts: [rectangular(Math.max(DEFAULTS.vesselMinimumK.value, apart))],
      sensitivity: by.perVesselK,
      degreesOfFreedom: null,
      source: 'the glass may differ from the water',
      assumed: false,
    },
  ];
}
