/** What an export is narrowed to, and which rows of each table that concerns. */
import { canonical } from '../journal/canonical.ts';
import { CLASS_TABLES } from './columns.ts';

export interface Filter {
  /** Tag of one vessel, present or former. */
  vessel: string | null;
  /** First and last day of calibrations, `performedOn`. */
  from: string | null;
  to: string | null;
}

export const isFiltered = ({ vessel, from, to }: Filter): boolean => vessel !== null || from !== null || to !== null;

export interface Selection {
  sql: string;
  values: string[];
}

const NOTHING: Selection = { sql: '0', values: [] };

/** A condition on `calibration`. */
const calibrations = ({ vessel, from, to }: Filter): Selection => {
  const parts: [string, string][] = [];
  if (vessel !== null) parts.push(['vessel_id in (select vessel_id from vessel_tag where tag = ?)', vessel]);
  if (from !== null) parts.push(['performed_on >= ?', from]);
  if (to !== null) parts.push(['performed_on <= ?', to]);
  return { sql: parts.map(([sql]) => sql).join(' and '), values: parts.map(([, value]) => value) };
};

const within = (column: string, inner: string, values: string[]): Selection => ({
  sql: `${column} in (${inner})`,
  values,
});

/** Condition on the rows of a table; null takes all. */
export const selectionOf = (table: string, filter: Filter): Selection | null => {
  if (!isFiltered(filter)) return null;
  // What a class measured belongs to no vessel's record.
  if (CLASS_TABLES.some(({ name }) => name === table)) return NOTHING;
  const { sql, values } = calibrations(filter);
  const ids = `select id from calibration where ${sql}`;
  const used = `select json_extract(one.value, '$.id') from calibration, json_each(calibration.instruments) as one where ${sql}`;
  const certificates = `select number from certificate where calibration_id in (${ids})`;
  const lots = `select lot_id from vessel where id in (select vessel_id from calibration where ${sql})`;
  switch (table) {
    case 'lot':
      return within('id', lots, values);
    case 'lot_revision':
    case 'lot_decision':
    case 'lot_round':
    case 'zero_check':
      return within('lot_id', lots, values);
    // Other vessels and instruments were used for it too.
    case 'preparation':
    case 'preparation_vessel':
    case 'preparation_instrument':
    case 'preparation_end':
    case 'preparation_decision':
    case 'import_mapping':
    case 'person':
    case 'program_key':
      return NOTHING;
    case 'calibration':
      return { sql, values };
    case 'vessel':
      return within('id', `select vessel_id from calibration where ${sql}`, values);
    case 'vessel_inspection':
    case 'vessel_decision':
    case 'vessel_revision':
    case 'vessel_tag':
      return within('vessel_id', `select vessel_id from calibration where ${sql}`, values);
    case 'instrument':
      return within('id', used, values);
    case 'instrument_revision':
    case 'instrument_check':
      return within('instrument_id', used, values);
    case 'certificate_file':
    case 'certificate_withdrawal':
      return within('certificate_number', certificates, values);
    case 'laboratory':
    case 'logbook_mark':
    case 'tolerance_confirmation':
      return null;
    default:
      return within('calibration_id', ids, values);
  }
};

/** Entries told whole; of the others an export holds number and hashes only. */
export const entriesWhole = (filter: Filter): Selection => {
  const { sql, values } = calibrations(filter);
  const ids = `select id from calibration where ${sql}`;
  const sets = [
    `select 'calibration/' || id from calibration where ${sql}`,
    `select 'vessel/' || vessel_id from calibration where ${sql}`,
    `select 'instrument/' || json_extract(one.value, '$.id') from calibration, json_each(calibration.instruments) as one where ${sql}`,
    `select 'lot/' || lot_id from vessel where id in (select vessel_id from calibration where ${sql})`,
    `select 'certificate/' || number from certificate where calibration_id in (${ids})`,
  ];
  return {
    sql: `(object in (${sets.join(' union ')}) or object like 'laboratory/%' or object like 'logbook/%' or object like 'tolerance/%')`,
    values: sets.flatMap(() => values),
  };
};

export const filterText = (filter: Filter): string =>
  isFiltered(filter)
    ? canonical({ vessel: filter.vessel, from: filter.from, to: filter.to })
    : 'none: the whole logbook';
