/** Every trial as it was typed, and every line of the uncertainty. */
import { sameDecimal } from '../../metrology/decimal.ts';
import { decimalsFor, fixed, scientific, significant } from '../../metrology/display.ts';
import type { BudgetLine, PointResult, TrialResult } from '../../metrology/result.ts';
import type { Issued } from '../issued.ts';
import { moment, percentOf, pointFigures } from '../statements.ts';
import { trialNotes } from '../trial-notes.ts';
import { componentWords, distributionWords, emptySourceWords } from '../words.ts';
import { STYLES } from './ink.ts';
import type { Paper } from './paper.ts';
import { table, type Cell, type Column, type Row } from './table.ts';

type Shown = (trial: TrialResult) => boolean;

interface TrialColumn extends Column {
  cell: (trial: TrialResult) => Cell;
  /** The column stands only where a trial has something for it. */
  when?: Shown;
}

const optional = (
  head: string,
  field:
    'airTemperatureC' | 'airPressureHpa' | 'relativeHumidityPercent' | 'deliveryTimeS' | 'waitingTimeS' | 'openTimeS',
): TrialColumn => ({
  head,
  share: 6,
  decimal: true,
  cell: (trial) => corrected(trial, field, trial[field] ?? '–'),
  when: (trial) => trial[field] != null,
});

const isOwn: Shown = (trial) => (trial.emptySource ?? 'own') === 'own' && trial.emptyState == null;

const emptyWords = ({ emptySource, emptyOf, emptyState }: TrialResult): string =>
  [emptySourceWords[emptySource ?? 'own'] + (emptyOf == null ? '' : ` of ${emptyOf}`), emptyState ?? '']
    .filter((part) => part !== '')
    .join(', ');

function trialColumns(issued: Issued): TrialColumn[] {
  const { trials, points } = issued.result;
  const decimals = new Map(points.map((point) => [point, Math.min(8, pointFigures(point).decimals + 1)]));
  const volumeDecimals = (trial: TrialResult): number =>
    decimals.get(points.find((point) => sameDecimal(point.pointMl, trial.pointMl))!) ?? 4;
  const all: TrialColumn[] = [
    { head: 'Trial', share: 4, align: 'right', cell: ({ number }) => String(number) },
    { head: 'Point mL', share: 6, decimal: true, cell: ({ pointMl }) => pointMl, when: () => points.length > 1 },
    { head: 'Empty g', share: 8, decimal: true, cell: (trial) => corrected(trial, 'emptyG', trial.emptyG) },
    { head: 'Empty is', share: 8, cell: emptyWords, when: (trial) => !isOwn(trial) },
    { head: 'Filled g', share: 8, decimal: true, cell: (trial) => corrected(trial, 'filledG', trial.filledG) },
    {
      head: 'Water °C',
      share: 6.5,
      decimal: true,
      cell: (trial) => corrected(trial, 'waterTemperatureC', trial.waterTemperatureC),
    },
    optional('Air °C', 'airTemperatureC'),
    optional('Air hPa', 'airPressureHpa'),
    optional('Air %', 'relativeHumidityPercent'),
    optional('Delivery s', 'deliveryTimeS'),
    optional('Waiting s', 'waitingTimeS'),
    optional('Open s', 'openTimeS'),
    { head: 'Volume mL', share: 8, decimal: true, cell: (trial) => fixed(trial.volumeMl, volumeDecimals(trial)) },
    { head: 'Recorded', share: oneHand(trials) === null ? 14 : 11.5, cell: recordedBy(oneHand(trials)) },
  ];
  return all.filter(({ when }) => when === undefined || trials.some(when));
}

/** Who recorded every trial; null where there were several. */
const oneHand = (trials: readonly TrialResult[]): string | null => {
  const [first, ...others] = [...new Set(trials.map((trial) => trial.recordedBy ?? ''))];
  return first === undefined || first === '' || others.length > 0 ? null : first;
};

/** The name is left out where it was said once for all. */
const recordedBy =
  (said: string | null) =>
  ({ recordedAt, recordedBy: name }: TrialResult): string =>
    [recordedAt == null ? '' : moment(recordedAt), said === null ? (name ?? '') : '']
      .filter((part) => part !== '')
      .join(', ');

/** What was typed; where a slip was corrected, struck out above the value that counts. */
function corrected(trial: TrialResult, field: string, typed: string): Cell {
  const last = trial.corrections?.findLast((correction) => correction.field === field);
  return last === undefined ? typed : { text: last.value, instead: typed };
}

