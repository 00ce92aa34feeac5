/** What an export is narrowed to, and which rows of each table that concerns. */
import { canonical } from '../journal/canonical.ts';
import { CLASS_TABLES } from './columns.ts';

export interface Filter {
  /** Tag of one vessel, present or former. */
  vessel: string | null;
  /** Name of one lot. */
  lot: string | null;
  /** First and last day: `performedOn` of calibrations, `madeOn` of solutions. */
  from: string | null;
  to: string | null;
}

export const isFiltered = (filter: Filter): boolean => Object.values(filter).some((one) => one !== null);

export interface Selection {
  sql: string;
  values: string[];
}

const NOTHING: Selection = { sql: '0', values: [] };

/** Each part of a filter that is asked for, joined; `conditions` gives the SQL of a part with one `?`. */
const narrowed = (filter: Filter, conditions: Record<keyof Filter, string>, join = ' and '): Selection => {
  const asked = (['vessel', 'lot', 'from', 'to'] as const).flatMap((part) => {
    const value = filter[part];
    return value === null ? [] : [{ sql: conditions[part], value }];
  });
  return { sql: asked.map(({ sql }) => sql).join(join), values: asked.map(({ value }) => value) };
};

const TAGGED = 'select vessel_id from vessel_tag where tag = ?';
const IN_LOT = 'select vessel.id from vessel join lot on lot.id = vessel.lot_id where lot.name = ?';

/** A condition on `calibration`. */
const calibrations = (filter: Filter): Selection =>
  narrowed(filter, {
    vessel: `vessel_id in (${TAGGED})`,
    lot: `vessel_id in (${IN_LOT})`,
    from: 'performed_on >= ?',
    to: 'performed_on <= ?',
  });

/** A condition on `preparation`: made with such a vessel, on such a day. */
const preparations = (filter: Filter): Selection => {
  const used = (vessels: string) =>
    `id in (select preparation_id from preparation_vessel where vessel_id in (${vessels}))`;
  return narrowed(filter, {
    vessel: used(TAGGED),
    lot: used(IN_LOT),
    from: 'made_on >= ?',
    to: 'made_on <= ?',
  });
};

const within = (column: string, { sql, values }: Selection): Selection => ({ sql: `${column} in (${sql})`, values });

const both = (first: Selection, second: Selection): Selection => ({
  sql: `${first.sql} union ${second.sql}`,
  values: [...first.values, ...second.values],
});

/** The vessels that are asked for by name, whatever was done with them; null where none is. */
const named = ({ vessel, lot }: Filter): Selection | null =>
  vessel === null && lot === null
    ? null
    : within(
        'select id from vessel where id',
        narrowed(
          { vessel, lot, from: null, to: null },
          { vessel: TAGGED, lot: IN_LOT, from: '', to: '' },
          ' intersect ',
        ),
      );

/** Queries of the ids that an export holds. Solutions take along every vessel and instrument they were made with. */
const idsOf = (filter: Filter) => {
  const measured = calibrations(filter);
  const made = preparations(filter);
  const from = ({ values }: Selection, sql: string): Selection => ({ sql, values });
  const preparation = from(made, `select id from preparation where ${made.sql}`);
  const certificate = `select number from certificate where calibration_id in (select id from calibration where ${measured.sql})`;
  const touched = both(
    from(measured, `select vessel_id from calibration where ${measured.sql}`),
    from(made, `select vessel_id from preparation_vessel where preparation_id in (${preparation.sql})`),
  );
  const asked = named(filter);
  const vessel = asked ? both(touched, asked) : touched;
  const instruments = 'calibration, json_each(calibration.instruments) as one';
  const instrument = both(
    from(measured, `select json_extract(one.value, '$.id') from ${instruments} where ${measured.sql}`),
    from(made, `select instrument_id from preparation_instrument where preparation_id in (${preparation.sql})`),
  );
  return {
    calibration: from(measured, `select id from calibration where ${measured.sql}`),
    preparation,
    certificate: from(measured, certificate),
    vessel,
    instrument,
    lot: from(vessel, `select lot_id from vessel where id in (${vessel.sql})`),
  };
};

/** Condition on the rows of a table; null takes all. */
export const selectionOf = (table: string, filter: Filter): Selection | null => {
  if (!isFiltered(filter)) return null;
  // What a class measured belongs to no vessel's record.
  if (CLASS_TABLES.some(({ name }) => name === table)) return NOTHING;
  const ids = idsOf(filter);
  switch (table) {
    case 'lot':
      return within('id', ids.lot);
    case 'lot_revision':
    case 'lot_decision':
    case 'lot_round':
    case 'zero_check':
      return within('lot_id', ids.lot);
    case 'preparation':
      return within('id', ids.preparation);
    case 'preparation_vessel':
    case 'preparation_instrument':
    case 'preparation_end':
    case 'preparation_decision':
      return within('preparation_id', ids.preparation);
    case 'import_mapping':
    case 'person':
    case 'program_key':
      return NOTHING;
    case 'calibration':
      return within('id', ids.calibration);
    case 'vessel':
      return within('id', ids.vessel);
    case 'vessel_inspection':
    case 'vessel_decision':
    case 'vessel_revision':
    case 'vessel_tag':
      return within('vessel_id', ids.vessel);
    case 'instrument':
      return within('id', ids.instrument);
    case 'instrument_revision':
    case 'instrument_check':
      return within('instrument_id', ids.instrument);
    case 'certificate_file':
    case 'certificate_withdrawal':
      return within('certificate_number', ids.certificate);
    case 'laboratory':
    case 'logbook_mark':
    case 'tolerance_confirmation':
      return null;
    default:
      return within('calibration_id', ids.calibration);
  }
};

/** Entries told whole; of the others an export holds number and hashes only. */
export const entriesWhole = (filter: Filter): Selection => {
  const sets = Object.entries(idsOf(filter)).map(([kind, { sql, values }]) => ({
    sql: `select '${kind}/' || column1 from (select null as column1 where 0 union ${sql})`,
    values,
  }));
  return {
    sql: `(object in (${sets.map(({ sql }) => sql).join(' union ')}) or object like 'laboratory/%' or object like 'logbook/%' or object like 'tolerance/%')`,
    values: sets.flatMap(({ values }) => values),
  };
};

export const filterText = (filter: Filter): string =>
  isFiltered(filter)
    ? canonical({ vessel: filter.vessel, lot: filter.lot, from: filter.from, to: filter.to })
    : 'none: the whole logbook';
