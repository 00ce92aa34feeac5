/** Questions a class answers by hand with its own numbers; the teacher's copy holds the answers. */
import { STYLES } from '../../certificates/pdf/ink.ts';
import type { Paper } from '../../certificates/pdf/paper.ts';
import { table, type Row } from '../../certificates/pdf/table.ts';
import { questionsFor, type Question } from '../../metrology/class/questions.ts';
import { significant } from '../../metrology/display.ts';
import { grid, options, writingLine } from '../../certificates/pdf/by-hand.ts';
import { beginPaper, opening, type ClassPaperInput } from './class-paper.ts';
import { limitText, NONE } from './figure-texts.ts';
import { reach } from './reach.ts';
import { nameOf, shownRows, type ShownRow } from './shown-rows.ts';
import { optionWords, reasonWords } from './words.ts';
import { reckoningsOf } from './reckoning.ts';

export interface WorksheetInput extends ClassPaperInput {
  /** With the answers, for whoever teaches. */
  answers: boolean;
}

/** The same input gives the same bytes. */
export async function worksheetPdf(input: WorksheetInput): Promise<Buffer> {
  const { data, answers } = input;
  const rows = shownRows(data);
  const weighed = rows.filter(({ figures }) => figures.n > 0);
  const paper = beginPaper(input, answers ? 'Worksheet with answers' : 'Worksheet');
  opening(
    paper,
    input,
    answers
      ? 'Copy for whoever teaches: answers worked out from the numbers of this class.'
      : 'Answer with the numbers of your class.',
  );
  if (weighed.length === 0) {
    paper.paragraph('Nobody has weighed yet. The questions need the numbers of the class.');
    return paper.finish();
  }
  numbers(paper, weighed);
  reckoning(paper, weighed, answers);
  const questions = questionsFor(rows.map(({ figures }) => figures));
  paper.section('Choose, and say why', 100);
  questions.forEach((question, at) => asked(paper, question, { at: at + 1, rows, answers }));
  return paper.finish();
}

function numbers(paper: Paper, rows: readonly ShownRow[]): void {
  paper.section('The numbers of your class', 70);
  const columns = [
    { head: 'Ware', share: 16 },
    { head: 'Marked', share: 9 },
    { head: 'Fillings n', share: 5, align: 'right' },
    { head: 'Mean mL', share: 8, align: 'right' },
    { head: 'Within a group s_r mL', share: 8, align: 'right' },
    { head: 'Between groups s_L mL', share: 9, align: 'right' },
    { head: 'Anybody s_R mL', share: 8, align: 'right' },
    { head: 'Limit ± mL', share: 7, align: 'right' },
  ] as const;
  const marked = { contain: 'to contain (In)', deliver: 'to deliver (Ex)' };
  const lines = rows.map(({ ware, texts }): Row => {
    const { n, mean, repeatability, between, withinRoom } = texts;
    const limit = ware.toleranceMl === null ? NONE : limitText(ware.toleranceMl);
    return { cells: [nameOf(ware), marked[ware.basis], n, mean, repeatability, between, withinRoom, limit] };
  });
  table(paper, columns, lines);
}

function reckoning(paper: Paper, rows: readonly ShownRow[], answers: boolean): void {
  paper.section('Work it out', 100);
  reckoningsOf(rows).forEach(({ ask, answer }, at) => {
    paper.need(50);
    paper.paragraph(`${at + 1}. ${ask}`, STYLES.body, 1);
    if (answers) paper.paragraph(`Answer: ${answer}`, STYLES.strong, 6);
    else writingLine(paper, 'Answer:');
  });
  paper.need(100);
  paper.paragraph(
    'Fill in for each ware: how far off it is on average (bias, mean less nominal volume), that in per cent of the nominal volume, and within how much of the nominal volume a single filling by anybody lies: |bias| + 2·s_R.',
  );
  const columns = [
    { head: 'Ware', share: 16 },
    { head: 'Bias mL', share: 10 },
    { head: 'Bias %', share: 10 },
    { head: '|bias| + 2·s_R mL', share: 12 },
  ];
  const lines = rows.map(({ ware, texts, figures }) => {
    const reachMl = reach(figures);
    const known = [texts.bias, texts.biasPercent, reachMl === null ? NONE : significant(reachMl, 2)];
    return [nameOf(ware), ...(answers ? known : ['', '', ''])];
  });
  grid(paper, columns, lines, 20);
  if (answers)
    paper.paragraph(
      'Worked out from unrounded numbers: the last digit may come out otherwise by hand.',
      STYLES.smallQuiet,
    );
}

interface Asked {
  at: number;
  rows: readonly ShownRow[];
  answers: boolean;
}

function asked(paper: Paper, question: Question, { at, rows, answers }: Asked): void {
  const { about, ask, options: keys, right, reasons, against } = question;
  const named = (key: string): string => {
    const row = rows.find(({ ware }) => ware.key === key);
    return row === undefined ? (optionWords[key] ?? key) : nameOf(row.ware);
  };
  paper.need(80);
  paper.paragraph(`${at}. ${about === null ? '' : `${named(about)}: `}${ask}`, STYLES.body, 2);
  options(
    paper,
    keys.map((key) => ({ text: named(key), ticked: answers && right.includes(key) })),
  );
  if (!answers) {
    writingLine(paper, 'Because:');
    return;
  }
  paper.paragraph(
    `Answer: ${right.map(named).join(' or ')}. What decides: ${reasons.map((code) => reasonWords[code]).join('; ')}.`,
    STYLES.strong,
    1,
  );
  const others = against.map(({ key, codes }) => `${named(key)}: ${codes.map((code) => reasonWords[code]).join(', ')}`);
  if (others.length > 0) paper.paragraph(`Not: ${others.join('; ')}.`, STYLES.smallQuiet);
  paper.space(4);
}
