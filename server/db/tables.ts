/** Row types of every table. Compile-time claims: rows are written through zod contracts and read back by them. */
import type { ClassTables } from './class-tables.ts';
import type { PreparationTables } from './preparation-tables.ts';
import type { TermTables } from './term-tables.ts';

export interface JournalEntryTable {
  number: number;
  at: string;
  actor: string;
  act: string;
  object: string;
  before: string;
  after: string;
  request_id: string;
  previous_hash: string;
  hash: string;
}

interface LogbookMarkTable {
  mark: string;
  recorded_at: string;
  recorded_by: string;
}

export interface ToleranceConfirmationTable {
  standard: string;
  edition: string;
  kind: string;
  class: string;
  /** Empty where the row fits any. */
  nominal_volume_ml: string;
  division_ml: string;
  /** The limit that was confirmed, as `0.1 mL` or `5 %`. */
  limit_text: string;
  where_seen: string;
  recorded_at: string;
  recorded_by: string;
}

export interface VesselTable {
  id: string;
  version: number;
  tag: string;
  kind: string;
  in_use: number;
  search_text: string;
  latest_calibration_id: string | null;
  recorded_at: string;
  recorded_by: string;
  lot_id: string | null;
  /** Next calibration, ISO date; null where no interval is set or nothing was measured. */
  due_on: string | null;
}

export interface VesselRevisionTable {
  vessel_id: string;
  version: number;
  tag: string;
  kind: string;
  nominal_volume_ml: string;
  basis: string;
  tolerance: string | null;
  material: string;
  expansion_per_k: string | null;
  reference_temperature_c: string;
  division_ml: string | null;
  marks: string | null;
  neck_diameter_mm: string | null;
  expected_spread_ml: string | null;
  waiting_time_s: string | null;
  serial: string | null;
  maker: string | null;
  location: string | null;
  acquired_on: string | null;
  note: string | null;
  in_use: number;
  reason: string | null;
  recorded_at: string;
  recorded_by: string;
  lot_id: string | null;
  interval_months: number | null;
  interval_reason: string | null;
  channels: number | null;
  blow_out: number | null;
}

interface VesselTagTable {
  tag: string;
  vessel_id: string;
}

