/** Row types of solutions made. */

export interface PreparationTable {
  id: string;
  /** `S-0007`. */
  number: string;
  way: string;
  title: string;
  made_on: string;
  expires_on: string | null;
  accuracy_percent: string | null;
  hazard_line: string | null;
  water: string | null;
  lots: string | null;
  note: string | null;
  search_text: string;
  /** JSON as typed. */
  inputs: string;
  /** JSON: the result, the recipe it was computed from, and the versions of formulas and tables. */
  result: string;
  /** SHA-256 of `result`, also in its entry of the journal. */
  result_hash: string;
  recorded_at: string;
  recorded_by: string;
}

export interface PreparationVesselTable {
  preparation_id: string;
  number: number;
  vessel_id: string;
  calibration_id: string | null;
  use: string;
  recorded_at: string;
  recorded_by: string;
}

export interface PreparationInstrumentTable {
  preparation_id: string;
  number: number;
  instrument_id: string;
  instrument_version: number;
  use: string;
  recorded_at: string;
  recorded_by: string;
}

export interface PreparationEndTable {
  preparation_id: string;
  ending: string;
  reason: string;
  recorded_at: string;
  recorded_by: string;
}

/** Either a vessel with the calibration that shows it wrong, or an instrument in the version found wrong. */
export interface PreparationDecisionTable {
  preparation_id: string;
  number: number;
  vessel_id: string | null;
  calibration_id: string | null;
  instrument_id: string | null;
  instrument_version: number | null;
  decision: string;
  reason: string;
  recorded_at: string;
  recorded_by: string;
}

export interface PreparationTables {
  preparation: PreparationTable;
  preparation_vessel: PreparationVesselTable;
  preparation_instrument: PreparationInstrumentTable;
  preparation_end: PreparationEndTable;
  preparation_decision: PreparationDecisionTable;
}
