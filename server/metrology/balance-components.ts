import type { Component, Part } from './component.ts';
import { normal, rectangular } from './component.ts';
import { finding } from './findings.ts';
import type { InstrumentNumbers } from './instrument-numbers.ts';
import type { MeanInputs } from './mean-inputs.ts';
import type { Finding } from './result.ts';
import type { Sensitivities } from './sensitivity.ts';
import { DEFAULTS } from './uncertainty-defaults.ts';

type Balance = InstrumentNumbers['balance'];

/** Step of the last digit: of the balance named, else of the filled readings. */
export function resolutionG(balance: Balance, inputs: Pick<MeanInputs, 'massStepG'>): number {
  return balance.resolutionG ?? inputs.massStepG;
}

function certified(balance: Balance): boolean {
  return balance.expandedG !== null || balance.expandedRelative !== null;
}

/** True where the certificate's U holds this influence already. */
function covered(balance: Balance, influence: string): boolean {
  return certified(balance) && balance.covers.includes(influence);
}

const COVERED = 'in the certificate';

function resolutionOf(balance: Balance, inputs: MeanInputs, perG: number): Component {
  const step = resolutionG(balance, inputs);
  const inside = covered(balance, 'resolution');
  return {
    component: 'balance-resolution',
    value: null,
    unit: 'g',
    // one rounding of the empty and one of the filled reading
    parts: inside ? [] : [rectangular(step / 2), rectangular(step / 2)],
    sensitivity: perG,
    degreesOfFreedom: null,
    source: inside ? COVERED : balance.resolutionG === null ? 'last digit of the filled reading' : 'balance',
    assumed: !inside && balance.resolutionG === null,
  };
}

function linearityOf(balance: Balance, inputs: MeanInputs, perG: number): Component {
  const halfWidth = balance.linearityG ?? DEFAULTS.linearitySteps.value * resolutionG(balance, inputs);
  const inside = covered(balance, 'linearity');
  return {
    component: 'balance-linearity',
    value: null,
    unit: 'g',
    parts: inside ? [] : [rectangular(halfWidth), rectangular(halfWidth)],
    sensitivity: perG,
    degreesOfFreedom: null,
    source: inside ? COVERED : balance.linearityG === null ? 'default, two last digits' : 'balance',
    assumed: !inside && balance.linearityG === null,
  };
}

function calibrationOf(balance: Balance, inputs: MeanInputs, perG: number): Component {
  const adjusted = inputs.conditions.adjustedToday === true;
  const relative = adjusted ? DEFAULTS.calibrationAdjusted.value : DEFAULTS.calibration.value;
  const known = certified(balance);
  const expanded = (balance.expandedG ?? 0) + (balance.expandedRelative ?? 0) * inputs.massG;
  const part: Part = known ? normal(expanded / balance.coverageFactor) : rectangular(relative * inputs.massG);
  return {
    component: 'balance-calibration',
    value: inputs.massG,
    unit: 'g',
    parts: [part],
    sensitivity: perG,
    degreesOfFreedom: known ? balance.degreesOfFreedom : null,
    source: known ? 'certificate' : adjusted ? 'default, adjusted on the day' : 'default',
    assumed: !known,
  };
}

function driftOf(balance: Balance, inputs: MeanInputs, perG: number, findings: Finding[]): Component {
  const typed = balance.driftRelative;
  const settled = !certified(balance) || inputs.conditions.adjustedToday === true;
  if (typed === null && !settled) {
    const detail = 'How far the balance may have drifted since its certificate is not known; it counts as 0.';
    findings.push(finding('balance-drift-unknown', detail));
  }
  return {
    component: 'balance-drift',
    value: null,
    unit: 'g',
    parts: typed === null ? [] : [rectangular(typed * inputs.massG)],
    sensitivity: perG,
    degreesOfFreedom: null,
    source: typed !== null ? 'balance' : settled ? 'none: adjusted on the day, or calibration assumed' : 'not known',
    assumed: typed === null && !settled,
  };
}

/**
 * What the balance adds: last digits, non-linearity, calibration, drift, each as a mass in g.
 * @source jcgm-100-2008, 4.3.7 and 4.3.3
 */
export function balanceComponents(
  balance: Balance,
  inputs: MeanInputs,
  by: Sensitivities,
  findings: Finding[],
): Component[] {
  return [
    resolutionOf(balance, inputs, by.perG),
    linearityOf(balance, inputs, by.perG),
    calibrationOf(balance, inputs, by.perG),
    driftOf(balance, inputs, by.perG, findings),
  ];
}

/**
 * What evaporation adds: half of the evaporated mass as half-width.
 * @source common-practice, a measured rate is known to about one half
 */
export function evaporationComponent(inputs: MeanInputs, by: Sensitivities): Component {
  const known = inputs.evaporationG > 0;
  return {
    component: 'evaporation',
    value: inputs.evaporationG,
    unit: 'g',
    parts: known ? [rectangular(DEFAULTS.evaporationShare.value * inputs.evaporationG)] : [],
    sensitivity: by.perG,
    degreesOfFreedom: null,
    source: known ? 'typed rate and open time' : 'none',
    assumed: false,
  };
}
