/** What one group foresaw and found, beside the class: a page to take home. */
import { exclusionCauseWords } from '../../certificates/words.ts';
import { STYLES } from '../../certificates/pdf/ink.ts';
import type { Paper } from '../../certificates/pdf/paper.ts';
import { drawStrip, stripHeight } from '../../certificates/pdf/strip.ts';
import { table, type Cell, type CellFigure, type Row } from '../../certificates/pdf/table.ts';
import { fixed, signed, significant } from '../../metrology/display.ts';
import type { ClassData } from '../contract-class.ts';
import type { ClassPaperInput } from './class-paper.ts';
import { decimalsOfMean, limitText, NONE, type Trial } from './figure-texts.ts';
import { nameOf, type ShownRow } from './shown-rows.ts';
import { CHANGED, groupWords, sureWords, weighedShort } from './words.ts';

/** More rows than this leave their pictures to the class, so that a group stays on its page. */
const MOST_PICTURES = 5;

type Group = ClassData['groups'][number];

export const groupPart = (paper: Paper, { data }: ClassPaperInput, group: Group, rows: readonly ShownRow[]): void => {
  paper.section(groupWords(group), 100);
  paper.paragraph(data.question, STYLES.quiet);
  summary(paper, data, group, rows);
  if (rows.length <= MOST_PICTURES) pictures(paper, group, rows);
  trials(paper, group, rows);
};

const mineOf = (group: Group, trials: readonly Trial[]): Trial[] =>
  trials.filter(({ groupId }) => groupId === group.id);

const inside = (mine: readonly Trial[], volumeMl: number, withinMl: number): string =>
  `${mine.filter((trial) => Math.abs(trial.volumeMl - volumeMl) <= withinMl).length} of ${mine.length}`;

function foreseenCells(data: ClassData, group: Group, row: ShownRow, mine: readonly Trial[]): Cell[] {
  const foreseen = data.predictions.find((one) => one.groupId === group.id && one.row === row.ware.key);
  if (foreseen === undefined) return [NONE, NONE, NONE];
  const { volumeMl, withinMl, sureness } = foreseen;
  const reach = withinMl === null ? '' : ` ± ${withinMl}`;
  const hit = withinMl === null || mine.length === 0 ? NONE : inside(mine, Number(volumeMl), Number(withinMl));
  return [`${volumeMl}${reach}`, sureness === null ? NONE : sureWords[sureness], hit];
}

function summary(paper: Paper, data: ClassData, group: Group, rows: readonly ShownRow[]): void {
  paper.subheading('What you expected, and what you found');
  const columns = [
    { head: 'Ware', share: 15 },
    { head: 'You expected mL', share: 9, align: 'right' },
    { head: 'How sure', share: 7 },
    { head: 'Fillings within that', share: 7, align: 'right' },
    { head: 'Your mean mL', share: 7, align: 'right' },
    { head: 'Your spread s mL', share: 7, align: 'right' },
    { head: 'Mean of the class mL', share: 8, align: 'right' },
    { head: 'You beside the class mL', share: 8, align: 'right' },
  ] as const;
  const lines = rows.map((row): Row => {
    const mine = mineOf(group, row.counted);
    const own = row.figures.byGroup.find(({ key }) => key === String(group.number));
    const decimals = decimalsOfMean(row.figures, row.readingDecimals);
    const [mean, ofClass] = [own?.meanMl ?? null, row.figures.meanMl];
    const apart = own?.sdMl == null ? (mine.length === 0 ? NONE : 'needs 2') : significant(own.sdMl, 2);
    return {
      cells: [
        `${nameOf(row.ware)} (${weighedShort[row.ware.basis]})`,
        ...foreseenCells(data, group, row, mine),
        mean === null ? NONE : fixed(mean, decimals),
        apart,
        row.texts.mean,
        mean === null || ofClass === null ? NONE : signed(mean - ofClass, decimals),
      ],
    };
  });
  table(paper, columns, lines);
}

