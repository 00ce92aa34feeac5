import { z } from 'zod';
import { VESSEL_KINDS } from '../metrology/record.ts';
import { positive, requiredText } from '../wire.ts';

/** Which row of the tolerance table; a null size fits any. */
const key = {
  standard: requiredText('The standard', 60),
  edition: requiredText('The edition', 60),
  kind: z.enum(VESSEL_KINDS, { error: 'Choose a kind of glassware from the list.' }),
  class: requiredText('The class', 20),
  nominalVolumeMl: positive('The nominal volume').nullable().default(null),
  divisionMl: positive('The division').nullable().default(null),
};

/** A keeper saw the value in the standard itself. */
export const confirmationBody = z.strictObject({
  ...key,
  whereSeen: requiredText('Where it was seen', 200),
});
export type ConfirmationBody = z.infer<typeof confirmationBody>;

export const confirmation = z.object({
  standard: z.string(),
  edition: z.string(),
  kind: z.string(),
  class: z.string(),
  nominalVolumeMl: z.number().nullable(),
  divisionMl: z.number().nullable(),
  /** The limit that was confirmed, as `0.1 mL` or `5 %`. */
  limit: z.string(),
  whereSeen: z.string(),
  at: z.string(),
  by: z.string(),
});
export type Confirmation = z.infer<typeof confirmation>;
export const confirmationList = z.object({ items: z.array(confirmation) });
