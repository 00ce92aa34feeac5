/** What blank sheets say of their vessels, gathered as the record stands. */
import { makePdf } from '../certificates/pdf/making.ts';
import { plural, toleranceText, type Fact } from '../certificates/statements.ts';
import { summaryHead } from '../certificates/view-summaries.ts';
import { basisWords, kindWords } from '../certificates/words.ts';
import type { Reading } from '../db/logbook.ts';
import { judgingTolerance } from '../glassware/judging.ts';
import { findVessel, type StoredVessel } from '../glassware/store.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { proposePoints } from '../metrology/points-proposed.ts';
import { findTolerance, rowOf } from '../metrology/tolerance.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { requiredWaitS } from '../metrology/trial-findings.ts';
import { invalid, notFound } from '../problem.ts';
import { findLot } from '../lots/store.ts';
import { MOST_ROWS, MOST_TRIALS, type RecordingSheetQuery } from './contract.ts';
import type { RecordingSheetInput } from './sheet.ts';
import type { SheetVessel } from './tables.ts';
import { cautionsFor } from './words.ts';

const toleranceOf = (vessel: StoredVessel): string => {
  const { toleranceMl } = judgingTolerance(vessel);
  return toleranceMl === null ? 'none stated' : toleranceText(toleranceMl);
};

const classOf = ({ tolerance }: StoredVessel): Fact[] => {
  if (tolerance?.standard == null || tolerance.class == null) return [];
  const standard = `${tolerance.standard}:${tolerance.edition ?? ''}`;
  return [['Class', tolerance.class === '-' ? standard : `${tolerance.class} (${standard})`]];
};

const waitOf = (vessel: StoredVessel): Fact[] => {
  if (vessel.basis !== 'deliver' || vessel.kind === 'piston-pipette') return [];
  const seconds = requiredWaitS(vessel, rowOf(findTolerance(toleranceRows, vessel)));
  return [['Waiting time', seconds === null || seconds === 0 ? 'none asked for' : `at least ${seconds} s`]];
};

const sheetVessel = (vessel: StoredVessel): SheetVessel => {
  const points = proposePoints(vessel).proposed;
  return {
    tag: vessel.tag,
    what: `${kindWords[vessel.kind]} ${vessel.nominalVolumeMl} mL`,
    facts: [
      ['Kind', kindWords[vessel.kind]],
      ['Nominal volume', `${vessel.nominalVolumeMl} mL`],
      ['Marked', `${basisWords[vessel.basis]}, ${vessel.referenceTemperatureC} °C`],
      ...classOf(vessel),
      ['Tolerance', toleranceOf(vessel)],
      ...waitOf(vessel),
    ],
    points,
    basis: vessel.basis,
    isPiston: vessel.kind === 'piston-pipette',
    cautions: cautionsFor(vessel),
  };
};

/** Vessels out of use are left out of a lot; one that is named is refused. */
const vesselsToWeigh = async (db: Reading, ids: readonly string[], isLot: boolean): Promise<StoredVessel[]> => {
  const found: StoredVessel[] = [];
  for (const id of ids) {
    const vessel = await findVessel(db, id);
    if (!vessel) throw notFound('vessel');
    if (vessel.inUse) found.push(vessel);
    else if (!isLot)
      throw invalid([{ pointer: '#/vessels', detail: `${vessel.tag} is out of use. Take it out of the list.` }]);
  }
  if (found.length === 0) throw notFound('vessel');
  return found;
};

/** @throws Problem where a vessel is out of use, or there is too much for one file */
export const sheetInput = async (
  db: Reading,
  query: RecordingSheetQuery,
  ids: readonly string[],
  now: Date,
): Promise<RecordingSheetInput> => {
  const vessels = (await vesselsToWeigh(db, ids, query.lot !== undefined)).map(sheetVessel);
  const trials = query.trials ?? Math.min(MOST_TRIALS, (await readLaboratory(db)).defaults.plannedTrials);
  const rows = vessels.reduce((sum, { points }) => sum + points.length * trials, 0);
  if (rows > MOST_ROWS) {
    const detail = `These sheets would have ${rows} rows; ${MOST_ROWS} go into one file. Choose fewer vessels or trials.`;
    throw invalid([{ pointer: '#/trials', detail }]);
  }
  const lot = query.lot === undefined ? null : await findLot(db, query.lot);
  return {
    ...(await summaryHead(db, now)),
    ...{ form: query.form, sheet: query.paper, trials, vessels },
    about: lot?.name ?? plural(vessels.length, 'vessel', 'vessels'),
  };
};

export const setSheets = (input: RecordingSheetInput): Promise<Buffer> => makePdf({ kind: 'recording-sheets', input });
