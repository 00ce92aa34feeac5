/** Which evidence row an entry of the journal tells of, and what that row must hold: one line an act. */
import type { JournalValue } from './canonical.ts';
import { fieldsOf, idOf, type ExpectedRow, type Fields, type NextNumber, type ReadEntry } from './verify-entry.ts';
import { PREPARATION_ACTS } from './verify-preparation-acts.ts';
import { TERM_ACTS } from './verify-term-acts.ts';

const or = (value: JournalValue | undefined, otherwise: JournalValue = null): JournalValue => value ?? otherwise;
/** Stores keep an empty text of some fields as none. */
const filled = (value: JournalValue | undefined): JournalValue => (value === '' ? null : (value ?? null));
/** Facts that entries of earlier versions say nothing of. */
const ifTold = (facts: Record<string, JournalValue | undefined>): Record<string, JournalValue> =>
  Object.fromEntries(Object.entries(facts).flatMap(([column, told]) => (told === undefined ? [] : [[column, told]])));
const without = (fields: Fields, ...names: string[]): Fields =>
  Object.fromEntries(Object.entries(fields).filter(([name]) => !names.includes(name)));

/** Facts of a vessel: field on the wire, column in the table. */
const VESSEL_COLUMNS: Record<string, string> = {
  tag: 'tag',
  kind: 'kind',
  nominalVolumeMl: 'nominal_volume_ml',
  basis: 'basis',
  tolerance: 'tolerance',
  material: 'material',
  expansionPerK: 'expansion_per_k',
  referenceTemperatureC: 'reference_temperature_c',
  divisionMl: 'division_ml',
  marks: 'marks',
  neckDiameterMm: 'neck_diameter_mm',
  expectedSpreadMl: 'expected_spread_ml',
  waitingTimeS: 'waiting_time_s',
  serial: 'serial',
  maker: 'maker',
  location: 'location',
  acquiredOn: 'acquired_on',
  note: 'note',
  lotId: 'lot_id',
  intervalMonths: 'interval_months',
  intervalReason: 'interval_reason',
  channels: 'channels',
  blowOut: 'blow_out',
};
const VESSEL_JSON = ['tolerance', 'marks'];
const VESSEL_NUMBERS = ['intervalMonths', 'channels'];

/** Rows hold yes and no as 1 and 0. */
const asStored = (value: JournalValue): JournalValue => (typeof value === 'boolean' ? Number(value) : value);

const vesselRegistered = (entry: ReadEntry): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const id = idOf(entry);
  const facts = Object.entries(VESSEL_COLUMNS).map(([field, column]) => [column, asStored(filled(after[field]))]);
  return {
    table: 'vessel_revision',
    key: { vessel_id: id, version: 1 },
    parent: id,
    columns: { ...(Object.fromEntries(facts) as Fields), in_use: 1, reason: null },
    json: VESSEL_JSON,
  };
};

/** The journal tells changed fields as text; lists and objects in their JSON. */
const changedFact = (field: string, told: JournalValue): JournalValue => {
  if (told === null || typeof told !== 'string') return told;
  if (VESSEL_NUMBERS.includes(field)) return Number(told);
  if (field === 'blowOut') return told === 'true' ? 1 : 0;
  return VESSEL_JSON.includes(field) ? (JSON.parse(told) as JournalValue) : told;
};

const vesselCorrected = (entry: ReadEntry): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const id = idOf(entry);
  const version = Number(after['version']);
  const columns: Record<string, JournalValue> = { reason: or(after['reason']) };
  for (const [field, column] of Object.entries(VESSEL_COLUMNS))
    if (after[field] !== undefined) columns[column] = changedFact(field, after[field]);
  if (after['inUse'] !== undefined) columns['in_use'] = after['inUse'] === 'true' ? 1 : 0;
  return {
    table: 'vessel_revision',
    key: { vessel_id: id, version },
    parent: id,
    columns,
    json: VESSEL_JSON,
    asBefore: { vessel_id: id, version: version - 1 },
  };
};

/** The revisions the named instruments had when the entry was written: as many as were told of before it. */
const instrumentChoices = (named: Fields, next: NextNumber): Fields =>
  Object.fromEntries(
    Object.entries(named).flatMap(([role, id]) =>
      typeof id === 'string' ? [[role.replace(/Id$/, ''), { id, version: next('instrument_revision', id) - 1 }]] : [],
    ),
  );