export function trials(paper: Paper, issued: Issued): void {
  const columns = trialColumns(issued);
  const rows = issued.result.trials.map((trial): Row => {
    const notes = trialNotes(trial);
    return {
      cells: columns.map(({ cell }) => cell(trial)),
      struck: trial.exclusion != null,
      ...(notes.length > 0 ? { notes } : {}),
    };
  });
  const hand = oneHand(issued.result.trials);
  paper.section('Trials, as typed');
  paper.paragraph(
    'Readings stand with the digits that were typed. A value struck out was a slip of typing; the one below it counts. A trial struck out does not count; its cause and reason stand below it.' +
      (hand === null ? '' : ` All recorded by ${hand}.`),
    STYLES.smallQuiet,
  );
  table(paper, columns, rows);
}

/** A number of any size with about six digits that mean something. */
const plain = (value: number, digits = 6): string => {
  if (value !== 0 && Math.abs(value) < 1e-3) return scientific(Number(value.toPrecision(Math.min(digits, 3))));
  const text = String(Number(value.toPrecision(digits)));
  return text.includes('e') ? scientific(Number(text)) : text.replace('-', '−');
};

const small = (value: number, digits: number): string =>
  value !== 0 && Math.abs(value) < 1e-3 ? scientific(Number(value.toPrecision(digits))) : significant(value, digits);

const COLUMNS: Column[] = [
  { head: 'Component', share: 14.5 },
  { head: 'Value', share: 10.5, align: 'right' },
  { head: 'Standard uncertainty', share: 11, align: 'right' },
  { head: 'Distribution', share: 9.2 },
  { head: 'ν', share: 4.8, align: 'right' },
  { head: 'Sensitivity mL per unit', share: 9, align: 'right' },
  { head: 'Contribution mL', share: 9.6, align: 'right' },
  { head: 'Share %', share: 5.5, align: 'right' },
  { head: 'Where from', share: 15.5 },
];

export function budgets(paper: Paper, issued: Issued): void {
  paper.section('Uncertainty of the mean volume', 120);
  for (const point of issued.result.points) {
    if (issued.result.points.length > 1) paper.subheading(`At ${point.pointMl} mL`, 80);
    if (point.budget.length === 0) paper.paragraph('No trial counts at this point, so there is no uncertainty.');
    else table(paper, COLUMNS, [...point.budget.map((line) => budgetRow(line, point)), combinedRow(point)]);
  }
}

const unitOf = (unit: string): string => (unit === '1' || unit === '' ? '' : ` ${unit.replace('m3', 'm³')}`);

/** Above a thousand k no longer moves in any digit that is printed. */
const freedomText = (freedom: number | null): string =>
  freedom === null ? '∞' : freedom > 1000 ? '> 1000' : plain(freedom, 3);

function budgetRow(line: BudgetLine, { combinedUncertaintyMl: u }: PointResult): Row {
  const share = u === null || u === 0 ? 0 : (line.contributionMl / u) ** 2 * 100;
  return {
    cells: [
      componentWords[line.component] ?? line.component,
      line.value === null ? '–' : plain(line.value) + unitOf(line.unit),
      small(line.standardUncertainty, 2) + unitOf(line.unit),
      distributionWords[line.distribution] ?? line.distribution,
      freedomText(line.degreesOfFreedom),
      plain(line.sensitivity, 4),
      small(Math.abs(line.contributionMl), 2),
      share > 0 && share < 0.5 ? '< 1' : fixed(share, 0),
      line.assumed ? `${line.source} (assumed)` : line.source,
    ],
  };
}

function combinedRow(point: PointResult): Row {
  const { combinedUncertaintyMl: u, effectiveDegreesOfFreedom: freedom, coverageFactor } = point;
  const k = coverageFactor === null ? '–' : fixed(coverageFactor, 2);
  const expanded = pointFigures(point).expanded;
  return {
    strong: true,
    cells: ['Together', '', '', '', freedomText(freedom), '', u === null ? '–' : small(u, 2), u ? '100' : '–', ''],
    notes: [
      `U = k · u = ${expanded} mL with k = ${k} for ${percentOf(point.coverageProbability)}.${point.singleUseUncertaintyMl === null ? '' : ` One single use: standard uncertainty ${fixed(point.singleUseUncertaintyMl, Math.max(0, decimalsFor(point.singleUseUncertaintyMl, 2)))} mL.`}`,
    ],
  };
}
