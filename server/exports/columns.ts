/** Every table an export holds, column by column: what it is, its unit, its keys. A test compares it with the schema. */

/** `number`: a validated decimal text, kept as typed. `text`: free words, guarded. `json`: a value as text. */
export type ColumnKind = 'text' | 'code' | 'number' | 'integer' | 'boolean' | 'date' | 'time' | 'json';

export interface Column {
  name: string;
  kind: ColumnKind;
  nullable: boolean;
}

export interface ExportTable {
  name: string;
  columns: Column[];
  primaryKey: string[];
  foreignKeys: { fields: string[]; table: string; to: string[] }[];
}

/** Columns as `name:kind`, a question mark behind those that may be empty. */
const table = (
  name: string,
  columns: string,
  primaryKey: string,
  foreignKeys: Record<string, [table: string, to: string]> = {},
): ExportTable => ({
  name,
  columns: columns
    .trim()
    .split(/\s+/)
    .map((text) => {
      const [column = '', kind = 'text'] = text.replace('?', '').split(':');
      return { name: column, kind: kind as ColumnKind, nullable: text.endsWith('?') };
    }),
  primaryKey: primaryKey.split(' '),
  foreignKeys: Object.entries(foreignKeys).map(([fields, [to, target]]) => ({
    fields: fields.split(' '),
    table: to,
    to: target.split(' '),
  })),
});

const RECORDED = 'recorded_at:time recorded_by:text';
const OF_LOT = { lot_id: ['lot', 'id'] } as Record<string, [string, string]>;
const OF_VESSEL = { vessel_id: ['vessel', 'id'] } as Record<string, [string, string]>;
const OF_INSTRUMENT = { instrument_id: ['instrument', 'id'] } as Record<string, [string, string]>;
const OF_CALIBRATION = { calibration_id: ['calibration', 'id'] } as Record<string, [string, string]>;
const OF_TRIAL = { 'calibration_id trial_number': ['trial', 'calibration_id number'] } as Record<
  string,
  [string, string]
>;
const OF_EXPERIMENT = { experiment_id: ['class_experiment', 'id'] } as Record<string, [string, string]>;
const OF_GROUP = { group_id: ['class_group', 'id'] } as Record<string, [string, string]>;
const OF_CLASS_TRIAL = { 'group_id row_key trial_number': ['class_trial', 'group_id row_key number'] } as Record<
  string,
  [string, string]
>;
const OF_PREPARATION = { preparation_id: ['preparation', 'id'] } as Record<string, [string, string]>;
const OF_CERTIFICATE = { certificate_number: ['certificate', 'number'] } as Record<string, [string, string]>;

/** What classes measured: no evidence, and gone from later exports once it is erased. A filter leaves it out. */
export const CLASS_TABLES: readonly ExportTable[] = [
  table(
    'class_experiment',
    `id:code version:integer change:integer state:code made_up:boolean template:code plan:json joining_open:boolean
     names_hidden:boolean predictions_shown:boolean opened_at:time? ends_at:time? closed_at:time? closing_hash:code?
     names_removed_at:time? ${RECORDED}`,
    'id',
  ),
  table(
    'class_group',
    `id:code experiment_id:code number:integer name:text? hidden:boolean made_by:code recorded_at:time`,
    'id',
    OF_EXPERIMENT,
  ),
  table(
    'class_prediction',
    `group_id:code row_key:code volume_ml:number within_ml:number? sureness:code? recorded_at:time`,
    'group_id row_key',
    OF_GROUP,
  ),
  table(
    'class_trial',
    `group_id:code row_key:code number:integer vessel_id:code? empty_g:number filled_g:number
     water_temperature_c:number? entered:code confirmed:json? recorded_at:time`,
    'group_id row_key number',
    OF_GROUP,
  ),
  table(
    'class_trial_correction',
    `group_id:code row_key:code trial_number:integer number:integer field:code previous_value:number? value:number
     reason:text? recorded_at:time`,
    'group_id row_key trial_number number',
    OF_CLASS_TRIAL,
  ),
  table(
    'class_trial_exclusion',
    `group_id:code row_key:code trial_number:integer number:integer excluded:boolean cause:code? reason:text?
     recorded_at:time`,
    'group_id row_key trial_number number',
    OF_CLASS_TRIAL,
  ),
];

