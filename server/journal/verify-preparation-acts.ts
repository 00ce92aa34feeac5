/** Acts about solutions and the evidence rows they leave. */
import type { JournalValue } from './canonical.ts';
import { fieldsOf, idOf, type ExpectedRow, type NextNumber, type ReadEntry } from './verify-entry.ts';

/** Field of the entry → column of the row. */
type Columns = Record<string, string>;

const told = (entry: ReadEntry, columns: Columns): ExpectedRow['columns'] => {
  const after = fieldsOf(entry.after);
  return Object.fromEntries(
    Object.entries(columns).map(([field, column]): [string, JournalValue] => [column, after[field] ?? null]),
  );
};

const recorded = (entry: ReadEntry): ExpectedRow => ({
  table: 'preparation',
  key: { id: idOf(entry) },
  parent: '',
  columns: told(entry, {
    number: 'number',
    way: 'way',
    title: 'title',
    madeOn: 'made_on',
    expiresOn: 'expires_on',
    accuracyPercent: 'accuracy_percent',
    hazardLine: 'hazard_line',
    water: 'water',
    lots: 'lots',
    note: 'note',
    solution: 'inputs',
    resultHash: 'result_hash',
  }),
  json: ['inputs'],
});

const numbered =
  (table: string, columns: Columns) =>
  (entry: ReadEntry, next: NextNumber): ExpectedRow => {
    const id = idOf(entry);
    const key = { preparation_id: id, number: next(table, id) };
    return { table, key, parent: id, columns: told(entry, columns), json: [] };
  };

const ended = (entry: ReadEntry): ExpectedRow => ({
  table: 'preparation_end',
  key: { preparation_id: idOf(entry) },
  parent: '',
  columns: told(entry, { ending: 'ending', reason: 'reason' }),
  json: [],
});

export const PREPARATION_ACTS: Record<string, (entry: ReadEntry, next: NextNumber) => ExpectedRow> = {
  'preparation-recorded': recorded,
  'preparation-vessel-used': numbered('preparation_vessel', {
    vesselId: 'vessel_id',
    calibrationId: 'calibration_id',
    use: 'use',
  }),
  'preparation-instrument-used': numbered('preparation_instrument', {
    instrumentId: 'instrument_id',
    version: 'instrument_version',
    use: 'use',
  }),
  'preparation-ended': ended,
  'preparation-decided': numbered('preparation_decision', {
    vesselId: 'vessel_id',
    calibrationId: 'calibration_id',
    instrumentId: 'instrument_id',
    instrumentVersion: 'instrument_version',
    decision: 'decision',
    reason: 'reason',
  }),
};
