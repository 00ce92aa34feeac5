import { finding } from './findings.ts';
import type { CalibrationRecord, InstrumentFacts } from './record.ts';
import type { Finding, TrialResult } from './result.ts';

/** Change of the water temperature within a point that is still usual, K. */
const WATER_RANGE_LIMIT_K = 0.5;
/** Change of the air temperature that is still usual, K per hour. */
const DRIFT_LIMIT_K_PER_H = 1;
/** Changes within less than this are taken over this: a last digit that flickers is no drift, h. */
const SHORTEST_SPAN_H = 0.5;

export function waterRangeFinding(counted: readonly TrialResult[]): Finding[] {
  if (counted.length < 2) return [];
  const temperatures = counted.map((trial) => trial.corrected.waterTemperatureC);
  const lowest = Math.min(...temperatures);
  const highest = Math.max(...temperatures);
  // readings in steps of 0.1 K differ by 0.5 K only up to the last bit of a double
  if (highest - lowest <= WATER_RANGE_LIMIT_K + 1e-9) return [];
  return [finding('water-temperature-range', `Water between ${lowest} °C and ${highest} °C within this point.`)];
}

/** Readings of the air temperature with the time they were recorded. */
function timedAir(record: CalibrationRecord): { hours: number; temperatureC: number }[] {
  const timed: { hours: number; temperatureC: number }[] = [];
  for (const reading of [...(record.conditionReadings ?? []), ...record.trials]) {
    if (reading.airTemperatureC == null || reading.recordedAt == null) continue;
    const hours = Date.parse(reading.recordedAt) / 3_600_000;
    if (Number.isFinite(hours)) timed.push({ hours, temperatureC: Number(reading.airTemperatureC) });
  }
  return timed.sort((first, second) => first.hours - second.hours);
}

/** Fastest change of the air temperature between any two timed readings, against 1 K per hour. */
export function driftFinding(record: CalibrationRecord): Finding[] {
  const timed = timedAir(record);
  let fastest = 0;
  for (const [index, before] of timed.entries()) {
    for (const after of timed.slice(index + 1)) {
      const span = Math.max(after.hours - before.hours, SHORTEST_SPAN_H);
      fastest = Math.max(fastest, Math.abs(after.temperatureC - before.temperatureC) / span);
    }
  }
  if (fastest <= DRIFT_LIMIT_K_PER_H + 1e-9) return [];
  return [finding('air-drift', `The air changed by ${fastest.toFixed(1)} K per hour.`)];
}

const INSTRUMENT_NAMES: Record<keyof InstrumentFacts, string> = {
  balance: 'balance',
  thermometer: 'thermometer',
  barometer: 'barometer',
  hygrometer: 'hygrometer',
  airThermometer: 'air thermometer',
};

/** Certificates that had run out on the day of the work; ISO dates compare as text. */
export function overdueFindings(record: CalibrationRecord): Finding[] {
  const day = record.performedOn ?? record.enteredOn;
  const instruments = record.instruments;
  if (day == null || instruments == null) return [];
  const findings: Finding[] = [];
  for (const kind of Object.keys(INSTRUMENT_NAMES) as (keyof InstrumentFacts)[]) {
    const due = instruments[kind]?.dueOn;
    if (due == null || due.slice(0, 10) >= day.slice(0, 10)) continue;
    const detail = `The certificate of the ${INSTRUMENT_NAMES[kind]} ran until ${due.slice(0, 10)}.`;
    findings.push(finding('instrument-overdue', detail));
  }
  return findings;
}

/** A dry reading that served more than one trial. */
export function reusedFinding(counted: readonly TrialResult[]): Finding[] {
  if (!counted.some((trial) => trial.emptySource === 'reused')) return [];
  const detail = 'A dry reading was taken over: the spread covers setting the meniscus only, not drying and placing.';
  return [finding('empty-reused', detail)];
}

/** What concerns the calibration as a whole. */
export function calibrationFindings(record: CalibrationRecord): Finding[] {
  const findings: Finding[] = [];
  const { performedOn, enteredOn } = record;
  if (performedOn != null && enteredOn != null && enteredOn.slice(0, 10) > performedOn.slice(0, 10)) {
    findings.push(finding('entered-later', `Performed on ${performedOn}, entered on ${enteredOn.slice(0, 10)}.`));
  }
  if (record.origin === 'sheet') {
    findings.push(finding('typed-from-sheet', 'Typed from a recording sheet; not entered at the balance.'));
  }
  if (record.origin === 'paper') {
    findings.push(finding('taken-over-from-paper', 'Taken over from paper; not entered at the balance.'));
  }
  const inspected = [record.conditions, ...(record.conditionReadings ?? [])].some((one) => one?.inspected === true);
  if (!inspected) {
    findings.push(
      finding('not-inspected', 'Nobody recorded a look for chips, cracks and dirt before the first trial.'),
    );
  }
  return findings;
}

/** Marks counted trials past the planned number; what replaces an excluded trial is within the plan. */
export function markBeyondPlan(counted: readonly TrialResult[], planned: number | null): void {
  if (planned === null) return;
  for (const trial of counted.slice(planned)) {
    const detail = `${planned} trials were planned at this point. Say in the note why there is one more.`;
    trial.findings.push(finding('beyond-plan', detail, trial.number));
  }
}
