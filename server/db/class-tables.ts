/** Row types of the tables of class experiments: erasable, never evidence. */

export interface ClassExperimentTable {
  id: string;
  version: number;
  /** Counts every act that a board shows. */
  change: number;
  state: string;
  made_up: number;
  template: string;
  /** JSON of the plan as the contract has it. */
  plan: string;
  joining_open: number;
  names_hidden: number;
  predictions_shown: number;
  opened_at: string | null;
  ends_at: string | null;
  closed_at: string | null;
  closing_hash: string | null;
  names_removed_at: string | null;
  recorded_at: string;
  recorded_by: string;
}

export interface ClassExperimentSecretTable {
  experiment_id: string;
  /** Keeps the hash at closing from being guessed back to the readings. */
  salt: string;
  join_code: string | null;
  board_code: string | null;
  assistant_code: string | null;
}

export interface ClassGroupTable {
  id: string;
  experiment_id: string;
  number: number;
  /** From the program's own list; null once names were removed. */
  name: string | null;
  hidden: number;
  made_by: string;
  recorded_at: string;
}

interface ClassGroupSecretTable {
  group_id: string;
  word: string;
}

export interface ClassPredictionTable {
  group_id: string;
  row_key: string;
  volume_ml: string;
  within_ml: string | null;
  sureness: string | null;
  recorded_at: string;
}

export interface ClassTrialTable {
  group_id: string;
  row_key: string;
  number: number;
  vessel_id: string | null;
  empty_g: string;
  filled_g: string;
  /** Null where the plan's one temperature is assumed. */
  water_temperature_c: string | null;
  entered: string;
  confirmed: string | null;
  recorded_at: string;
}

export interface ClassTrialCorrectionTable {
  group_id: string;
  row_key: string;
  trial_number: number;
  number: number;
  field: string;
  previous_value: string | null;
  value: string;
  reason: string | null;
  recorded_at: string;
}

export interface ClassTrialExclusionTable {
  group_id: string;
  row_key: string;
  trial_number: number;
  number: number;
  excluded: number;
  cause: string | null;
  reason: string | null;
  recorded_at: string;
}

export interface ClassTables {
  class_experiment: ClassExperimentTable;
  class_experiment_secret: ClassExperimentSecretTable;
  class_group: ClassGroupTable;
  class_group_secret: ClassGroupSecretTable;
  class_prediction: ClassPredictionTable;
  class_trial: ClassTrialTable;
  class_trial_correction: ClassTrialCorrectionTable;
  class_trial_exclusion: ClassTrialExclusionTable;
}
