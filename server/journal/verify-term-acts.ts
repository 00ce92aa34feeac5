/** Acts of a term's work and the evidence rows they leave: lots, rounds, zero checks, inspections, decisions. */
import type { JournalValue } from './canonical.ts';
import { fieldsOf, idOf, type ExpectedRow, type NextNumber, type ReadEntry } from './verify-entry.ts';

interface RowOfAct {
  table: string;
  /** Column of the record the act is about; rows are numbered within it. */
  parent: string;
  /** Column that counts. */
  counter?: string;
  /** Field of the entry → column of the row. */
  columns: Record<string, string>;
  json?: readonly string[];
}

const numbered =
  ({ table, parent, counter = 'number', columns, json = [] }: RowOfAct) =>
  (entry: ReadEntry, next: NextNumber): ExpectedRow => {
    const after = fieldsOf(entry.after);
    const id = idOf(entry);
    const told = Object.entries(columns).map(([field, column]): [string, JournalValue] => [
      column,
      after[field] ?? null,
    ]);
    return {
      table,
      key: { [parent]: id, [counter]: next(table, id) },
      parent: id,
      columns: Object.fromEntries(told),
      json,
    };
  };

const lotRevision = numbered({
  table: 'lot_revision',
  parent: 'lot_id',
  counter: 'version',
  columns: {
    name: 'name',
    receivedOn: 'received_on',
    supplier: 'supplier',
    maker: 'maker',
    facts: 'facts',
    note: 'note',
    reason: 'reason',
  },
  json: ['facts'],
});

const zeroChecked = (entry: ReadEntry, next: NextNumber): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const id = idOf(entry);
  const round = Number(after['round']);
  const parent = `${id}/${round}`;
  return {
    table: 'zero_check',
    key: { lot_id: id, round_number: round, number: next('zero_check', parent) },
    parent,
    columns: {
      balance_id: after['balanceId'] ?? null,
      after_vessels: after['afterVessels'] ?? null,
      reading_g: after['readingG'] ?? null,
      note: after['note'] ?? null,
    },
    json: [],
  };
};

export const TERM_ACTS: Record<string, (entry: ReadEntry, next: NextNumber) => ExpectedRow> = {
  'lot-registered': lotRevision,
  'lot-corrected': lotRevision,
  'lot-decided': numbered({
    table: 'lot_decision',
    parent: 'lot_id',
    columns: { decision: 'decision', plan: 'plan', counts: 'counts', reason: 'reason' },
    json: ['plan', 'counts'],
  }),
  'round-begun': numbered({
    table: 'lot_round',
    parent: 'lot_id',
    columns: { wayOfWorking: 'way_of_working', plan: 'plan', calibrations: 'calibrations' },
    json: ['plan', 'calibrations'],
  }),
  'zero-checked': zeroChecked,
  'vessel-inspected': numbered({
    table: 'vessel_inspection',
    parent: 'vessel_id',
    columns: { calibrationId: 'calibration_id', findings: 'findings', outcome: 'outcome', note: 'note' },
    json: ['findings'],
  }),
  'vessel-decided': numbered({
    table: 'vessel_decision',
    parent: 'vessel_id',
    columns: { calibrationId: 'calibration_id', decision: 'decision', facts: 'facts', reason: 'reason' },
    json: ['facts'],
  }),
};