/** In an order in which every row comes after those it points at. The journal stands in a file of its own. */
export const EXPORT_TABLES: readonly ExportTable[] = [
  table('logbook_mark', `mark:text ${RECORDED}`, 'mark'),
  table(
    'laboratory',
    `id:integer version:integer name:text? address:text? altitude_m:number? decision_rule:code
     coverage_probability:number planned_trials:integer repeatability:code overdue_blocks:boolean
     second_person_checks:boolean host_names:json backup_folder:text?
     backup_every_hours:integer? backups_kept:integer? country_code:code? interval_months:integer?`,
    'id',
  ),
  table('person', `id:code version:integer name:text role:code may_issue:boolean active:boolean ${RECORDED}`, 'id'),
  table(
    'program_key',
    `id:code version:integer name:text scope:code expires_on:date? revoked:boolean ${RECORDED}`,
    'id',
  ),
  table(
    'tolerance_confirmation',
    `standard:text edition:text kind:code class:text nominal_volume_ml:number? division_ml:number? limit_text:text
     where_seen:text ${RECORDED}`,
    'standard edition kind class nominal_volume_ml division_ml recorded_at',
  ),
  table('lot', `id:code version:integer name:text received_on:date ${RECORDED}`, 'id'),
  table(
    'lot_revision',
    `lot_id:code version:integer name:text received_on:date supplier:text? maker:text? facts:json note:text?
     reason:text? ${RECORDED}`,
    'lot_id version',
    OF_LOT,
  ),
  table(
    'vessel',
    `id:code version:integer tag:text kind:code in_use:boolean search_text:text latest_calibration_id:code? ${RECORDED}
     lot_id:code? due_on:date?`,
    'id',
    OF_LOT,
  ),
  table(
    'vessel_revision',
    `vessel_id:code version:integer tag:text kind:code nominal_volume_ml:number basis:code tolerance:json?
     material:code expansion_per_k:number? reference_temperature_c:number division_ml:number? marks:json?
     neck_diameter_mm:number? expected_spread_ml:number? waiting_time_s:number? serial:text? maker:text? location:text?
     acquired_on:date? note:text? in_use:boolean reason:text? ${RECORDED} lot_id:code? interval_months:integer?
     interval_reason:text? channels:integer? blow_out:boolean?`,
    'vessel_id version',
    { ...OF_VESSEL, ...OF_LOT },
  ),
  table('vessel_tag', 'tag:text vessel_id:code', 'tag', OF_VESSEL),
  table('instrument', `id:code version:integer kind:code tag:text in_use:boolean due_on:date? ${RECORDED}`, 'id'),
  table(
    'instrument_revision',
    `instrument_id:code version:integer tag:text facts:json in_use:boolean reason:text? ${RECORDED}`,
    'instrument_id version',
    OF_INSTRUMENT,
  ),
  table(
    'instrument_check',
    `instrument_id:code number:integer performed_on:date reference_value:number reading:number unit:text note:text?
     ${RECORDED}`,
    'instrument_id number',
    OF_INSTRUMENT,
  ),
  table(
    'calibration',
    `id:code vessel_id:code basis:code points:json planned_trials:integer performed_on:date decision_rule:code
     coverage_probability:number repeatability:json conditions:json instruments:json laboratory:json note:text?
     versions:json ${RECORDED} origin:code?`,
    'id',
    OF_VESSEL,
  ),
  table(
    'calibration_standing',
    `calibration_id:code vessel_id:code version:integer state:code planned_trials:integer decision_rule:code
     coverage_probability:number trials_recorded:integer touched_at:time`,
    'calibration_id',
    OF_CALIBRATION,
  ),
  table(
    'calibration_act',
    `calibration_id:code number:integer act:code state:code vessel_version:integer? facts:json? reason:text? ${RECORDED}`,
    'calibration_id number',
    OF_CALIBRATION,
  ),
  table(
    'condition_reading',
    `calibration_id:code number:integer after_trial:integer conditions:json ${RECORDED}`,
    'calibration_id number',
    OF_CALIBRATION,
  ),
  table(
    'trial',
    `calibration_id:code number:integer point_ml:number empty_g:number filled_g:number water_temperature_c:number
     water_temperature_half_width_c:number? empty_source:code empty_of:integer? empty_state:text?
     air_temperature_c:number? air_pressure_hpa:number? relative_humidity_percent:number? delivery_time_s:number?
     waiting_time_s:number? open_time_s:number? note:text? confirmed:json? formulas:text request_key:text ${RECORDED}
     water_temperature_source:code? tip:text? channel:integer? drain_position:text?`,
    'calibration_id number',
    OF_CALIBRATION,
  ),
  table(
    'trial_correction',
    `calibration_id:code trial_number:integer number:integer field:code previous_value:number? value:number
     reason:text note:text? ${RECORDED}`,
    'calibration_id trial_number number',
    OF_TRIAL,
  ),
  table(
    'trial_exclusion',
    `calibration_id:code trial_number:integer number:integer excluded:boolean cause:code? reason:text ${RECORDED}`,
    'calibration_id trial_number number',
    OF_TRIAL,
  ),
  table(
    'certificate',
    `number:text calibration_id:code replaces:text? reason:text? frozen:json frozen_hash:code entry_number:integer
     entry_hash:code ${RECORDED}`,
    'number',
    OF_CALIBRATION,
  ),
  table(
    'certificate_file',
    `certificate_number:text format:code sha256:code ${RECORDED}`,
    'certificate_number format',
    OF_CERTIFICATE,
  ),
  table(
    'certificate_withdrawal',
    `certificate_number:text reason:text ${RECORDED}`,
    'certificate_number',
    OF_CERTIFICATE,
  ),
  table(
    'lot_decision',
    `lot_id:code number:integer decision:code plan:json? counts:json reason:text ${RECORDED}`,
    'lot_id number',
    OF_LOT,
  ),
  table(
    'lot_round',
    `lot_id:code number:integer way_of_working:code plan:json calibrations:json ${RECORDED}`,
    'lot_id number',
    OF_LOT,
  ),
  table(
    'zero_check',
    `lot_id:code round_number:integer number:integer balance_id:code? after_vessels:integer reading_g:number note:text?
     ${RECORDED}`,
    'lot_id round_number number',
    { 'lot_id round_number': ['lot_round', 'lot_id number'], balance_id: ['instrument', 'id'] },
  ),
  table(
    'vessel_inspection',
    `vessel_id:code number:integer calibration_id:code? findings:json outcome:code note:text? ${RECORDED}`,
    'vessel_id number',
    { ...OF_VESSEL, ...OF_CALIBRATION },
  ),
  table(
    'vessel_decision',
    `vessel_id:code number:integer calibration_id:code decision:code facts:json? reason:text ${RECORDED}`,
    'vessel_id number',
    { ...OF_VESSEL, ...OF_CALIBRATION },
  ),
  table(
    'preparation',
    `id:code number:code way:code title:text made_on:date expires_on:date? accuracy_percent:number? hazard_line:text?
     water:text? lots:text? note:text? search_text:text inputs:json result:json result_hash:code ${RECORDED}`,
    'id',
  ),
  table(
    'preparation_vessel',
    `preparation_id:code number:integer vessel_id:code calibration_id:code? use:code ${RECORDED}`,
    'preparation_id number',
    { ...OF_PREPARATION, ...OF_VESSEL, ...OF_CALIBRATION },
  ),
  table(
    'preparation_instrument',
    `preparation_id:code number:integer instrument_id:code instrument_version:integer use:code ${RECORDED}`,
    'preparation_id number',
    { ...OF_PREPARATION, ...OF_INSTRUMENT },
  ),
  table('preparation_end', `preparation_id:code ending:code reason:text ${RECORDED}`, 'preparation_id', OF_PREPARATION),
  table(
    'preparation_decision',
    `preparation_id:code number:integer vessel_id:code? calibration_id:code? instrument_id:code?
     instrument_version:integer? decision:code reason:text ${RECORDED}`,
    'preparation_id number',
    { ...OF_PREPARATION, ...OF_VESSEL, ...OF_CALIBRATION, ...OF_INSTRUMENT },
  ),
  table('import_mapping', `name:text mapping:json ${RECORDED}`, 'name'),
  ...CLASS_TABLES,
];

