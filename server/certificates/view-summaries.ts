/** What the summaries on paper are made from, gathered as the record stands. */
import { withPools } from '../calibrations/store-pool.ts';
import { calibrationIdsOf, loadCalibrations } from '../calibrations/store.ts';
import { localDay } from '../clock.ts';
import type { Reading } from '../db/logbook.ts';
import { findVessel, revisionsOf, type StoredVessel } from '../glassware/store.ts';
import { listInstruments } from '../instruments/store.ts';
import { isDemonstration, readLaboratory } from '../laboratory/store.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { listConfirmations } from '../tolerances/store.ts';
import { toleranceBasis } from '../tolerances/view-basis.ts';
import { VERSION } from '../version.ts';
import type { HistoryInput } from './pdf/history.ts';
import type { SummarisedCalibration, SummaryHead } from './pdf/summary.ts';
import type { TermInput, TermVessel } from './pdf/term.ts';
import { plural, type Fact } from './statements.ts';
import { countsBetween, lastCalibrationsBetween, numbersBetween } from './store-summaries.ts';
import { listCertificates } from './store.ts';
import { basisWords, kindWords, materialWords } from './words.ts';

const MOST = 100_000;
const NOT_STATED = 'not stated';

/** What every paper is told beside its own rows. */
export const summaryHead = async (db: Reading, now: Date): Promise<SummaryHead> => ({
  laboratoryName: (await readLaboratory(db)).name,
  demonstration: await isDemonstration(db),
  madeAt: now.toISOString(),
  program: VERSION,
});

export interface Summarised {
  id: string;
  vessel: StoredVessel;
  calibration: SummarisedCalibration;
}

/** In the order of the ids of calibrations. */
export const summarise = async (db: Reading, ids: readonly string[]): Promise<Summarised[]> => {
  if (ids.length === 0) return [];
  const stored = await withPools(db, await loadCalibrations(db, ids));
  const confirmations = await listConfirmations(db);
  const certificates = await listCertificates(db, { calibrationIds: ids, limit: MOST });
  return ids.flatMap((id): Summarised[] => {
    const one = stored.get(id);
    if (!one) return [];
    const own = certificates.filter((certificate) => certificate.calibrationId === id);
    const basis =
      one.state === 'issued' && own[0] ? own[0].issued.toleranceBasis : toleranceBasis(one.record, confirmations).basis;
    const calibration = {
      performedOn: one.record.performedOn,
      origin: one.record.origin ?? null,
      state: one.state,
      result: one.frozen ?? evaluate(one.record, toleranceRows),
      toleranceBasis: basis,
      certificates: own.map(({ number, state }) => ({ number, state })),
    };
    return [{ id, vessel: one.vessel, calibration }];
  });
};

const factsOf = (vessel: StoredVessel): Fact[] => [
  ['Kind', kindWords[vessel.kind]],
  ['Nominal volume', `${vessel.nominalVolumeMl} mL`],
  ['Marked', `${basisWords[vessel.basis]}, ${vessel.referenceTemperatureC} °C`],
  ['Material', materialWords[vessel.material]],
  ['Division', vessel.divisionMl == null ? NOT_STATED : `${vessel.divisionMl} mL`],
  ['Maker', vessel.maker ?? NOT_STATED],
  ['Serial number', vessel.serial ?? NOT_STATED],
  ['Location', vessel.location ?? NOT_STATED],
  ['Acquired', vessel.acquiredOn ?? NOT_STATED],
  ['In use', vessel.inUse ? 'yes' : 'no'],
];

/** @returns null for a vessel the register does not hold */
export const historyOf = async (db: Reading, id: string, now: Date): Promise<HistoryInput | null> => {
  const vessel = await findVessel(db, id);
  if (!vessel) return null;
  const revisions = await revisionsOf(db, id);
  return {
    ...(await summaryHead(db, now)),
    tag: vessel.tag,
    facts: factsOf(vessel),
    revisions: revisions.map(({ version, recordedAt, recordedBy, reason }) => ({
      version,
      at: recordedAt,
      by: recordedBy,
      reason,
    })),
    calibrations: (await summarise(db, await calibrationIdsOf(db, id))).map(({ calibration }) => calibration),
  };
};

export const termOf = async (db: Reading, range: { from: string; to: string }, now: Date): Promise<TermInput> => {
  const { from, to } = range;
  const found = await summarise(db, await lastCalibrationsBetween(db, from, to));
  const vessels = found.map(({ vessel, calibration }): TermVessel => {
    const what = `${kindWords[vessel.kind]} ${vessel.nominalVolumeMl} mL`;
    return { tag: vessel.tag, what, calibration };
  });
  const day = localDay(now);
  const overdue = await listInstruments(db, { overdueOn: day, limit: MOST });
  const numbers = new Set(await numbersBetween(db, from, to));
  const certificates = numbers.size === 0 ? [] : await listCertificates(db, { limit: MOST });
  const issued = certificates.filter(({ number }) => numbers.has(number)).reverse();
  const counts = await countsBetween(db, from, to);
  return {
    ...(await summaryHead(db, now)),
    ...range,
    counts: [
      ['Vessels', plural(vessels.length, 'vessel calibrated', 'vessels calibrated')],
      ['Calibrations', `${counts.calibrations}, ${counts.abandoned} of them abandoned`],
      ['Trials', String(counts.trials)],
      ['Certificates', plural(issued.length, 'certificate issued', 'certificates issued')],
    ],
    vessels,
    overdue: overdue.map(({ facts }) => ({ tag: facts.tag, kind: facts.kind, dueOn: facts.dueOn ?? NOT_STATED })),
    certificates: issued.map((one) => ({
      number: one.number,
      tag: one.issued.vessel.tag,
      issuedOn: one.issued.issuedOn,
      state: one.state,
    })),
  };
};
