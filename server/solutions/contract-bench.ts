/** What a blank sheet for the bench is asked with: a solution that is planned, before anything is weighed. */
import { z } from 'zod';
import { dilutionBody, solidBody, standardisationPlan } from './contract-body.ts';
import { seriesBody } from './contract-choice.ts';

export const benchSheetBody = z.strictObject({
  plan: z.discriminatedUnion(
    'way',
    [solidBody, dilutionBody, standardisationPlan, seriesBody.extend({ way: z.literal('series') })],
    { error: 'Choose a way: solid, dilution, series or standardisation.' },
  ),
  paper: z.enum(['a4', 'letter'], { error: 'Choose a paper: a4 or letter.' }).default('a4'),
});
export type BenchSheetBody = z.infer<typeof benchSheetBody>;
export type StandardisationPlan = z.infer<typeof standardisationPlan>;
