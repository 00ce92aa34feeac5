/** The report for a class: what it found, then a page for each group in the order of their numbers. No ranking. */
import { STYLES } from '../../certificates/pdf/ink.ts';
import { moment } from '../../certificates/statements.ts';
import { beginPaper, cautions, heading, opening, titleOf, type ClassPaperInput } from './class-paper.ts';
import { classPart } from './report-class.ts';
import { groupPart } from './report-group.ts';
import { shownRows } from './shown-rows.ts';

export interface ReportInput extends ClassPaperInput {
  /** Only the page of this group; null for the whole class. */
  groupId: string | null;
}

/** The same input gives the same bytes. */
export async function reportPdf(input: ReportInput): Promise<Buffer> {
  const { data, groupId } = input;
  const rows = shownRows(data);
  if (groupId !== null) {
    const paper = beginPaper(input, 'Page of a group');
    heading(paper, titleOf(input));
    for (const group of data.groups) if (group.id === groupId) groupPart(paper, input, group, rows);
    return paper.finish();
  }
  const paper = beginPaper(input, 'Report for the class');
  opening(
    paper,
    input,
    `As the record stood on ${moment(input.madeAt)}. A class measures to learn; this is no certificate of any vessel.`,
  );
  classPart(paper, input, rows);
  cautions(paper, input, STYLES.smallQuiet);
  for (const group of data.groups) {
    paper.newPage();
    groupPart(paper, input, group, rows);
  }
  return paper.finish();
}
