/** The certificate of one calibration as a PDF file. Pure: the same frozen content gives the same bytes. */
import type { Issued, IssueEntry } from '../issued.ts';
import {
  conditionsOf,
  conditionText,
  DEMONSTRATION,
  deviations,
  type Fact,
  ITEM_ONLY,
  itemCondition,
  itemFacts,
  methodStatements,
  moment,
  NO_ADDRESS,
  NO_LABORATORY,
  replacesStatement,
  signatureRemark,
  traceability,
  waterWords,
} from '../statements.ts';
import { meaningWords, originWords, roleWords } from '../words.ts';
import { factColumns } from './facts.ts';
import { INK, MEASURE, PAGE, STYLES } from './ink.ts';
import { Paper } from './paper.ts';
import { budgets, trials } from './readings.ts';
import { decisionRule, results } from './results.ts';
import { table } from './table.ts';
import { linesOf } from './type.ts';

/**
 * @param xml the same certificate as data; it goes with the file as `<number>.xml`
 * @returns bytes of a tagged PDF 1.7; no claim of any archive or accessibility profile
 */
export async function certificatePdf(issued: Issued, entry: IssueEntry, xml: Buffer): Promise<Buffer> {
  const paper = new Paper({
    title: `Calibration certificate ${issued.number}`,
    subject: `Calibration of ${issued.vessel.tag}`,
    createdAt: issued.issuedAt,
    program: `Tarebook ${issued.program}`,
    running: { left: issued.laboratory.name ?? NO_LABORATORY, right: `Certificate ${issued.number}` },
    foot: `Journal entry ${entry.number}, hash ${entry.hash.slice(0, 16)}…`,
    banner: issued.demonstration ? DEMONSTRATION : null,
  });
  opening(paper, issued);
  factColumns(paper, [
    [{ heading: 'Item', facts: itemFacts(issued) }],
    [
      { heading: 'Calibration', facts: calibrationFacts(issued) },
      { heading: 'Condition of the item', facts: itemCondition(issued) },
    ],
  ]);
  results(paper, issued);
  decisionRule(paper, issued);
  method(paper, issued);
  conditions(paper, issued);
  instruments(paper, issued);
  people(paper, issued);
  trials(paper, issued);
  budgets(paper, issued);
  closing(paper, issued, entry);
  paper.attach(xml, `${issued.number}.xml`, 'The same certificate as data');
  return paper.finish();
}

function opening(paper: Paper, issued: Issued): void {
  const { laboratory, demonstration } = issued;
  const y = paper.y + 2;
  paper.draw('H1', () => paper.set('Calibration certificate', PAGE.left, y, STYLES.title));
  paper.draw('P', () => paper.set(issued.number, PAGE.left, y + 10, STYLES.lead, 'right', MEASURE));
  paper.decorate(() => paper.rule(y + 31, INK.water, 1.4));
  paper.y = y + 38;
  paper.paragraph(laboratory.name ?? NO_LABORATORY, STYLES.strong, 0);
  paper.paragraph(laboratory.address ?? NO_ADDRESS, STYLES.quiet, 5);
  const replaces = replacesStatement(issued);
  if (replaces !== null) paper.paragraph(replaces, STYLES.strong);
  if (demonstration)
    paper.paragraph(
      'This logbook holds invented data. Vessel, readings and people are made up; nothing was measured.',
      {
        ...STYLES.strong,
        colour: INK.fail,
      },
    );
  paper.space(4);
}

function calibrationFacts(issued: Issued): Fact[] {
  const { record, begunOn, endedOn } = issued;
  return [
    ...(record.performedOn == null ? [] : [['Performed', record.performedOn] as Fact]),
    ...(record.origin == null ? [] : [['Readings', originWords[record.origin]] as Fact]),
    ['Begun, ended', begunOn === endedOn ? begunOn : `${begunOn}, ${endedOn}`],
    ['Issued', issued.issuedOn],
    ['Place', issued.laboratory.address === null ? 'the laboratory; address not set' : 'the laboratory named above'],
    ...(issued.dueOn === null ? [] : [['Due again', issued.dueOn] as Fact]),
  ];
}