export interface InstrumentTable {
  id: string;
  version: number;
  kind: string;
  tag: string;
  in_use: number;
  due_on: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface InstrumentRevisionTable {
  instrument_id: string;
  version: number;
  tag: string;
  facts: string;
  in_use: number;
  reason: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface InstrumentCheckTable {
  instrument_id: string;
  number: number;
  performed_on: string;
  reference_value: string;
  reading: string;
  unit: string;
  note: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface CalibrationTable {
  id: string;
  vessel_id: string;
  basis: string;
  points: string;
  planned_trials: number;
  performed_on: string;
  decision_rule: string;
  coverage_probability: string;
  repeatability: string;
  conditions: string;
  instruments: string;
  laboratory: string;
  note: string | null;
  versions: string;
  recorded_at: string;
  recorded_by: string;
  /** `sheet`: entered from a blank recording sheet; `paper`: taken over from old paper; null: typed at the bench. */
  origin: string | null;
}

export interface CalibrationActTable {
  calibration_id: string;
  number: number;
  act: string;
  state: string;
  vessel_version: number | null;
  facts: string | null;
  reason: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface ConditionReadingTable {
  calibration_id: string;
  number: number;
  after_trial: number;
  conditions: string;
  recorded_at: string;
  recorded_by: string;
}

export interface TrialTable {
  calibration_id: string;
  number: number;
  point_ml: string;
  empty_g: string;
  filled_g: string;
  water_temperature_c: string;
  water_temperature_half_width_c: string | null;
  empty_source: string;
  empty_of: number | null;
  empty_state: string | null;
  air_temperature_c: string | null;
  air_pressure_hpa: string | null;
  relative_humidity_percent: string | null;
  delivery_time_s: string | null;
  waiting_time_s: string | null;
  open_time_s: string | null;
  note: string | null;
  confirmed: string | null;
  formulas: string;
  request_key: string;
  recorded_at: string;
  recorded_by: string;
  /** `carried`: the one temperature of the round, not read for this trial. */
  water_temperature_source: string | null;
  tip: string | null;
  channel: number | null;
  drain_position: string | null;
}

export interface TrialCorrectionTable {
  calibration_id: string;
  trial_number: number;
  number: number;
  field: string;
  previous_value: string | null;
  value: string;
  reason: string;
  note: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface TrialExclusionTable {
  calibration_id: string;
  trial_number: number;
  number: number;
  excluded: number;
  cause: string | null;
  reason: string;
  recorded_at: string;
  recorded_by: string;
}

export interface CalibrationStandingTable {
  calibration_id: string;
  vessel_id: string;
  version: number;
  state: string;
  planned_trials: number;
  decision_rule: string;
  coverage_probability: string;
  trials_recorded: number;
  touched_at: string;
}

interface LaboratoryTable {
  id: number;
  version: number;
  name: string | null;
  address: string | null;
  altitude_m: string | null;
  decision_rule: string;
  coverage_probability: string;
  planned_trials: number;
  repeatability: string;
  overdue_blocks: number;
  second_person_checks: number;
  host_names: string;
  backup_folder: string | null;
  backup_every_hours: number | null;
  backups_kept: number | null;
  country_code: string | null;
  interval_months: number | null;
}

export interface PersonTable {
  id: string;
  version: number;
  name: string;
  role: string;
  may_issue: number;
  active: number;
  recorded_at: string;
  recorded_by: string;
}

/** Never leaves the logbook's own file: exports have no such table. */
export interface PersonSecretTable {
  person_id: string;
  passphrase_hash: string | null;
  passphrase_at: string | null;
  code_hash: string | null;
  code_expires_at: string | null;
  second_factor_secret: string | null;
  second_factor_since: string | null;
  second_factor_last_step: number | null;
  recovery_hashes: string | null;
}

export interface ProgramKeyTable {
  id: string;
  version: number;
  name: string;
  scope: string;
  expires_on: string | null;
  revoked: number;
  recorded_at: string;
  recorded_by: string;
}

export interface ProgramKeySecretTable {
  key_id: string;
  token_hash: string;
}

export interface CertificateTable {
  number: string;
  calibration_id: string;
  replaces: string | null;
  /** Why it replaces the other. */
  reason: string | null;
  /** RFC 8785 text of what was issued; `frozen_hash` is its SHA-256. */
  frozen: string;
  frozen_hash: string;
  /** The journal entry of the issue. */
  entry_number: number;
  entry_hash: string;
  recorded_at: string;
  recorded_by: string;
}

export interface CertificateFileTable {
  certificate_number: string;
  format: string;
  sha256: string;
  content: Buffer;
  recorded_at: string;
  recorded_by: string;
}

export interface CertificateWithdrawalTable {
  certificate_number: string;
  reason: string;
  recorded_at: string;
  recorded_by: string;
}

interface IdempotencyKeyTable {
  request_key: string;
  fingerprint: string;
  status: number;
  body: string;
  recorded_at: string;
}

export interface Tables extends ClassTables, TermTables, PreparationTables {
  journal_entry: JournalEntryTable;
  logbook_mark: LogbookMarkTable;
  tolerance_confirmation: ToleranceConfirmationTable;
  vessel: VesselTable;
  vessel_revision: VesselRevisionTable;
  vessel_tag: VesselTagTable;
  instrument: InstrumentTable;
  instrument_revision: InstrumentRevisionTable;
  instrument_check: InstrumentCheckTable;
  calibration: CalibrationTable;
  calibration_act: CalibrationActTable;
  condition_reading: ConditionReadingTable;
  trial: TrialTable;
  trial_correction: TrialCorrectionTable;
  trial_exclusion: TrialExclusionTable;
  calibration_standing: CalibrationStandingTable;
  laboratory: LaboratoryTable;
  idempotency_key: IdempotencyKeyTable;
  person: PersonTable;
  person_secret: PersonSecretTable;
  program_key: ProgramKeyTable;
  program_key_secret: ProgramKeySecretTable;
  certificate: CertificateTable;
  certificate_file: CertificateFileTable;
  certificate_withdrawal: CertificateWithdrawalTable;
}
