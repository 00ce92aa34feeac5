/** What the class found, on the first pages of its report: pictures, figures, limits, what is asked about. */
import { plural, type Fact } from '../../certificates/statements.ts';
import { exclusionCauseWords } from '../../certificates/words.ts';
import { factColumns } from '../../certificates/pdf/facts.ts';
import { MEASURE, PAGE, STYLES } from '../../certificates/pdf/ink.ts';
import type { Paper } from '../../certificates/pdf/paper.ts';
import { drawStrip, stripHeight } from '../../certificates/pdf/strip.ts';
import { table, type Row } from '../../certificates/pdf/table.ts';
import { dropFigures } from '../../metrology/class/drops.ts';
import type { Figures } from '../../metrology/class/figures.ts';
import { fixed, signed, significant } from '../../metrology/display.ts';
import type { ClassData } from '../contract-class.ts';
import type { ClassPaperInput } from './class-paper.ts';
import { crossedSection } from './report-crossed.ts';
import { decimalsOfMean, limitText, NONE, rangeText } from './figure-texts.ts';
import { reach } from './reach.ts';
import { nameOf, type ShownRow } from './shown-rows.ts';
import {
  ACCURACY,
  LIMITS_NOTE,
  markWords,
  REACH_NOTE,
  SPREAD_NOTE,
  weighedShort,
  weighedWords,
  WHICH,
} from './words.ts';

/** Up to this many rows each get a picture of their own height; more stand in small ones. */
const MOST_TALL_STRIPS = 5;

export const classPart = (paper: Paper, input: ClassPaperInput, rows: readonly ShownRow[]): void => {
  factColumns(paper, [
    [{ heading: 'Measured', facts: measuredFacts(input) }],
    [{ heading: 'How', facts: howFacts(input) }],
  ]);
  paper.section('What the class found', 120);
  rows.forEach((row) => picture(paper, row, rows.length <= MOST_TALL_STRIPS ? 96 : 28));
  spreads(paper, rows);
  if (input.data.design === 'crossed') crossedSection(paper, input.data);
  limits(paper, rows);
  askedAbout(paper, input.data, rows);
  which(paper, rows);
};

const measuredFacts = ({ data }: ClassPaperInput): Fact[] => {
  const { openedAt, closedAt, groups, trials } = data;
  const left = trials.filter(({ excluded }) => excluded !== null).length;
  return [
    ['On', (openedAt ?? closedAt)?.slice(0, 10) ?? 'not begun'],
    ['State', closedAt === null ? 'still open: these figures may grow' : 'ended'],
    ['By', plural(groups.length, 'group', 'groups')],
    ['Fillings', `${trials.length}${left === 0 ? '' : `, ${left} of them left out`}`],
  ];
};

const balanceWords = ({ balances }: ClassPaperInput['plan'], isCorrected: boolean): string => {
  const named = balances.map(({ label, resolutionG: d }) => (d ? `${label} (${d} g)` : label)).join(', ');
  return isCorrected ? `${named}; the corrections of its certificate are in every volume` : named;
};

const howFacts = ({ data, plan }: ClassPaperInput): Fact[] => {
  const { airTemperatureC, airPressureHpa, relativeHumidityPercent, waterTemperatureC } = data.conditions;
  const air = [
    airTemperatureC === undefined ? null : `${airTemperatureC} °C`,
    airPressureHpa === undefined ? null : `${airPressureHpa} hPa`,
    relativeHumidityPercent === undefined ? null : `${relativeHumidityPercent} %`,
  ].filter((part) => part !== null);
  const references = [...new Set(data.rows.map(({ referenceTemperatureC }) => referenceTemperatureC))];
  return [
    [
      'Balances',
      balanceWords(
        plan,
        data.balances.some(({ corrects }) => corrects),
      ),
    ],
    ['Air', air.length === 0 ? 'assumed' : air.join(' · ')],
    [
      'Water',
      waterTemperatureC === undefined ? 'measured at each filling' : `${waterTemperatureC} °C where not measured`,
    ],
    ['Volumes', `corrected in full, at ${references.join(' and ')} °C`],
  ];
};

const bareNumber = ({ n, groups }: ShownRow['figures']): string =>
  `${plural(n, 'filling', 'fillings')} by ${plural(groups, 'group', 'groups')}`;