function method(paper: Paper, issued: Issued): void {
  paper.section('Method');
  methodStatements(issued).forEach((statement) => paper.paragraph(statement, STYLES.body, 3));
  paper.space(3);
  paper.subheading('Deviations, assumptions and remarks');
  const found = deviations(issued);
  if (found.length === 0) paper.paragraph('None.');
  found.forEach((line) => paper.item(line));
  if (issued.note !== null && issued.note !== '') {
    paper.space(3);
    paper.subheading('Note');
    paper.paragraph(issued.note);
  }
}

function conditions(paper: Paper, issued: Issued): void {
  paper.section('Conditions');
  const columns = [
    { head: 'Condition', share: 3 },
    { head: 'Value over all trials', share: 4 },
    { head: 'Known how', share: 4 },
  ];
  table(paper, columns, [
    ...conditionsOf(issued).map((condition) => ({ cells: [condition.name, conditionText(condition), condition.how] })),
    { cells: ['Water', waterWords(issued), 'as stated'] },
  ]);
}

function instruments(paper: Paper, issued: Issued): void {
  paper.section('Measuring instruments and traceability');
  if (issued.instruments.length === 0) {
    paper.paragraph('No instrument of the register was named. Traceability: not established.');
    return;
  }
  const columns = [
    { head: 'Used as', share: 4 },
    { head: 'Tag', share: 3 },
    { head: 'Model', share: 4 },
    { head: 'Serial number', share: 4 },
    { head: 'Certificate', share: 6 },
    { head: 'Due', share: 3 },
  ];
  const rows = issued.instruments.map((one) => ({
    cells: [
      roleWords[one.role],
      one.tag,
      one.model ?? 'not stated',
      one.serial ?? 'not stated',
      traceability(one),
      one.dueOn ?? 'not stated',
    ],
  }));
  table(paper, columns, rows);
}

function people(paper: Paper, issued: Issued): void {
  paper.section('People');
  const columns = [
    { head: 'Meaning', share: 3 },
    { head: 'Name', share: 5 },
    { head: 'Time', share: 5 },
    { head: 'Remark', share: 6 },
  ];
  const rows = issued.signatures.map((signature) => ({
    cells: [meaningWords[signature.meaning], signature.name, moment(signature.at), signatureRemark(signature)],
  }));
  table(paper, columns, rows);
}

function closing(paper: Paper, issued: Issued, entry: IssueEntry): void {
  const { versions } = issued;
  paper.section('Record');
  paper.paragraph(ITEM_ONLY, STYLES.strong);
  paper.paragraph(
    `Issued with entry ${entry.number} of the journal. Hash of the entry, SHA-256: ${entry.hash}. Hash of the frozen content: ${entry.frozenHash}. An export of the logbook holds both, and the journal can be checked against them with public tools.`,
  );
  paper.paragraph(
    `Made with Tarebook ${issued.program}: model ${versions.model}, water density ${versions.waterDensity}, air density ${versions.airDensity}, tolerances ${versions.tolerances}. The same certificate as data goes with this file as ${issued.number}.xml.`,
    STYLES.quiet,
  );
  const end = `End of certificate ${issued.number}`;
  const lines = linesOf(paper.document, end, MEASURE, STYLES.strong);
  paper.need(34);
  paper.space(6);
  const y = paper.y;
  paper.decorate(() => paper.rule(y, INK.water, 1.4));
  paper.draw('P', () =>
    lines.forEach((line, down) => paper.set(line, PAGE.left, y + 6 + down * 12, STYLES.strong, 'center', MEASURE)),
  );
  paper.y = y + 6 + lines.length * 12;
}
