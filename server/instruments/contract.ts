import { z } from 'zod';
import {
  confirmNames,
  id,
  isoDate,
  note,
  notNegative,
  optionalText,
  page,
  positive,
  quantity,
  reason,
  requiredText,
} from '../wire.ts';

export const INSTRUMENT_KINDS = ['balance', 'thermometer', 'barometer', 'hygrometer'] as const;
export type InstrumentKind = (typeof INSTRUMENT_KINDS)[number];

const corrections = z
  .array(z.strictObject({ at: quantity('The reading of a correction'), correction: quantity('The correction') }))
  .max(200)
  .superRefine((points, context) => {
    for (const [index, { at }] of points.entries())
      if (points.slice(0, index).some((earlier) => Number(earlier.at) === Number(at)))
        context.addIssue({ code: 'custom', path: [index, 'at'], message: `There is another correction at ${at}.` });
  })
  .optional();
const degreesOfFreedom = z.number().int().min(1).max(1_000_000).optional();
const coverageFactor = positive('The coverage factor').optional();

/** What a certificate or data sheet says of a balance. Everything optional: a gap takes the laboratory default. */
export const balanceFacts = z.strictObject({
  resolutionG: positive('The resolution').optional(),
  repeatabilityG: notNegative('The repeatability').optional(),
  linearityG: notNegative('The linearity').optional(),
  capacityG: positive('The capacity').optional(),
  driftRelative: notNegative('The drift').optional(),
  expandedUncertaintyG: notNegative('The expanded uncertainty').optional(),
  expandedUncertaintyRelative: notNegative('The relative expanded uncertainty').optional(),
  coverageFactor,
  certificateCovers: z
    .array(z.enum(['resolution', 'linearity', 'repeatability']))
    .max(3)
    .optional(),
  corrections,
  degreesOfFreedom,
});
export const thermometerFacts = z.strictObject({
  resolutionC: positive('The resolution').optional(),
  expandedUncertaintyC: notNegative('The expanded uncertainty').optional(),
  coverageFactor,
  gradientC: notNegative('The gradient').optional(),
  corrections,
  degreesOfFreedom,
});
export const barometerFacts = z.strictObject({
  expandedUncertaintyHpa: notNegative('The expanded uncertainty').optional(),
  coverageFactor,
  corrections,
  degreesOfFreedom,
});
export const hygrometerFacts = z.strictObject({
  expandedUncertaintyPercent: notNegative('The expanded uncertainty').optional(),
  coverageFactor,
  corrections,
  degreesOfFreedom,
});

/** Instruments given with an evaluation instead of from the register. */
export const inlineInstruments = z.strictObject({
  balance: balanceFacts.optional(),
  thermometer: thermometerFacts.optional(),
  barometer: barometerFacts.optional(),
  hygrometer: hygrometerFacts.optional(),
  airThermometer: thermometerFacts.optional(),
});

const asStored = <Shape extends z.ZodRawShape>(facts: z.ZodObject<Shape>) =>
  z.object({ ...facts.shape, dueOn: z.string().nullish() });

/** Instruments of a calibration as stored, with the due date of their certificate. */
export const instrumentsOnWire = z.object({
  balance: asStored(balanceFacts).optional(),
  thermometer: asStored(thermometerFacts).optional(),
  barometer: asStored(barometerFacts).optional(),
  hygrometer: asStored(hygrometerFacts).optional(),
  airThermometer: asStored(thermometerFacts).optional(),
});

const register = {
  tag: requiredText('The tag', 40),
  maker: optionalText('The maker', 80).optional(),
  model: optionalText('The model', 80).optional(),
  serial: optionalText('The serial number', 80).optional(),
  location: optionalText('The place', 80).optional(),
  certificateNumber: optionalText('The certificate number', 80).optional(),
  certificateOn: isoDate('The date of the certificate').optional(),
  dueOn: isoDate('The due date').optional(),
  note: note.optional(),
};

export const instrumentBody = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({ kind: z.literal('balance'), ...register, ...balanceFacts.shape }),
    z.strictObject({ kind: z.literal('thermometer'), ...register, ...thermometerFacts.shape }),
    z.strictObject({ kind: z.literal('barometer'), ...register, ...barometerFacts.shape }),
    z.strictObject({ kind: z.literal('hygrometer'), ...register, ...hygrometerFacts.shape }),
  ],
  { error: 'Choose balance, thermometer, barometer or hygrometer.' },
);
export type InstrumentBody = z.infer<typeof instrumentBody>;

/** The whole instrument again as it stands after the change, with the reason; a new certificate comes this way too. */
export const instrumentChange = z.strictObject({
  instrument: instrumentBody,
  inUse: z.boolean().default(true),
  reason,
  confirm: confirmNames.optional(),
});

const storedCorrections = z.array(z.object({ at: z.string(), correction: z.string() })).optional();
export const instrument = z.object({
  id,
  version: z.number().int(),
  kind: z.enum(INSTRUMENT_KINDS),
  tag: z.string(),
  maker: z.string().optional(),
  model: z.string().optional(),
  serial: z.string().optional(),
  location: z.string().optional(),
  certificateNumber: z.string().optional(),
  certificateOn: z.string().optional(),
  dueOn: z.string().optional(),
  note: z.string().optional(),
  resolutionG: z.string().optional(),
  repeatabilityG: z.string().optional(),
  linearityG: z.string().optional(),
  capacityG: z.string().optional(),
  driftRelative: z.string().optional(),
  expandedUncertaintyG: z.string().optional(),
  expandedUncertaintyRelative: z.string().optional(),
  certificateCovers: z.array(z.enum(['resolution', 'linearity', 'repeatability'])).optional(),
  resolutionC: z.string().optional(),
  expandedUncertaintyC: z.string().optional(),
  gradientC: z.string().optional(),
  expandedUncertaintyHpa: z.string().optional(),
  expandedUncertaintyPercent: z.string().optional(),
  coverageFactor: z.string().optional(),
  degreesOfFreedom: z.number().int().optional(),
  corrections: storedCorrections,
  inUse: z.boolean(),
  /** True once the due date is past. */
  overdue: z.boolean(),
  recordedAt: z.string(),
  recordedBy: z.string(),
});
export type Instrument = z.infer<typeof instrument>;
export const instrumentPage = page(instrument);

/** A check between certificates: a known value and what the instrument showed; for a balance, a check weight in g. */
export const instrumentCheckBody = z.strictObject({
  referenceValue: quantity('The known value'),
  reading: quantity('The reading'),
  performedOn: isoDate('The day of the check').optional(),
  note: note.optional(),
});

export const instrumentCheck = z.object({
  number: z.number().int(),
  performedOn: z.string(),
  referenceValue: z.string(),
  reading: z.string(),
  unit: z.string(),
  /** Reading minus known value, exact. */
  difference: z.string(),
  note: z.string().nullable(),
  at: z.string(),
  by: z.string(),
});
export type InstrumentCheck = z.infer<typeof instrumentCheck>;

export const instrumentWithHistory = instrument.extend({
  /** Checks between certificates, newest first; the last hundred. */
  checks: z.array(instrumentCheck),
  revisions: z.array(
    z.object({
      version: z.number().int(),
      at: z.string(),
      by: z.string(),
      reason: z.string().nullable(),
      certificateNumber: z.string().nullable(),
    }),
  ),
});
export type InstrumentWithHistory = z.infer<typeof instrumentWithHistory>;
