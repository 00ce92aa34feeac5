/** What all papers of a class begin with, and what runs along on their pages. */
import { INK, MEASURE, PAGE, STYLES, type Style } from '../../certificates/pdf/ink.ts';
import { Paper } from '../../certificates/pdf/paper.ts';
import { paperInput, type SummaryHead } from '../../certificates/pdf/summary.ts';
import { linesOf } from '../../certificates/pdf/type.ts';
import { DEMONSTRATION, moment, NO_LABORATORY } from '../../certificates/statements.ts';
import type { ClassData } from '../contract-class.ts';
import type { ExperimentPlan } from '../contract.ts';
import { CAUTIONS, MADE_UP, NO_TITLE } from './words.ts';

export interface ClassPaperInput extends SummaryHead {
  /** Names as they are shown: hidden ones are null. */
  data: ClassData;
  plan: Pick<ExperimentPlan, 'asks' | 'balances' | 'cautionNote' | 'expectedGroups'>;
}

export const titleOf = ({ data }: ClassPaperInput): string => (data.title === '' ? NO_TITLE : data.title);

/** One banner for all that is invented; a class is so by itself, a whole logbook too. */
const bannerOf = ({ data, demonstration }: ClassPaperInput): string | null => {
  const said = [...(data.madeUp ? [MADE_UP] : []), ...(demonstration ? [DEMONSTRATION] : [])];
  return said.length === 0 ? null : said.join(' · ');
};

/** @param what kind of paper it is, at the head of each page */
export const beginPaper = (input: ClassPaperInput, what: string): Paper => {
  const title = titleOf(input);
  const made = `As the record stood on ${moment(input.madeAt)}`;
  return new Paper({
    ...paperInput(input, `${what}: ${title}`, { laboratory: title, banner: '', made }),
    running: { left: title, right: what },
    banner: bannerOf(input),
  });
};

/** A heading over as many lines as it needs, with a line below. */
export const heading = (paper: Paper, text: string): void => {
  const top = paper.y + 2;
  const lines = linesOf(paper.document, text, MEASURE, STYLES.title);
  paper.draw('H1', () =>
    lines.forEach((line, down) => paper.set(line, PAGE.left, top + down * STYLES.title.leading, STYLES.title)),
  );
  const bottom = top + lines.length * STYLES.title.leading + 4;
  paper.decorate(() => paper.rule(bottom, INK.water, 1.4));
  paper.y = bottom + 7;
};

/** The title, the question, and where it comes from. */
export const opening = (paper: Paper, input: ClassPaperInput, lead: string): void => {
  heading(paper, titleOf(input));
  paper.paragraph(input.data.question, STYLES.lead, 4);
  const laboratory = input.laboratoryName ?? NO_LABORATORY;
  paper.paragraph(`${laboratory}. ${lead}`, STYLES.quiet, 6);
};

/** What to mind at the bench, with the words of whoever teaches last. */
export const cautions = (paper: Paper, { plan }: ClassPaperInput, style: Style): void => {
  const own = plan.cautionNote === null || plan.cautionNote === '' ? [] : [plan.cautionNote];
  paper.paragraph([...CAUTIONS, ...own].join(' '), style);
};
