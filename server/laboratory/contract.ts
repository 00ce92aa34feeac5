import { z } from 'zod';
import { optionalText, within } from '../wire.ts';

/** Settings of the laboratory. `null` empties a setting. */
export const laboratoryBody = z.strictObject({
  name: optionalText('The name of the laboratory', 120).nullable().optional(),
  address: optionalText('The address', 300).nullable().optional(),
  altitudeM: within('The altitude', -430, 5000, 'm').nullable().optional(),
});
export type LaboratoryBody = z.infer<typeof laboratoryBody>;

export const laboratory = z.object({
  version: z.number().int(),
  name: z.string().nullable(),
  address: z.string().nullable(),
  altitudeM: z.string().nullable(),
  /** Standard atmosphere at that altitude, null without one. */
  standardPressureHpa: z.number().nullable(),
  /** True for ever once demonstration data were loaded. */
  demonstration: z.boolean(),
});
export type Laboratory = z.infer<typeof laboratory>;
