/** Blank sheets to write on at the balance: for which vessels, and how they are set. */
import { z } from 'zod';
import { CHOOSE_ONE, choosesOne, vesselChoice } from '../labels/contract.ts';

export const SHEET_FORMS = ['vessel', 'compact'] as const;
export type SheetForm = (typeof SHEET_FORMS)[number];
export const MOST_TRIALS = 30;
/** Rows to write in, of all vessels together. */
export const MOST_ROWS = 6000;

const TRIALS = `The number of trials is a whole number from 1 to ${MOST_TRIALS}.`;

export const recordingSheetQuery = z
  .strictObject({
    ...vesselChoice,
    /** vessel: a page for each · compact: one table for all. */
    form: z.enum(SHEET_FORMS, { error: 'Choose a form: vessel or compact.' }).default('vessel'),
    paper: z.enum(['a4', 'letter'], { error: 'Choose a paper: a4 or letter.' }).default('a4'),
    /** At each point; left out, as many as the laboratory plans. */
    trials: z.coerce.number({ error: TRIALS }).int(TRIALS).min(1, TRIALS).max(MOST_TRIALS, TRIALS).optional(),
  })
  .refine(choosesOne, CHOOSE_ONE);
export type RecordingSheetQuery = z.infer<typeof recordingSheetQuery>;
