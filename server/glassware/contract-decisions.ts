/** What becomes of a vessel that does not pass. */
import { z } from 'zod';
import { id, reason, requiredText } from '../wire.ts';

export const DECISIONS = ['downgrade', 'retire', 'send-back', 'keep'] as const;
export type Decision = (typeof DECISIONS)[number];

/** What is decided, of one vessel or of many alike. */
export const vesselDecisionFacts = {
  decision: z.enum(DECISIONS, { error: 'Choose: downgrade, retire, send back or keep.' }),
  /** To which class of its standard; for a downgrade. */
  class: requiredText('The class', 20).optional(),
  reason,
};

export const namesClassOfDowngrade = <Body extends z.ZodType<{ decision: Decision; class?: string | undefined }>>(
  body: Body,
) =>
  body.refine((sent) => (sent.decision === 'downgrade') === (sent.class !== undefined), {
    path: ['class'],
    error: 'Name the class of a downgrade, and of nothing else.',
  });

export const decisionBody = namesClassOfDowngrade(
  z.strictObject({
    ...vesselDecisionFacts,
    /** The calibration that it rests on. */
    calibrationId: id,
  }),
);
export type DecisionBody = z.infer<typeof decisionBody>;

export const decisionSaved = z.object({ number: z.number().int(), version: z.number().int(), inUse: z.boolean() });

export const vesselDecision = z.object({
  number: z.number().int(),
  calibrationId: id,
  decision: z.enum(DECISIONS),
  /** The class before and after a downgrade. */
  fromClass: z.string().nullable(),
  toClass: z.string().nullable(),
  reason: z.string(),
  at: z.string(),
  by: z.string(),
});
export type VesselDecision = z.infer<typeof vesselDecision>;
