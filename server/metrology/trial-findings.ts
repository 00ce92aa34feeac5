import { saturationPressurePa } from './air-density.ts';
import type { Air } from './air.ts';
import { dewPointC } from './atmosphere.ts';
import { numberOf, numberOrNull, sameDecimal } from './decimal.ts';
import { deliveryLimitsS } from './delivery-times.ts';
import { finding } from './findings.ts';
import type { ConditionFacts, DecimalText, TrialFacts, VesselFacts } from './record.ts';
import type { Finding } from './result.ts';
import type { Setup } from './setup.ts';
import { usedFacts } from './slips.ts';
import { toleranceMlAt } from './tolerance.ts';
import type { ToleranceRow } from './tolerance.ts';

/** How far water and air may differ, K. */
const WATER_AIR_LIMIT_K = 2;
const WATER_AIR_LIMIT_SENSITIVE_K = 0.5;
const WATER_AIR_STRONG_K = 5;
/** How far the water should stay above the dew point, K. */
const DEW_MARGIN_K = 1;
/** Below this volume evaporation is no longer negligible, mL. */
const EVAPORATION_LIMIT_ML = 0.2;

/** What the water's grade leaves open. */
export function addWaterFindings(findings: Finding[], conditions: ConditionFacts, temperatureC: number): void {
  if (conditions.waterGrade == null || conditions.waterGrade === 'not-stated') {
    findings.push(finding('water-grade-not-stated', 'The grade of the water is not stated; it counts as pure.'));
  }
  if (conditions.waterGrade === 'tap' && conditions.conductivityUsPerCm == null) {
    const detail = 'Tap water of unknown conductivity: taken as 200 ppm denser than pure water.';
    findings.push(finding('tap-water-assumed', detail));
  }
  if (conditions.dissolvedAir === true && temperatureC > 25) {
    const detail = `Dissolved air at ${temperatureC} °C: the formula is stated for 0 to 25 °C.`;
    findings.push(finding('dissolved-air-extrapolated', detail));
  }
}

/** Warmth of water against air, moisture on the vessel, capacity of the balance. */
export function addWeighingFindings(
  findings: Finding[],
  setup: Setup,
  air: Air,
  waterC: number,
  filledG: number,
): void {
  if (air.temperatureC.measured) {
    const difference = Math.abs(waterC - air.temperatureC.value);
    const limit = setup.sensitiveToWarmth ? WATER_AIR_LIMIT_SENSITIVE_K : WATER_AIR_LIMIT_K;
    const strong = difference > WATER_AIR_STRONG_K;
    if (difference > limit) {
      const words = strong ? 'Let both settle before going on.' : `Usual is at most ${limit} K.`;
      const code = strong ? 'water-air-difference-strong' : 'water-air-difference';
      findings.push(finding(code, `Water and air are ${difference.toFixed(1)} K apart. ${words}`));
    }
  }
  // moisture settles where the air holds more vapour than it could one kelvin below the water
  if (air.vapourPressurePa !== null && air.vapourPressurePa > saturationPressurePa(waterC - DEW_MARGIN_K)) {
    const dew = dewPointC(air.temperatureC.value, air.humidityPercent.value) ?? Number.NaN;
    const detail = `Water at ${waterC} °C, dew point ${dew.toFixed(1)} °C: moisture may settle on the vessel.`;
    findings.push(finding('below-dew-point', detail));
  }
  if (setup.capacityG !== null && filledG > setup.capacityG) {
    const detail = `${filledG} g is more than the balance can carry (${setup.capacityG} g).`;
    findings.push(finding('above-capacity', detail));
  }
}

/** Waiting time a vessel asks for when it delivers, s: as marked, else its standard's; null for none. */
export function requiredWaitS(vessel: VesselFacts, row: ToleranceRow | null): number | null {
  return numberOrNull(vessel.waitingTimeS) ?? row?.waitTimeS ?? null;
}

/** True when a recorded waiting time is at least the one asked for, and none where none is allowed. */
export function waitKept(requiredS: number, waited: DecimalText | null | undefined): boolean {
  if (requiredS === 0) return waited == null || numberOf(waited) === 0;
  return waited != null && numberOf(waited) >= requiredS;
}

/** Delivery and waiting times against the standard's; nothing for vessels that contain. */
export function addTimeFindings(findings: Finding[], setup: Setup, trial: TrialFacts): void {
  if (setup.basis !== 'deliver') return;
  const required = requiredWaitS(setup.record.vessel, setup.row);
  if (required !== null && !waitKept(required, trial.waitingTimeS)) {
    findings.push(
      trial.waitingTimeS == null
        ? finding('waiting-time-not-recorded', `${required} s of waiting are asked for; none were recorded.`)
        : finding('waiting-time-outside', `Waited ${trial.waitingTimeS} s; ${required} s are asked for.`),
    );
  }
  const nominalMl = numberOf(setup.record.vessel.nominalVolumeMl);
  const limits = deliveryLimitsS(setup.row, numberOf(trial.pointMl), nominalMl);
  if (limits !== null && trial.deliveryTimeS != null) {
    const seconds = numberOf(trial.deliveryTimeS);
    if (seconds < limits.min || (limits.max !== undefined && seconds > limits.max)) {
      const range = limits.max === undefined ? `at least ${limits.min} s` : `${limits.min} to ${limits.max} s`;
      findings.push(
        finding('delivery-time-outside', `Delivered in ${trial.deliveryTimeS} s; the standard says ${range}.`),
      );
    }
  }
}

/** An empty reading taken over from another trial that no longer agrees with it. */
export function addEmptySourceFindings(findings: Finding[], setup: Setup, trial: TrialFacts): void {
  if (trial.emptyOf == null || (trial.emptySource !== 'reused' && trial.emptySource !== 'carried')) return;
  const from = setup.record.trials.find((one, index) => (one.number ?? index + 1) === trial.emptyOf);
  if (from === undefined) return;
  const used = usedFacts(from);
  const reading = trial.emptySource === 'reused' ? used.emptyG : used.filledG;
  if (sameDecimal(reading, trial.emptyG)) return;
  const detail = `Empty is ${trial.emptyG} g here, but ${reading} g in trial ${trial.emptyOf}.`;
  findings.push(finding('empty-differs-from-source', detail));
}

/** How far a volume may lie from its point before somebody should look again, mL. */
export function volumeLimitMl(vessel: VesselFacts, row: ToleranceRow | null, pointMl: number): number {
  if (vessel.kind === 'beaker' || vessel.kind === 'conical-flask') return 0.3 * pointMl;
  if (vessel.kind === 'pycnometer' || vessel.kind === 'other') return 0.1 * pointMl;
  return Math.max(5 * (toleranceMlAt(vessel, row, pointMl) ?? 0), 0.02 * pointMl);
}

/** A volume far from its point, and evaporation nobody knows where it matters. */
export function addVolumeFindings(
  findings: Finding[],
  setup: Setup,
  pointMl: DecimalText,
  volumeMl: number,
  rateKnown: boolean,
): void {
  const point = numberOf(pointMl);
  if (Math.abs(volumeMl - point) > volumeLimitMl(setup.record.vessel, setup.row, point)) {
    findings.push(finding('volume-unusual', `${volumeMl.toPrecision(5)} mL is far from ${pointMl} mL.`));
  }
  if (Math.abs(volumeMl) < EVAPORATION_LIMIT_ML && !rateKnown) {
    findings.push(finding('evaporation-unknown', 'Below 0.2 mL evaporation matters; its rate is not known.'));
  }
}