/** The same as the picture, in words. */
const rowSentences = (row: ShownRow): string => {
  const { figures, texts, simple } = row;
  if (figures.n === 0) return 'Nobody has weighed in this row.';
  const percent = texts.biasPercent === NONE ? '' : ` (${texts.biasPercent} %)`;
  const apart = figures.sdMl === null ? 'needs 2 fillings' : `${texts.sd} mL`;
  const decimals = decimalsOfMean(figures, row.readingDecimals);
  const gram = simple.biasMl === null ? '' : ` A gram taken for a millilitre: ${signed(simple.biasMl, decimals)} mL.`;
  const u = figures.meanUncertaintyMl === null ? '' : ` (u ${texts.meanUncertainty} mL)`;
  return `${bareNumber(figures)}; mean ${texts.mean} mL${u}. How far off on average (bias, trueness): ${texts.bias} mL${percent}.${gram} How far apart (spread s, precision): ${apart}.`;
};

const dropSentence = ({ ware, counted }: ShownRow): string | null => {
  const { drops } = ware;
  if (drops === undefined || counted.length === 0) return null;
  const groups = [...new Set(counted.map(({ group }) => group))].map((number) =>
    counted.filter(({ group }) => group === number).map(({ volumeMl }) => ({ drops, volumeMl })),
  );
  const found = dropFigures(groups);
  if (found === null) return null;
  const spread = found.withinRoomSdMl ?? found.repeatabilitySdMl;
  const apart = spread === null ? '' : `, spread ${significant(1000 * spread, 2)} µL`;
  return `One drop: ${significant(1000 * found.dropMl, 3)} µL${apart}; ${significant(found.dropsPerMl, 3)} drops to a millilitre, from ${drops} drops a filling.`;
};

function picture(paper: Paper, row: ShownRow, height: 28 | 96): void {
  const { ware, figures, simple } = row;
  const high = stripHeight(height);
  paper.subheading(`${nameOf(ware)} – ${weighedWords[ware.basis]}`, high + 30);
  const sentences = rowSentences(row);
  if (row.counted.length + row.excluded.length > 0) {
    const data = {
      nominalMl: figures.nominalMl,
      toleranceMl: ware.toleranceMl,
      volumesMl: row.counted.map(({ volumeMl }) => volumeMl),
      excludedMl: row.excluded.map(({ volumeMl }) => volumeMl),
      meanMl: figures.meanMl,
      simpleMeanMl: simple.meanMl,
    };
    const limit = ware.toleranceMl === null ? 'No limit is drawn.' : `Band: ±${limitText(ware.toleranceMl)} mL.`;
    const [x, y] = [PAGE.left, paper.y];
    const bbox: [number, number, number, number] = [x, y, x + MEASURE, y + high];
    const alt = `Each filling a dot. ${limit} ${sentences}`;
    paper.draw('Figure', () => drawStrip(paper, data, height, { x, y, width: MEASURE }), { alt, bbox });
    paper.y = y + high + 1;
  }
  paper.paragraph(sentences, STYLES.small, 2);
  const ofDrops = dropSentence(row);
  if (ofDrops !== null) paper.paragraph(ofDrops, STYLES.small, 2);
  paper.space(4);
}

function spreads(paper: Paper, rows: readonly ShownRow[]): void {
  paper.paragraph(
    'Each dot is one filling; struck ones are left out. Bar: mean of the class. Lozenge: mean with a gram taken for a millilitre. Shaded: what the limit allows the vessel. Each row has an axis of its own.',
    STYLES.smallQuiet,
  );
  paper.section('How far apart, and where that comes from', 90);
  paper.paragraph(ACCURACY, STYLES.body);
  const columns = [
    { head: 'Ware', share: 15 },
    { head: 'Fillings n', share: 6, align: 'right' },
    { head: 'All, s mL', share: 7, align: 'right' },
    { head: 'Within a group (repeatability s_r) mL', share: 11, align: 'right' },
    { head: 'Between groups (s_L) mL', share: 9, align: 'right' },
    { head: 'Anybody in the room (within-room precision s_R) mL', share: 13, align: 'right' },
    { head: 'F', share: 6, align: 'right' },
    { head: 'p', share: 6, align: 'right' },
  ] as const;
  const lines = rows.map(({ ware, texts, figures }): Row => {
    const { n, sd, repeatability, between, withinRoom, f, p } = texts;
    const said = figures.findings.filter(({ code }) => code !== 'suspected-outlier').map(({ detail }) => detail);
    const notes = said.length > 0 ? { notes: said } : {};
    return { cells: [nameOf(ware), n, sd, repeatability, between, withinRoom, f, p], ...notes };
  });
  table(paper, columns, lines);
  paper.paragraph(SPREAD_NOTE, STYLES.smallQuiet);
}