const instrumentRevision = (entry: ReadEntry, next: NextNumber): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const id = idOf(entry);
  const registered = entry.act === 'instrument-registered';
  return {
    table: 'instrument_revision',
    key: { instrument_id: id, version: next('instrument_revision', id) },
    parent: id,
    columns: {
      tag: or(after['tag']),
      facts: registered ? after : without(after, 'inUse', 'reason'),
      in_use: registered || after['inUse'] === true ? 1 : 0,
      reason: registered ? null : or(after['reason']),
    },
    json: ['facts'],
  };
};

const instrumentChecked = (entry: ReadEntry): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const id = idOf(entry);
  return {
    table: 'instrument_check',
    key: { instrument_id: id, number: Number(after['number']) },
    parent: id,
    columns: {
      performed_on: or(after['performedOn']),
      reference_value: or(after['referenceValue']),
      reading: or(after['reading']),
      note: filled(after['note']),
      ...ifTold({ unit: after['unit'] }),
    },
    json: [],
  };
};

const toleranceConfirmed = (entry: ReadEntry): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const [standard = '', edition = '', kind = '', ofClass = '', nominal = '', division = ''] = idOf(entry).split('|');
  const row = { standard, edition, kind, class: ofClass, nominal_volume_ml: nominal, division_ml: division };
  return {
    table: 'tolerance_confirmation',
    key: { ...row, recorded_at: entry.at },
    parent: '',
    columns: { limit_text: or(after['limit']), where_seen: or(after['whereSeen']) },
    json: [],
  };
};

const calibrationBegun = (entry: ReadEntry, next: NextNumber): ExpectedRow => {
  const after = fieldsOf(entry.after);
  return {
    table: 'calibration',
    key: { id: idOf(entry) },
    parent: '',
    columns: {
      vessel_id: or(after['vesselId']),
      basis: or(after['basis']),
      points: or(after['points']),
      planned_trials: or(after['plannedTrials']),
      performed_on: or(after['performedOn']),
      decision_rule: or(after['decisionRule']),
      coverage_probability: or(after['coverageProbability']),
      repeatability: or(after['repeatability']),
      conditions: without(fieldsOf(or(after['conditions'])), 'confirm'),
      laboratory: { altitudeM: or(after['altitudeM']) },
      note: or(after['note']),
      origin: or(after['origin']),
      instruments: instrumentChoices(fieldsOf(or(after['instruments'])), next),
      ...ifTold({ versions: after['versions'] }),
    },
    json: ['points', 'repeatability', 'conditions', 'laboratory', 'instruments', 'versions'],
  };
};

const trialRecorded = (entry: ReadEntry): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const id = idOf(entry);
  return {
    table: 'trial',
    key: { calibration_id: id, number: Number(after['number']) },
    parent: id,
    columns: {
      point_ml: or(after['pointMl']),
      empty_g: or(after['emptyG']),
      filled_g: or(after['filledG']),
      water_temperature_c: or(after['waterTemperatureC']),
      water_temperature_half_width_c: or(after['waterTemperatureHalfWidthC']),
      empty_source: or(after['emptySource'], 'own'),
      empty_of: or(after['emptyOf']),
      empty_state: or(after['emptyState']),
      air_temperature_c: or(after['airTemperatureC']),
      air_pressure_hpa: or(after['airPressureHpa']),
      relative_humidity_percent: or(after['relativeHumidityPercent']),
      delivery_time_s: or(after['deliveryTimeS']),
      waiting_time_s: or(after['waitingTimeS']),
      open_time_s: or(after['openTimeS']),
      water_temperature_source: or(after['waterTemperatureSource']),
      tip: filled(after['tip']),
      channel: or(after['channel']),
      drain_position: filled(after['drainPosition']),
      note: filled(after['note']),
      confirmed: or(after['confirm']),
      ...ifTold({ formulas: after['formulas'] }),
    },
    json: ['confirmed'],
  };
};

/** Rows that hang on one trial and are numbered there. */
const ofTrial = (entry: ReadEntry, next: NextNumber, table: string, columns: ExpectedRow['columns']): ExpectedRow => {
  const id = idOf(entry);
  const trial = Number(fieldsOf(entry.after)['number']);
  const parent = `${id}/${trial}`;
  const key = { calibration_id: id, trial_number: trial, number: next(table, parent) };
  return { table, key, parent, columns, json: [] };
};

const trialCorrected = (entry: ReadEntry, next: NextNumber): ExpectedRow => {
  const after = fieldsOf(entry.after);
  return ofTrial(entry, next, 'trial_correction', {
    field: or(after['field']),
    previous_value: or(fieldsOf(entry.before)['value']),
    value: or(after['value']),
    reason: or(after['reason']),
    note: filled(after['note']),
  });
};

