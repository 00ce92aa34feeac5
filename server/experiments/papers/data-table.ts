/**
 * What a class weighed as one long table, a line for each trial, for students to reckon with. Readings keep the digits
 * that were typed; volumes have all their digits, since rounding belongs to the end of their own work.
 */
import { csvLines, toCell, type Cell } from '../../exports/cells.ts';
import type { Column, ColumnKind } from '../../exports/columns.ts';
import type { ClassData } from '../contract-class.ts';

type Trial = ClassData['trials'][number];
type Row = ClassData['rows'][number];
type Group = ClassData['groups'][number];
type Prediction = ClassData['predictions'][number];

const COLUMNS: readonly Column[] = (
  [
    ['row', 'code'],
    ['label', 'text'],
    ['kind', 'code'],
    ['basis', 'code'],
    ['nominal_volume_ml', 'number'],
    ['group_number', 'integer'],
    ['group_name', 'text'],
    ['trial_number', 'integer'],
    ['vessel_tag', 'text'],
    ['empty_g', 'number'],
    ['filled_g', 'number'],
    ['water_temperature_c', 'number'],
    ['water_temperature_assumed', 'boolean'],
    ['balance_correction_g', 'number'],
    ['mass_g', 'number'],
    ['simple_volume_ml', 'number'],
    ['density_volume_ml', 'number'],
    ['volume_ml', 'number'],
    ['excluded', 'boolean'],
    ['exclusion_cause', 'code'],
    ['entered', 'code'],
    ['predicted_volume_ml', 'number'],
    ['predicted_within_ml', 'number'],
    ['sureness', 'code'],
    ['made_up', 'boolean'],
  ] satisfies [string, ColumnKind][]
).map(([name, kind]) => ({ name, kind, nullable: true }));

const ofTrial = ({ vessels }: Row, trial: Trial): Cell[] => [
  trial.number,
  vessels.find(({ id }) => id === trial.vesselId)?.tag ?? null,
  trial.emptyG,
  trial.filledG,
  trial.waterTemperatureC ?? trial.usedWaterTemperatureC,
  trial.waterTemperatureC === null ? 1 : 0,
  trial.balanceCorrectionG,
  trial.massG,
  trial.simpleVolumeMl,
  trial.densityVolumeMl,
  trial.volumeMl,
  trial.excluded === null ? 0 : 1,
  trial.excluded?.cause ?? null,
  trial.entered,
];
const NO_TRIAL: readonly Cell[] = Array.from({ length: 14 }, () => null);

const lineOf = (data: ClassData, row: Row, group: Group, trial: Trial | null, foreseen: Prediction | null): Cell[] => [
  ...[row.key, row.label, row.kind, row.basis, row.nominalVolumeMl, group.number, group.name],
  ...(trial === null ? NO_TRIAL : ofTrial(row, trial)),
  ...[foreseen?.volumeMl ?? null, foreseen?.withinMl ?? null, foreseen?.sureness ?? null],
  data.madeUp ? 1 : 0,
];

/** A prediction that nobody weighed after stands in a line of its own, without a trial. */
const linesOf = (data: ClassData, row: Row, group: Group): Cell[][] => {
  const mine = <T extends { row: string; groupId: string }>(all: readonly T[]): T[] =>
    all.filter((one) => one.row === row.key && one.groupId === group.id);
  const [foreseen = null] = mine(data.predictions);
  const trials = mine(data.trials);
  if (trials.length > 0) return trials.map((trial) => lineOf(data, row, group, trial, foreseen));
  return foreseen === null ? [] : [lineOf(data, row, group, null, foreseen)];
};

/** RFC 4180. Rows in the order of the plan, in each the groups by number, in each their trials as they were weighed. */
export const dataTable = (data: ClassData): string => {
  const lines = data.rows.flatMap((row) => data.groups.flatMap((group) => linesOf(data, row, group)));
  return csvLines([
    COLUMNS.map(({ name }) => name),
    ...lines.map((line) => COLUMNS.map((column, index) => toCell(column, line[index] ?? null))),
  ]);
};