function pictures(paper: Paper, group: Group, rows: readonly ShownRow[]): void {
  const lines = rows.flatMap((row): Row[] => {
    const { ware, figures } = row;
    const mine = mineOf(group, row.counted).map(({ volumeMl }) => volumeMl);
    const excludedMl = mineOf(group, row.excluded).map(({ volumeMl }) => volumeMl);
    if (mine.length + excludedMl.length === 0) return [];
    const own = figures.byGroup.find(({ key }) => key === String(group.number));
    const { nominalMl } = figures;
    const data = { nominalMl, toleranceMl: ware.toleranceMl, volumesMl: mine, excludedMl, meanMl: own?.meanMl ?? null };
    const dots = mine.map((volumeMl) => signed(volumeMl - nominalMl, row.readingDecimals)).join(', ');
    const limit = ware.toleranceMl === null ? '' : ` Band ±${limitText(ware.toleranceMl)} mL.`;
    const figure: CellFigure = {
      height: stripHeight(28),
      alt: `Your fillings beside ${ware.nominalVolumeMl} mL, in mL: ${dots === '' ? 'none counts' : dots}.${limit}`,
      draw: (x, y, width) => drawStrip(paper, data, 28, { x, y, width }),
    };
    return [{ cells: [nameOf(ware), figure] }];
  });
  if (lines.length === 0) return;
  const columns = [
    { head: 'Ware', share: 15 },
    { head: 'Your fillings: dots; your mean: bar; shaded: what the limit allows the vessel', share: 54 },
  ] as const;
  table(paper, columns, lines);
}

type Field = 'emptyG' | 'filledG' | 'waterTemperatureC';

/** The reading that counts, below the one first typed where a slip was corrected. */
function reading(trial: Trial, field: Field, shown: string): Cell {
  const first = trial.corrections.find((correction) => correction.field === field);
  return first === undefined ? shown : { text: shown, instead: first.previousValue ?? 'assumed' };
}

function trialRow(row: ShownRow, trial: Trial, at: number): Row {
  const { readingDecimals: decimals, ware } = row;
  const { emptyG, filledG, waterTemperatureC: typed, usedWaterTemperatureC: used, excluded } = trial;
  return {
    cells: [
      at === 0 ? nameOf(ware) : '',
      String(trial.number),
      reading(trial, 'emptyG', emptyG),
      reading(trial, 'filledG', filledG),
      reading(trial, 'waterTemperatureC', typed ?? `${used} (assumed)`),
      fixed(trial.simpleVolumeMl, decimals),
      fixed(trial.densityVolumeMl, decimals),
      fixed(trial.volumeMl, decimals),
    ],
    ...(excluded === null
      ? {}
      : { struck: true, notes: [`Left out, counts nowhere: ${exclusionCauseWords[excluded.cause]}.`] }),
  };
}

function trials(paper: Paper, group: Group, rows: readonly ShownRow[]): void {
  paper.subheading('Your fillings');
  const lines = rows.flatMap((row) =>
    mineOf(group, [...row.counted, ...row.excluded])
      .sort((one, other) => one.number - other.number)
      .map((trial, at) => trialRow(row, trial, at)),
  );
  if (lines.length === 0) {
    paper.paragraph('You have not weighed yet.');
    return;
  }
  const columns = [
    { head: 'Ware', share: 14 },
    { head: 'Trial', share: 4, align: 'right' },
    { head: 'Empty g', share: 8, align: 'right' },
    { head: 'Filled g', share: 8, align: 'right' },
    { head: 'Water °C', share: 9, align: 'right' },
    { head: 'Simple mL', share: 8, align: 'right' },
    { head: 'With density mL', share: 8, align: 'right' },
    { head: 'Corrected in full mL', share: 8, align: 'right' },
  ] as const;
  table(paper, columns, lines);
  paper.paragraph(CHANGED);
}
