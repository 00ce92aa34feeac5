/** Issued certificates of invented vessels, made by the real computation. */
import type { Issued, IssueEntry } from '../../server/certificates/issued.ts';
import { evaluate } from '../../server/metrology/evaluate.ts';
import type { CalibrationRecord, TrialFacts, VesselFacts } from '../../server/metrology/record.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { flask, record } from '../metrology/make.ts';

const TYPED = '2026-03-12T09:';

export const ENTRY: IssueEntry = { number: 214, hash: '5c'.repeat(32), frozenHash: 'a7'.repeat(32) };

/** Trials of one point whose masses scatter around `massG` in steps, the same each time. */
export function weighings(pointMl: string, massG: number, count: number, spreadG = 0.004, first = 1): TrialFacts[] {
  return Array.from({ length: count }, (_, index) => {
    const scatter = (((index * 7) % 11) / 10 - 0.5) * 2 * spreadG;
    return {
      number: first + index,
      pointMl,
      emptyG: '61.2034',
      filledG: (61.2034 + massG + scatter).toFixed(4),
      waterTemperatureC: '21.30',
      recordedAt: `${TYPED}${String(index % 60).padStart(2, '0')}:00.000Z`,
      recordedBy: 'Tilda Tentative',
    };
  });
}

/** A class A flask, 99.98 mL, ten trials, its tolerance marked on the glass. */
export function flaskRecord(facts: Partial<CalibrationRecord> = {}): CalibrationRecord {
  return record({
    vessel: flask({ tolerance: { markedMl: '0.1' }, neckDiameterMm: '13' }),
    performedOn: '2026-03-12',
    plannedTrials: 10,
    decisionRule: 'guarded',
    coverageProbability: '0.9545',
    trials: weighings('100', 99.66, 10),
    ...facts,
  });
}

/** Everything that may be missing is missing. */
export function issued(given: CalibrationRecord = flaskRecord(), facts: Partial<Issued> = {}): Issued {
  const result = evaluate(given, toleranceRows);
  return {
    format: 'tarebook-issued-2',
    program: '0.2.0',
    number: '2026-00042',
    replaces: null,
    issuedAt: '2026-03-13T08:05:00.000Z',
    issuedOn: '2026-03-13',
    laboratory: { name: null, address: null },
    demonstration: false,
    calibrationId: '0195c000-0000-7000-8000-000000000001',
    begunOn: '2026-03-12',
    endedOn: '2026-03-12',
    vessel: {
      id: '0195c000-0000-7000-8000-000000000002',
      version: 1,
      tag: 'F-100-07',
      serial: null,
      maker: null,
      location: null,
      acquiredOn: null,
      note: null,
    },
    instruments: [],
    record: given,
    pool: null,
    note: null,
    acts: [],
    signatures: [{ meaning: 'issued', name: 'Ines Issuer', at: '2026-03-13T08:05:00.000Z', ownWork: false }],
    toleranceName: null,
    toleranceBasis: { kind: 'marked' },
    dueOn: null,
    result,
    versions: result.versions,
    ...facts,
  };
}

/** Text that has to survive every format: what markup is made of, signs outside the first plane, quotes. */
export const AWKWARD = 'Quartz & "Sons" <Ltd> \u{1F9EA} µ';

/** A burette with everything a record can hold, amended. */
export function maximal(): Issued {
  const points = ['10', '20', '30', '40', '50'];
  const vessel: VesselFacts = {
    kind: 'burette',
    nominalVolumeMl: '50',
    basis: 'deliver',
    tolerance: { standard: 'ISO 385', edition: '2005', class: 'A' },
    material: 'borosilicate-3.3',
    expansionPerK: '0.0000099',
    referenceTemperatureC: '20',
    divisionMl: '0.1',
    marks: points,
    waitingTimeS: '30',
  };
  const trials = points.flatMap((pointMl, at) =>
    weighings(pointMl, Number(pointMl) * 0.9967, 6, 0.006, at * 6 + 1).map((trial) => ({
      ...trial,
      deliveryTimeS: '62',
      waitingTimeS: '30',
      airTemperatureC: '21.8',
    })),
  );
  const by = { recordedAt: `${TYPED}58:00.000Z`, recordedBy: 'Tilda Tentative' };
  trials[2] = {
    ...trials[2]!,
    corrections: [{ field: 'emptyG', value: '61.2035', reason: 'read one digit too low', ...by }],
  };
  trials[9] = {
    ...trials[9]!,
    filledG: '80.9',
    note: AWKWARD,
    exclusion: { cause: 'spill', reason: `ran over the edge; ${AWKWARD}`, ...by },
  };
  const given = flaskRecord({ vessel, points, plannedTrials: 6, trials, enteredOn: '2026-03-12' });
  const instrument = { version: 2, model: AWKWARD, serial: 'B-1', certificateOn: '2025-09-01', dueOn: '2026-09-01' };
  return issued(given, {
    number: '2026-00043',
    replaces: { number: '2026-00042', reason: `wrong serial number; ${AWKWARD}` },
    laboratory: {
      name: `Water bench ${AWKWARD}`,
      address: `1 Invented Street\n00000 Nowhere & more`,
      countryCode: 'NZ',
    },
    vessel: {
      id: '0195c000-0000-7000-8000-000000000003',
      version: 4,
      tag: 'B-50-02',
      serial: `S/${AWKWARD}`,
      maker: AWKWARD,
      location: 'shelf 3',
      acquiredOn: '2019-02-01',
      note: 'from the old room',
    },
    instruments: [
      { role: 'balance', id: '1', tag: 'BAL-1', certificateNumber: `C-${AWKWARD}`, ...instrument },
      { role: 'thermometer', id: '2', tag: 'TH-1', ...instrument, certificateNumber: null, certificateOn: null },
    ],
    note: `Note: ${AWKWARD}`,
    acts: [
      {
        act: 'calibration-amended',
        at: '2026-03-13T07:00:00.000Z',
        by: 'Ines Issuer',
        reason: AWKWARD,
        before: null,
      },
      {
        act: 'plan-changed',
        at: '2026-03-12T09:30:00.000Z',
        by: 'Tilda Tentative',
        reason: 'more points were wanted',
        before: { plannedTrials: 3, decisionRule: 'simple', coverageProbability: '0.95', verdict: 'pass' },
      },
    ],
    signatures: [
      { meaning: 'measured', name: 'Tilda Tentative', at: '2026-03-12T10:00:00.000Z', ownWork: true },
      { meaning: 'checked', name: 'Tilda Tentative', at: '2026-03-12T11:00:00.000Z', ownWork: true },
      { meaning: 'issued', name: 'Ines Issuer', at: '2026-03-13T08:05:00.000Z', ownWork: false },
    ],
    toleranceName: 'ISO 385:2005 class A',
    toleranceBasis: {
      kind: 'confirmed',
      whereSeen: 'the paper copy in the library',
      by: 'Kim Keeper',
      at: '2026-01-05T10:00:00.000Z',
    },
    dueOn: '2029-03-12',
  });
}
