import type { Finding } from './result.ts';

/** Every finding by its code: what it means, in one sentence. Findings inform; they never refuse. */
export const FINDINGS = {
  // from reading to volume
  'no-correction-known': 'An instrument has no table of corrections, so its readings count as displayed.',
  'correction-extrapolated': 'A reading lies outside the table of corrections, so the end value was used.',
  'water-temperature-assumed': 'The water temperature was assumed, not read.',
  'water-grade-not-stated': 'The grade of the water is not stated; it counts as pure.',
  'tap-water-assumed': 'Tap water without a conductivity: 200 ppm of density were assumed.',
  'dissolved-air-extrapolated': 'The formula for dissolved air is stated for 0 to 25 °C only.',
  'air-assumed': 'Air temperature, pressure or humidity was not measured and a usual value was taken.',
  'air-formula-extrapolated': 'The air density formula is stated for 15 to 27 °C; outside it is extrapolated.',
  'expansion-not-known': 'The expansion coefficient of the material is not known; it counts as 0.',
  'evaporation-unknown': 'Below 0.2 mL evaporation matters, and its rate is not known.',
  'empty-differs-from-source': 'The empty reading differs from the reading it was taken over from.',
  'air-pressure-unusual': 'The air pressure is unusual for a laboratory at this altitude.',
  'volume-unusual': 'The volume lies far from the test point.',
  // how the work was done
  'water-air-difference': 'Water and air differ in temperature by more than is usual.',
  'water-air-difference-strong': 'Water and air differ in temperature by more than 5 K.',
  'below-dew-point': 'The water is so cold that moisture may settle on the vessel.',
  'above-capacity': 'The filled reading lies above the capacity of the balance.',
  'delivery-time-outside': 'The delivery time lies outside the standard.',
  'waiting-time-outside': 'The waiting time is not the one the vessel asks for.',
  'waiting-time-not-recorded': 'The vessel asks for a waiting time and none was recorded.',
  'beyond-plan': 'This trial goes beyond the number planned; it counts, and a reason belongs in its note.',
  'water-temperature-range': 'The water temperature changed by more than 0.5 K within a test point.',
  'air-drift': 'The air temperature changed by more than 1 K per hour.',
  'suspected-outlier': 'One trial lies far from the others. Look for a cause; the number alone excludes nothing.',
  'instrument-overdue': 'The certificate of an instrument had run out.',
  'not-inspected': 'Nobody recorded that the vessel was looked at for chips, cracks and dirt.',
  'entered-later': 'The calibration was entered later than the day it was performed.',
  'typed-from-sheet': 'The readings were not entered at the balance; they were typed from a recording sheet.',
  'taken-over-from-paper': 'The readings were not entered at the balance; they were taken over from paper.',
  // the result
  'empty-reused': 'The dry reading was taken over, so the spread covers setting the meniscus only.',
  'other-basis': 'Calibrated on another basis than marked: mean and uncertainty, no verdict.',
  'no-tolerance': 'The vessel has no tolerance: mean and uncertainty, no verdict.',
  'tolerance-not-found': 'No single tolerance row fits what is marked: mean and uncertainty, no verdict.',
  'tolerance-unusual': 'The marked tolerance is more than twice or less than half that of the named class.',
  'tolerance-not-checked': 'The tolerance was not read in the standard itself.',
  'uncertainty-above-third': 'The uncertainty is more than a third of the tolerance.',
  'random-error-outside': 'The spread is more than the random limit of the piston pipette.',
  'balance-too-coarse': 'The balance is coarser than a piston pipette of this volume wants.',
  'random-limit-unknown': 'No random limit is known, so the systematic error alone was judged.',
  'predicted-spread': 'One trial shows no spread; it was predicted from the balance and the mark.',
  'pooled-too-few': 'The pooled spread rests on fewer than ten degrees of freedom and was not used.',
  'own-spread-used': 'These trials spread too much for the pooled spread, so their own was used.',
  'balance-drift-unknown': 'Drift of the balance since its certificate is not known; it counts as 0.',
  'neck-assumed': 'The neck diameter is not known; that of the next size of ISO 1042 was taken.',
  'meniscus-assumed': 'Neither neck diameter nor division is known; a tenth of the tolerance was assumed.',
  'meniscus-unknown': 'Nothing is known of the mark; setting the meniscus counts as exact.',
  'verdict-changed-by-exclusion': 'With every trial counted the verdict would be another one.',
  // a solution made or planned
  approximate: 'The substance is no primary standard and has no certificate: approximate until standardised.',
  'vessel-not-calibrated':
    'A vessel was not calibrated at this mark; its volume is the marked one, within the tolerance.',
  'vessel-without-tolerance': 'A vessel has neither a calibration nor a tolerance; its volume counts as exact.',
  'vessel-overdue': 'The calibration of a vessel was overdue.',
  'vessel-failed': 'A vessel does not keep its tolerance; its measured volume was taken.',
  'solid-density-not-known': 'The density of the solid is not known; its buoyancy was taken between 0 and 600 ppm.',
  'below-minimum-load': 'The mass lies below the least load this balance weighs to 0.10 %.',
  'balance-not-named': 'No balance was named; its influences were taken from the digits of the reading.',
  'accuracy-not-met': 'The expanded uncertainty is larger than the accuracy that is wanted.',
  'few-titrations': 'Below three titrations their spread is not seen; the repeatability given, if any, was taken.',
  'titration-apart': 'One titration lies far from the others. Look for a cause; the number alone excludes nothing.',
  'weighed-far-from-wanted': 'The mass weighed is far from the one that the concentration wanted asks for.',
  'stock-approximate': 'The stock is approximate until it has been standardised, and so is what is made from it.',
  'stock-expired': 'The stock was past its day of expiry.',
  'stock-ended': 'The stock is recorded as used up or discarded.',

  // an issued result looked at again
  'computed-otherwise': 'This program computes another result from the frozen inputs.',
  'recorded-otherwise': 'The rows of the record no longer say what was issued.',
  'frozen-otherwise': 'What was frozen no longer has the hash that the journal holds.',
  'signature-void': 'The record was changed after it was signed.',
} as const;

export type FindingCode = keyof typeof FINDINGS;

export function finding(code: FindingCode, detail: string, trial?: number): Finding {
  return trial === undefined ? { code, detail } : { code, detail, trial };
}