const trialExcluded = (entry: ReadEntry, next: NextNumber): ExpectedRow => {
  const after = fieldsOf(entry.after);
  return ofTrial(entry, next, 'trial_exclusion', {
    excluded: after['excluded'] === true ? 1 : 0,
    cause: or(after['cause']),
    reason: or(after['reason']),
  });
};

const conditionsRead = (entry: ReadEntry, next: NextNumber): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const id = idOf(entry);
  return {
    table: 'condition_reading',
    key: { calibration_id: id, number: next('condition_reading', id) },
    parent: id,
    columns: { after_trial: or(after['afterTrial']), conditions: without(after, 'afterTrial') },
    json: ['conditions'],
  };
};

/**
 * What an act settled or signed. Entries of earlier versions tell of signatures in full, and say nothing of the spread a
 * measured calibration was pooled with, nor of the verdict before a change of plan.
 */
const actFacts = (act: string, after: Fields): Pick<ExpectedRow, 'columns' | 'hashes'> => {
  const hash = after['factsHash'];
  if (typeof hash === 'string') return { columns: {}, hashes: { facts: hash } };
  if (hash === null) return { columns: { facts: null } };
  if (after['meaning'] !== undefined) return { columns: { facts: without(after, 'state', 'reason', 'vesselVersion') } };
  return { columns: act === 'calibration-measured' || act === 'plan-changed' ? {} : { facts: null } };
};

const calibrationAct = (entry: ReadEntry, next: NextNumber): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const id = idOf(entry);
  const facts = actFacts(entry.act, after);
  const columns: Record<string, JournalValue> = {
    ...{ act: entry.act, reason: or(after['reason']) },
    ...facts.columns,
  };
  if (after['state'] !== undefined) columns['state'] = after['state'];
  if (after['vesselVersion'] !== undefined) columns['vessel_version'] = after['vesselVersion'];
  return {
    table: 'calibration_act',
    key: { calibration_id: id, number: next('calibration_act', id) },
    parent: id,
    columns,
    json: ['facts'],
    ...(facts.hashes ? { hashes: facts.hashes } : {}),
  };
};

const certificateIssued = (entry: ReadEntry): ExpectedRow => {
  const after = fieldsOf(entry.after);
  const replaced = fieldsOf(or(after['replaces']));
  return {
    table: 'certificate',
    key: { number: idOf(entry) },
    parent: '',
    columns: {
      calibration_id: or(after['calibrationId']),
      replaces: or(replaced['number']),
      reason: or(replaced['reason']),
      frozen_hash: or(after['frozenHash']),
      entry_number: entry.number,
    },
    json: [],
  };
};

const certificateWithdrawn = (entry: ReadEntry): ExpectedRow => ({
  table: 'certificate_withdrawal',
  key: { certificate_number: idOf(entry) },
  parent: '',
  columns: { reason: or(fieldsOf(entry.after)['reason']) },
  json: [],
});

const demonstrationLoaded = (): ExpectedRow => ({
  table: 'logbook_mark',
  key: { mark: 'demonstration' },
  parent: '',
  columns: {},
  json: [],
});

const ACTS: Record<string, (entry: ReadEntry, next: NextNumber) => ExpectedRow> = {
  ...TERM_ACTS,
  ...PREPARATION_ACTS,
  'vessel-registered': vesselRegistered,
  'vessel-corrected': vesselCorrected,
  'instrument-registered': instrumentRevision,
  'instrument-changed': instrumentRevision,
  'instrument-checked': instrumentChecked,
  'tolerance-confirmed': toleranceConfirmed,
  'calibration-begun': calibrationBegun,
  'trial-recorded': trialRecorded,
  'trial-corrected': trialCorrected,
  'trial-excluded': trialExcluded,
  'trial-included-again': trialExcluded,
  'conditions-read': conditionsRead,
  'plan-changed': calibrationAct,
  'certificate-issued': certificateIssued,
  'certificate-withdrawn': certificateWithdrawn,
  'demonstration-loaded': demonstrationLoaded,
};

/** The row an entry tells of, or null for acts that leave no evidence row. */
export const expectedRow = (entry: ReadEntry, next: NextNumber): ExpectedRow | null => {
  const known = Object.hasOwn(ACTS, entry.act) ? ACTS[entry.act] : undefined;
  if (known) return known(entry, next);
  // Every act that moves a calibration says the state it moved to.
  const moves = entry.object.startsWith('calibration/') && fieldsOf(entry.after)['state'] !== undefined;
  return moves ? calibrationAct(entry, next) : null;
};