/** Keys by which a narrowed export points at rows it may leave out: `table fields`. */
export const MAY_LEAD_OUT: ReadonlySet<string> = new Set([
  'preparation_vessel calibration_id',
  'preparation_decision calibration_id',
  'preparation_decision vessel_id',
  'preparation_decision instrument_id',
  'vessel_inspection calibration_id',
  'vessel_decision calibration_id',
  'zero_check balance_id',
]);

/** Stay in the logbook's own file: secrets, answers kept for repeated requests, the list of migrations. */
export const LEFT_OUT: readonly string[] = [
  'person_secret',
  'program_key_secret',
  'calendar_feed',
  'class_experiment_secret',
  'class_group_secret',
  'idempotency_key',
  'kysely_migration',
  'kysely_migration_lock',
];

const UNITS: readonly [RegExp, string][] = [
  [/_ml$/, 'mL'],
  [/_per_k$/, '1/K'],
  [/_g$/, 'g'],
  [/_c$/, '°C'],
  [/_hpa$/, 'hPa'],
  [/_percent$/, '%'],
  [/_s$/, 's'],
  [/_mm$/, 'mm'],
  [/_m$/, 'm'],
  [/_hours$/, 'h'],
  [/_months$/, 'months'],
];

export const unitOf = (column: string): string | null => UNITS.find(([end]) => end.test(column))?.[1] ?? null;
