/** What becomes of a delivery, and of those of its vessels that do not pass. */
import { z } from 'zod';
import { DECISIONS, namesClassOfDowngrade, vesselDecisionFacts } from '../glassware/contract-decisions.ts';
import { id, reason } from '../wire.ts';

export const LOT_DECISIONS = ['accept', 'reject', 'screen'] as const;
export type LotDecision = (typeof LOT_DECISIONS)[number];

const LARGEST = 100_000;
const whole = (what: string, least: number) =>
  z
    .number({ error: `${what} is a whole number.` })
    .int(`${what} is a whole number.`)
    .min(least, `${what} is at least ${least}.`)
    .max(LARGEST, `${what} is at most ${LARGEST}.`);

/** A sample of the delivery, drawn at random, and the two deliveries whose risks were looked at. */
const plan = z
  .strictObject({
    sampleSize: whole('The number of vessels tested', 1),
    acceptAtMost: whole('The number that may fail', 0),
    good: whole('What a good delivery may hold', 0),
    limiting: whole('What a bad delivery holds', 1),
  })
  .refine(({ good, limiting }) => limiting > good, {
    path: ['limiting'],
    error: 'A bad delivery holds more that fail than a good one.',
  });
export type SamplePlan = z.infer<typeof plan>;

export const lotDecisionBody = z.strictObject({
  decision: z.enum(LOT_DECISIONS, { error: 'Choose: accept, send back, or test every vessel.' }),
  /** Left out where no sample was drawn. */
  plan: plan.optional(),
  reason,
});
export type LotDecisionBody = z.infer<typeof lotDecisionBody>;

/** How the delivery stood that day; counted by the server. */
const counts = z.object({
  vessels: z.number().int(),
  tested: z.number().int(),
  /** Of those tested, whatever was decided about them. */
  notPassing: z.number().int(),
  outOfUse: z.number().int(),
});
export type LotCounts = z.infer<typeof counts>;

export const lotDecisionSaved = z.object({
  number: z.number().int(),
  /** Vessels that left use, where the delivery goes back. */
  outOfUse: z.array(id),
});

export const lotDecision = z.object({
  number: z.number().int(),
  decision: z.enum(LOT_DECISIONS),
  plan: plan.nullable(),
  counts,
  reason: z.string(),
  at: z.string(),
  by: z.string(),
});
export type LotDecisionOnWire = z.infer<typeof lotDecision>;

/** One decision for many vessels; each has its own row and its own entry. */
export const vesselDecisionsBody = namesClassOfDowngrade(
  z.strictObject({
    ...vesselDecisionFacts,
    /** Left out: every vessel of the lot that does not pass and is not decided about. */
    vesselIds: z.array(id).min(1, 'Name at least one vessel.').max(500, 'A lot has at most 500 vessels.').optional(),
  }),
);
export type VesselDecisionsBody = z.infer<typeof vesselDecisionsBody>;

export const vesselDecisionsSaved = z.object({
  decision: z.enum(DECISIONS),
  vessels: z.array(z.object({ id, tag: z.string(), number: z.number().int(), inUse: z.boolean() })),
});
