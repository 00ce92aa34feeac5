import { z } from 'zod';
import { COVERAGE_PROBABILITIES, DECISION_RULES } from '../metrology/record.ts';
import { countryCode, months, optionalText, requiredText, within } from '../wire.ts';

/** What a calibration takes where it does not say; it stores what it took. */
export const defaultsBody = z.strictObject({
  decisionRule: z.enum(DECISION_RULES, { error: 'The decision rule is guarded or simple.' }).optional(),
  coverageProbability: z
    .enum(COVERAGE_PROBABILITIES, { error: 'The coverage probability is 0.95, 0.9545 or 0.99, as text.' })
    .optional(),
  plannedTrials: z
    .number({ error: 'The planned number of trials is a whole number.' })
    .int('The planned number of trials is a whole number.')
    .min(1, 'Plan at least one trial for each point.')
    .max(1000, 'Plan at most 1000 trials for each point.')
    .optional(),
  repeatability: z.enum(['own', 'pooled'], { error: 'The repeatability is own or pooled.' }).optional(),
  overdueBlocks: z.boolean({ error: 'Say true or false.' }).optional(),
});

const defaults = z.object({
  decisionRule: z.enum(DECISION_RULES),
  coverageProbability: z.enum(COVERAGE_PROBABILITIES),
  plannedTrials: z.number().int(),
  repeatability: z.enum(['own', 'pooled']),
  /** True: no calibration begins with an instrument whose certificate ran out. False: it is a finding. */
  overdueBlocks: z.boolean(),
});
export type Defaults = z.infer<typeof defaults>;

const hostName = z
  .string({ error: 'A name of the server must be text.' })
  .trim()
  .toLowerCase()
  .max(253, 'A name of the server is longer than 253 characters.')
  .regex(
    /^(?:[a-z0-9](?:[a-z0-9-]*[a-z0-9])?)(?:\.[a-z0-9](?:[a-z0-9-]*[a-z0-9])?)*$/,
    'A name of the server is letters, digits, dashes and points, without port: balance-room.school.example.',
  );

const wholeNumber = (what: string, most: number) =>
  z
    .number({ error: `${what} is a whole number.` })
    .int(`${what} is a whole number.`)
    .min(1, `${what} is at least 1.`)
    .max(most, `${what} is at most ${most}.`);

/** Backups made by themselves. */
const backupsBody = z.strictObject({
  /** Whole path of a folder on the server; null is the folder `backups` beside the logbook. */
  folder: requiredText('The folder', 500)
    .refine(
      (text) => /^(?:\/|[A-Za-z]:[\\/]|\\\\)/.test(text),
      'Give the whole path of the folder, from the root of the disk on.',
    )
    .nullable(),
  everyHours: wholeNumber('The number of hours', 720),
  kept: wholeNumber('The number of backups to keep', 1000),
});

/** Settings of the laboratory. `null` empties a setting. */
export const laboratoryBody = z.strictObject({
  name: optionalText('The name of the laboratory', 120).nullable().optional(),
  address: optionalText('The address', 300).nullable().optional(),
  countryCode: countryCode.nullable().optional(),
  altitudeM: within('The altitude', -430, 5000, 'm').nullable().optional(),
  /** True: whoever recorded a trial cannot check it. */
  secondPersonChecks: z.boolean({ error: 'Say true or false.' }).optional(),
  defaults: defaultsBody.optional(),
  /** Null: no vessel is due by itself. */
  intervalMonths: months('The interval').nullable().optional(),
  hostNames: z.array(hostName, { error: 'The names are a list.' }).max(20, 'Enter at most 20 names.').optional(),
  /** Null: only when somebody asks for one. */
  backups: backupsBody.nullable().optional(),
});
export type LaboratoryBody = z.infer<typeof laboratoryBody>;

export const laboratory = z.object({
  version: z.number().int(),
  name: z.string().nullable(),
  address: z.string().nullable(),
  /** ISO 3166-1 alpha-2. */
  countryCode: z.string().nullable(),
  altitudeM: z.string().nullable(),
  secondPersonChecks: z.boolean(),
  defaults,
  /** Standard atmosphere at that altitude, null without one. */
  standardPressureHpa: z.number().nullable(),
  /** True for ever once demonstration data were loaded. */
  demonstration: z.boolean(),
  /** Further names by which browsers may ask for this server. */
  hostNames: z.array(z.string()),
  /** Months from one calibration to the next, where the vessel says nothing else. */
  intervalMonths: z.number().int().nullable(),
  backups: z.object({ folder: z.string().nullable(), everyHours: z.number().int(), kept: z.number().int() }).nullable(),
  /** What the last check of the journal found wrong; null where it was whole. */
  journalFault: z.object({ number: z.number().int().nullable(), fault: z.string() }).nullable(),
});
export type Laboratory = z.infer<typeof laboratory>;
