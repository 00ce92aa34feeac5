/** Row types of a term's work: lots, rounds, inspections, decisions, feeds of due dates, mappings for old sheets. */

export interface LotTable {
  id: string;
  version: number;
  name: string;
  received_on: string;
  recorded_at: string;
  recorded_by: string;
}

export interface LotRevisionTable {
  lot_id: string;
  version: number;
  name: string;
  received_on: string;
  supplier: string | null;
  maker: string | null;
  /** JSON of what was delivered. */
  facts: string;
  note: string | null;
  reason: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface LotDecisionTable {
  lot_id: string;
  number: number;
  decision: string;
  /** JSON of the sampling plan; null where none was used. */
  plan: string | null;
  /** JSON of what was found. */
  counts: string;
  reason: string;
  recorded_at: string;
  recorded_by: string;
}

export interface LotRoundTable {
  lot_id: string;
  number: number;
  way_of_working: string;
  /** JSON of what was planned for all vessels of the round. */
  plan: string;
  /** JSON list of `{vesselId, calibrationId}`, in the order of the round. */
  calibrations: string;
  recorded_at: string;
  recorded_by: string;
}

export interface ZeroCheckTable {
  lot_id: string;
  round_number: number;
  number: number;
  balance_id: string | null;
  /** Vessels weighed in this round when the balance was looked at. */
  after_vessels: number;
  reading_g: string;
  note: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface VesselInspectionTable {
  vessel_id: string;
  number: number;
  calibration_id: string | null;
  /** JSON of what was looked for. */
  findings: string;
  outcome: string;
  note: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface VesselDecisionTable {
  vessel_id: string;
  number: number;
  calibration_id: string;
  decision: string;
  /** JSON; null where the decision needs no more words. */
  facts: string | null;
  reason: string;
  recorded_at: string;
  recorded_by: string;
}

/** Never leaves the logbook's own file: exports have no such table. */
export interface CalendarFeedTable {
  id: string;
  token_hash: string;
  label: string;
  person_id: string | null;
  recorded_at: string;
  recorded_by: string;
  ended_at: string | null;
}

export interface ImportMappingTable {
  name: string;
  /** JSON of columns and what they hold. */
  mapping: string;
  recorded_at: string;
  recorded_by: string;
}

export interface TermTables {
  lot: LotTable;
  lot_revision: LotRevisionTable;
  lot_decision: LotDecisionTable;
  lot_round: LotRoundTable;
  zero_check: ZeroCheckTable;
  vessel_inspection: VesselInspectionTable;
  vessel_decision: VesselDecisionTable;
  calendar_feed: CalendarFeedTable;
  import_mapping: ImportMappingTable;
}
