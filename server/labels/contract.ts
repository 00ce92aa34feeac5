/** Labels for vessels: what is chosen and how the sheet in the printer is cut. */
import { z } from 'zod';
import { VERDICTS } from '../metrology/result.ts';
import { id } from '../wire.ts';

export const LABEL_CODES = ['qr', 'data-matrix'] as const;
export type LabelCode = (typeof LABEL_CODES)[number];
export const MOST_LABELS = 500;
/** Below these the longest word of a verdict at 7 points and a code that a camera reads do not fit side by side. */
export const SMALLEST_LABEL = { widthMm: 38, heightMm: 10 } as const;

const mm = (what: string, least: number, most: number) =>
  z.coerce
    .number({ error: `${what} is a number of millimetres.` })
    .min(least, `${what} is at least ${least} mm.`)
    .max(most, `${what} is at most ${most} mm.`);
const count = (what: string, most: number) =>
  z.coerce
    .number({ error: `${what} is a whole number.` })
    .int(`${what} is a whole number.`)
    .min(1, `${what} is at least 1.`)
    .max(most, `${what} is at most ${most}.`);

/** Ids with commas, in the order in which the labels are wanted. */
const ids = z
  .string()
  .transform((text) => text.split(',').filter((part) => part !== ''))
  .pipe(z.array(id).min(1, 'Choose at least one vessel.').max(MOST_LABELS, `At most ${MOST_LABELS} vessels at once.`));

const LONGEST_MM = 300;

/** Either `vessels` or `lot`: what any paper for several vessels is asked for with. */
export const vesselChoice = { vessels: ids.optional(), lot: id.optional() };
export type VesselChoice = { vessels?: string[] | undefined; lot?: string | undefined };
export const choosesOne = ({ vessels, lot }: VesselChoice): boolean => (vessels === undefined) !== (lot === undefined);
export const CHOOSE_ONE = { path: ['vessels'], error: 'Name the vessels, or a lot.' };

export const labelChoice = z.strictObject(vesselChoice).refine(choosesOne, CHOOSE_ONE);

/** What a label says. */
export const labelFacts = z.object({
  id,
  tag: z.string(),
  inUse: z.boolean(),
  /** Of the last completed calibration; null where none may be printed. */
  verdict: z.enum(VERDICTS).nullable(),
  performedOn: z.string().nullable(),
  dueOn: z.string().nullable(),
});
export type LabelFacts = z.infer<typeof labelFacts>;
export const labelList = z.object({ items: z.array(labelFacts) });

export const labelQuery = z
  .strictObject({
    ...vesselChoice,
    code: z.enum(LABEL_CODES, { error: 'Choose a code: qr or data-matrix.' }).default('qr'),
    paper: z.enum(['a4', 'letter'], { error: 'Choose a paper: a4 or letter.' }).default('a4'),
    columns: count('The number of columns', 20),
    rows: count('The number of rows', 60),
    labelWidthMm: mm('The width of a label', SMALLEST_LABEL.widthMm, LONGEST_MM),
    labelHeightMm: mm('The height of a label', SMALLEST_LABEL.heightMm, LONGEST_MM),
    marginLeftMm: mm('The left margin', 0, LONGEST_MM),
    marginTopMm: mm('The top margin', 0, LONGEST_MM),
    gapAcrossMm: mm('The gap across', 0, LONGEST_MM).default(0),
    gapDownMm: mm('The gap down', 0, LONGEST_MM).default(0),
    offsetRightMm: mm('The offset to the right', -20, 20).default(0),
    offsetDownMm: mm('The offset downwards', -20, 20).default(0),
    firstLabel: count('The first free label', 1200).default(1),
    /** Thin lines round each label, to see on plain paper how the sheet would come out. */
    outlines: z.enum(['true', 'false'], { error: 'Say true or false.' }).default('false'),
  })
  .refine(choosesOne, CHOOSE_ONE);
export type LabelQuery = z.infer<typeof labelQuery>;
