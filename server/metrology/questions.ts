import { AIR_PRESSURE_RANGE_HPA, AIR_TEMPERATURE_RANGE_C, HUMIDITY_RANGE_PERCENT } from './air-density.ts';
import { usualPressureHpa } from './air.ts';
import { correctionAt, correctionTable } from './corrections.ts';
import { compareDecimals, numberOf, numberOrNull } from './decimal.ts';
import type { CalibrationRecord, CorrectionPoint, DecimalText, TrialFacts } from './record.ts';
import type { OwnAir } from './air.ts';
import { usedFacts } from './slips.ts';
import { findTolerance, rowOf, unusualMark } from './tolerance.ts';
import type { MarkedVessel, ToleranceRow } from './tolerance.ts';
import { evaluateTrial } from './trial.ts';
import { volumeLimitMl } from './trial-findings.ts';
import { WATER_RANGE_C } from './water-density.ts';

export const QUESTION_NAMES = ['air-pressure', 'volume', 'tolerance'] as const;
export type QuestionName = (typeof QUESTION_NAMES)[number];

/** Something to confirm before it is kept: by its name in `confirm`, with a note. */
export interface Question {
  name: QuestionName;
  /** JSON pointer into the request body, for example `#/filledG`. */
  pointer: string;
  detail: string;
}

/** Something that is not kept at all. */
export interface Refusal {
  pointer: string;
  detail: string;
}

type Known = Pick<CalibrationRecord, 'instruments' | 'laboratory'>;

function asRead(text: DecimalText, corrections: readonly CorrectionPoint[] | null | undefined): number {
  const reading = numberOf(text);
  return reading + correctionAt(correctionTable(corrections), reading).value;
}

function outside(value: number, range: readonly [number, number]): boolean {
  return value < range[0] || value > range[1];
}

/** Asks about an air pressure that looks like another unit or sea level; `pointer` is the object that holds it. */
export function questionsForAir(known: Known, air: OwnAir, pointer: string): Question[] {
  if (air.airPressureHpa == null) return [];
  const range = usualPressureHpa(numberOrNull(known.laboratory?.altitudeM));
  if (!outside(numberOf(air.airPressureHpa), range)) return [];
  const usual = `${range[0].toFixed(0)} to ${range[1].toFixed(0)} hPa`;
  const detail = `${air.airPressureHpa} hPa is unusual here (${usual}). Was it read in kPa or mmHg, or reduced to sea level?`;
  return [{ name: 'air-pressure', pointer: `${pointer}/airPressureHpa`, detail }];
}

/** Air that no formula covers; `pointer` is the object that holds it. */
export function refusalsForAir(known: Known, air: OwnAir, pointer: string): Refusal[] {
  const refusals: Refusal[] = [];
  const { airThermometer, barometer, hygrometer } = known.instruments ?? {};
  const refuse = (field: keyof OwnAir, range: readonly [number, number], table: typeof barometer, words: string) => {
    const text = air[field];
    if (text == null || !outside(asRead(text, table?.corrections), range)) return;
    refusals.push({ pointer: `${pointer}/${field}`, detail: words.replace('{}', text) });
  };
  refuse('airTemperatureC', AIR_TEMPERATURE_RANGE_C, airThermometer, 'Air at {} °C: only 5 to 40 °C can be computed.');
  refuse('airPressureHpa', AIR_PRESSURE_RANGE_HPA, barometer, 'Air at {} hPa: only 600 to 1100 hPa can be computed.');
  refuse('relativeHumidityPercent', HUMIDITY_RANGE_PERCENT, hygrometer, 'Humidity {} %: it lies between 0 and 100 %.');
  return refusals;
}

/**
 * What must be asked before a trial is kept: its own air pressure, and a volume far from the test point.
 * Call it only when `refusalsForTrial` is empty.
 * @param row of the vessel's standard, null for none
 * @param pointer JSON pointer of the trial in the request, `#` for a body that is the trial
 */