function limits(paper: Paper, rows: readonly ShownRow[]): void {
  const lines = rows.flatMap(({ ware, figures }): Row[] =>
    figures.limits.map((limit, at) => ({
      cells: [
        at === 0 ? nameOf(ware) : '',
        limit.source,
        `±${limitText(limit.toleranceMl)}`,
        rangeText(limit.vessel, limit.toleranceMl),
        limit.fillings.n === 0 ? NONE : `${limit.fillings.within} of ${limit.fillings.n}`,
      ],
    })),
  );
  paper.section('Limits, in their two meanings', 70);
  if (lines.length === 0) {
    paper.paragraph('No limit is known for this ware.');
    return;
  }
  const columns = [
    { head: 'Ware', share: 15 },
    { head: 'Limit', share: 15 },
    { head: 'mL', share: 6, align: 'right' },
    { head: 'The vessel may hold or give, mL', share: 13, align: 'right' },
    { head: 'Single fillings of the class within', share: 12, align: 'right' },
  ] as const;
  table(paper, columns, lines);
  paper.paragraph(LIMITS_NOTE, STYLES.smallQuiet);
}

function suspectRow(row: ShownRow): Row[] {
  const { figures } = row;
  const { suspect } = figures;
  if (suspect === null) return [];
  const bias = (of: Figures): string =>
    of.biasMl === null ? NONE : signed(of.biasMl, decimalsOfMean(of, row.readingDecimals));
  const apart = (value: number | null): string => (value === null ? NONE : significant(value, 2));
  return [
    {
      cells: [
        nameOf(row.ware),
        `trial ${suspect.number} of group ${suspect.group}`,
        fixed(suspect.valueMl, row.readingDecimals),
        suspect.level === 'outlier' ? 'far out (outlier, 1 %)' : 'rather far out (straggler, 5 %)',
        `${bias(figures)} / ${bias(suspect.without)}`,
        `${apart(figures.sdMl)} / ${apart(suspect.without.sdMl)}`,
      ],
    },
  ];
}

function askedAbout(paper: Paper, data: ClassData, rows: readonly ShownRow[]): void {
  paper.section('Asked about', 50);
  const lines = rows.flatMap(suspectRow);
  if (lines.length === 0) paper.paragraph('No filling lies so far out that its group should be asked (Grubbs’ test).');
  else {
    paper.paragraph('Ask the group what happened. A number alone leaves nothing out, so these count in all figures.');
    const columns = [
      { head: 'Ware', share: 15 },
      { head: 'Which', share: 11 },
      { head: 'Volume mL', share: 7, align: 'right' },
      { head: 'Grubbs’ test', share: 13 },
      { head: 'Bias mL, with it / without', share: 11, align: 'right' },
      { head: 's mL, with it / without', share: 11, align: 'right' },
    ] as const;
    table(paper, columns, lines);
  }
  const names = new Map(data.rows.map((row) => [row.key, row.label]));
  for (const { row, group, number, excluded } of data.trials)
    if (excluded !== null) {
      const what = `group ${group}, ${names.get(row) ?? row}, trial ${number}`;
      paper.item(`Left out: ${what}: ${exclusionCauseWords[excluded.cause]}.`, STYLES.small);
    }
}

function which(paper: Paper, rows: readonly ShownRow[]): void {
  paper.section('Which would you take, and why?', 90);
  const columns = [
    { head: 'Ware', share: 15 },
    { head: 'The class measured', share: 10 },
    { head: 'It measures', share: 16 },
    { head: 'A single filling by anybody within, mL', share: 12, align: 'right' },
    { head: '% of the volume', share: 8, align: 'right' },
  ] as const;
  const lines = rows.map(({ ware, figures }): Row => {
    const reachMl = reach(figures);
    const [ml, percent] =
      reachMl === null
        ? [NONE, NONE]
        : [`±${significant(reachMl, 2)}`, `±${significant((100 * reachMl) / figures.nominalMl, 2)}`];
    return { cells: [nameOf(ware), weighedShort[ware.basis], markWords[ware.readingRule.mark], ml, percent] };
  });
  table(paper, columns, lines);
  paper.paragraph(WHICH);
  paper.paragraph(REACH_NOTE, STYLES.smallQuiet);
}