export function questionsForTrial(
  record: CalibrationRecord,
  trial: TrialFacts,
  number: number,
  row: ToleranceRow | null = null,
  pointer = '#',
): Question[] {
  const questions = questionsForAir(record, usedFacts(trial), pointer);
  const { volumeMl } = evaluateTrial(record, trial, number, row);
  const off = volumeMl - numberOf(trial.pointMl);
  if (Math.abs(off) > volumeLimitMl(record.vessel, row, numberOf(trial.pointMl))) {
    const far = `${Math.abs(off).toPrecision(3)} mL ${off < 0 ? 'below' : 'above'} ${trial.pointMl} mL`;
    const guesses = isDelivered(record)
      ? 'Another mark? A drop at the tip? Digits swapped?'
      : 'Stopper on or off both times? Another mark? Digits swapped?';
    const detail = `This gives ${volumeMl.toPrecision(5)} mL, ${far}. ${guesses}`;
    questions.push({ name: 'volume', pointer: `${pointer}/filledG`, detail });
  }
  return questions;
}

/** The vessel is not weighed itself, but what it gives: before and after. */
const isDelivered = ({ basis, vessel }: CalibrationRecord): boolean => (basis ?? vessel.basis) === 'deliver';

/**
 * Why a trial is not kept: filled not above empty, water or air outside what can be computed.
 * @param pointer JSON pointer of the trial in the request, `#` for a body that is the trial
 */
export function refusalsForTrial(record: CalibrationRecord, trial: TrialFacts, pointer = '#'): Refusal[] {
  const used = usedFacts(trial);
  const refusals: Refusal[] = [];
  const order = compareDecimals(used.filledG, used.emptyG);
  if (order <= 0) {
    const [after, before] = isDelivered(record) ? ['The reading after', 'the one before'] : ['Filled', 'empty'];
    const detail =
      order < 0
        ? `${after} is lighter than ${before} (${used.emptyG} g). Were the two readings swapped?`
        : `${after} equals ${before} (${used.emptyG} g). Which of the two was weighed?`;
    refusals.push({ pointer: `${pointer}/filledG`, detail });
  }
  const balance = record.instruments?.balance?.corrections;
  if (order > 0 && asRead(used.filledG, balance) <= asRead(used.emptyG, balance)) {
    const detail = `With the balance's corrections, filled (${used.filledG} g) is not above empty (${used.emptyG} g). Is its table right?`;
    refusals.push({ pointer: `${pointer}/filledG`, detail });
  }
  const assumed = used.waterTemperatureHalfWidthC != null;
  const corrections = assumed ? null : record.instruments?.thermometer?.corrections;
  if (outside(asRead(used.waterTemperatureC, corrections), WATER_RANGE_C)) {
    const detail = `Water at ${used.waterTemperatureC} °C: only 0 to 40 °C can be computed.`;
    refusals.push({ pointer: `${pointer}/waterTemperatureC`, detail });
  }
  return [...refusals, ...refusalsForAir(record, used, pointer)];
}

/** Asks about a marked tolerance far from the named class's. */
export function questionsForVessel(rows: readonly ToleranceRow[], vessel: MarkedVessel): Question[] {
  const detail = unusualMark(vessel, rowOf(findTolerance(rows, vessel)), vessel.nominalVolumeMl);
  if (detail === null) return [];
  const field = vessel.tolerance?.markedMl == null ? 'markedPercent' : 'markedMl';
  return [{ name: 'tolerance', pointer: `#/tolerance/${field}`, detail }];
}

/** Questions still open: those not named in `confirm`, and all of them while the note is missing. */
export function openQuestions(
  questions: readonly Question[],
  confirm: readonly string[] | null | undefined,
  note: string | null | undefined,
): Question[] {
  const answered = note != null && note.trim() !== '' ? (confirm ?? []) : [];
  return questions.filter((question) => !answered.includes(question.name));
}
