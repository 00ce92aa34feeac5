/** A class experiment as it is planned, run and closed. Quantities are text, as everywhere. */
import { z } from 'zod';
import { toleranceBody, toleranceOnWire } from '../glassware/contract.ts';
import { BASES, MATERIALS, VESSEL_KINDS } from '../metrology/record.ts';
import {
  confirmNames,
  id,
  note,
  notNegative,
  optionalText,
  page,
  positive,
  quantity,
  requiredText,
  within,
} from '../wire.ts';

export const TEMPLATES = [
  'four-ways',
  'one-flask-many-hands',
  'meniscus',
  'drops',
  'cool-and-warm',
  'hands-and-vessels',
  'own',
] as const;
export type TemplateName = (typeof TEMPLATES)[number];
/** `crossed`: every group measures every row, and the rows are vessels of one kind; else each row stands by itself. */
export const DESIGNS = ['by-row', 'crossed'] as const;
export const EXPERIMENT_STATES = ['planned', 'open', 'closed'] as const;
export type ExperimentState = (typeof EXPERIMENT_STATES)[number];

export const MOST_ROWS = 12;
export const MOST_TRIALS_PER_GROUP = 30;

const wholeNumber = (what: string, least: number, most: number) =>
  z
    .number({ error: `${what} is a whole number.` })
    .int(`${what} is a whole number.`)
    .min(least, `${what} is at least ${least}.`)
    .max(most, `${what} is at most ${most}.`);

export const rowKey = z
  .string({ error: 'The key of a row must be text.' })
  .regex(/^[a-z0-9](?:[a-z0-9-]{0,30}[a-z0-9])?$/, 'The key of a row is small letters, digits and dashes.');

const waterTemperatureC = within('The water temperature', 0, 40, '°C');

/** A row of the experiment: one kind of ware, or one vessel, that groups fill and weigh. */
export const wareRow = z.strictObject({
  key: rowKey,
  label: requiredText('The name of the row', 60),
  kind: z.enum(VESSEL_KINDS, { error: 'Choose a kind of glassware from the list.' }),
  nominalVolumeMl: positive('The nominal volume'),
  /** `contain`: weigh the full vessel; `deliver`: pour out and weigh. */
  basis: z.enum(BASES, { error: 'Choose: weigh the full vessel (contain), or pour out and weigh (deliver).' }),
  material: z.enum(MATERIALS, { error: 'Choose a material from the list.' }).default('glass'),
  expansionPerK: notNegative('The expansion coefficient').optional(),
  referenceTemperatureC: quantity('The reference temperature')
    .refine((text) => Number(text) === 20 || Number(text) === 27, 'The reference temperature is 20 °C or 27 °C.')
    .default('20'),
  /** Left out: nothing is marked and no class is named. */
  tolerance: toleranceBody.optional(),
  divisionMl: positive('The division').optional(),
  neckDiameterMm: positive('The neck diameter').optional(),
  /** Vessels of the register; left out: whatever is on the bench. */
  vesselIds: z.array(id).min(1).max(40).optional(),
  trialsPerGroup: wholeNumber('The number of trials for each group', 1, MOST_TRIALS_PER_GROUP),
  /** Drops counted into one trial; left out where nothing is counted. */
  drops: wholeNumber('The number of drops', 1, 1000).optional(),
  /** Assumed for trials of this row that name none; left out: that of the experiment. */
  waterTemperatureC: waterTemperatureC.optional(),
});
export type WareRow = z.infer<typeof wareRow>;

const rows = z
  .array(wareRow)
  .min(1, 'Name at least one row to measure.')
  .max(MOST_ROWS, `An experiment has at most ${MOST_ROWS} rows.`)
  .superRefine((list, context) => {
    for (const [index, { key }] of list.entries())
      if (list.findIndex((other) => other.key === key) < index)
        context.addIssue({ code: 'custom', path: [index, 'key'], message: `Another row has the key ${key}.` });
  });

/** A balance of the room; from the register, or with its last digit typed. */
export const classBalance = z.strictObject({
  label: requiredText('The name of the balance', 40),
  resolutionG: positive('The resolution').optional(),
  instrumentId: id.optional(),
});

/** One air and one water for all, typed by whoever teaches; what is left out is assumed and said. */
export const classConditions = z.strictObject({
  airTemperatureC: within('The air temperature', 5, 40, '°C').optional(),
  airPressureHpa: within('The air pressure at the balance', 600, 1100, 'hPa', 'Was it read in kPa or mmHg?').optional(),
  relativeHumidityPercent: within('The relative humidity', 0, 100, '%').optional(),
  /** Assumed for every trial that names none. */
  waterTemperatureC: waterTemperatureC.optional(),
});

const planShape = {
  title: optionalText('The title', 120),
  question: requiredText('The question', 400),
  design: z.enum(DESIGNS, { error: 'The design is by-row or crossed.' }),
  rows,
  balances: z.array(classBalance).min(1, 'Name at least one balance.').max(20),
  expectedGroups: wholeNumber('The number of groups', 1, 60),
  lessonMinutes: wholeNumber('The length of the lesson in minutes', 10, 480),
  /** What is asked before the first weighing of a row. */
  asks: z.strictObject({ prediction: z.boolean(), within: z.boolean(), sureness: z.boolean() }),
  conditions: classConditions,
  /** Own words beside the cautions of the program: local rules, where the bin for broken glass is. */
  cautionNote: note.nullable(),
};
export const experimentPlan = z.strictObject(planShape);
/** As it is kept: a balance of the register in the revision it had when the plan was kept. */
export const keptPlan = experimentPlan.extend({
  balances: z.array(classBalance.extend({ instrumentVersion: z.number().int().optional() })),
});
export type ExperimentPlan = z.infer<typeof keptPlan>;

const confirmation = { confirm: confirmNames.optional(), note: note.optional() };
const changed = {
  title: planShape.title.optional(),
  question: planShape.question.optional(),
  design: planShape.design.optional(),
  rows: planShape.rows.optional(),
  balances: planShape.balances.optional(),
  expectedGroups: planShape.expectedGroups.optional(),
  lessonMinutes: planShape.lessonMinutes.optional(),
  asks: planShape.asks.optional(),
  conditions: planShape.conditions.optional(),
  cautionNote: planShape.cautionNote.optional(),
};
/** What is left out comes from the template. */
export const experimentBody = z.strictObject({
  template: z.enum(TEMPLATES, { error: 'Choose a template from the list, or own.' }),
  ...changed,
  ...confirmation,
});
export const experimentChange = z.strictObject({
  ...changed,
  namesHidden: z.boolean({ error: 'Say true or false.' }).optional(),
  predictionsShown: z.boolean({ error: 'Say true or false.' }).optional(),
  ...confirmation,
});
export type ExperimentChange = z.infer<typeof experimentChange>;
export const foresightBody = z.strictObject({
  rows,
  balances: planShape.balances,
  expectedGroups: planShape.expectedGroups,
  lessonMinutes: planShape.lessonMinutes,
});

/** What the plan takes in time, and whether the balances are fine enough. */
export const foresight = z.object({
  weighings: z.number().int(),
  /** weighings × 30 s ÷ balances. */
  minutes: z.number(),
  fits: z.boolean(),
  /** Fewer trials that fit the lesson; null where the plan fits. */
  proposal: z
    .object({
      trialsPerGroup: z.array(z.object({ key: z.string(), trials: z.number().int() })),
      minutes: z.number(),
      /** False: even one trial of each row is too long; then only more balances or fewer groups help. */
      fits: z.boolean(),
    })
    .nullable(),
  /** Balances with which the plan as it stands would fit. */
  balancesNeeded: z.number().int(),
  tooCoarse: z.array(
    z.object({ row: z.string(), balance: z.string(), expandedUncertaintyMl: z.number(), toleranceMl: z.number() }),
  ),
});
export type Foresight = z.infer<typeof foresight>;

/** How a kind of ware is read: one ring mark, a scale with one digit estimated, a printed mark, or nothing to read. */
const readingRule = z.object({
  mark: z.enum(['ring', 'scale', 'broad', 'none']),
  divisionMl: z.number().nullable(),
  /** A tenth of the division: all certain digits and one estimated. */
  estimatedToMl: z.number().nullable(),
});
export type ReadingRule = z.infer<typeof readingRule>;

const optional = z.string().optional();
const rowShape = {
  key: z.string(),
  label: z.string(),
  kind: z.enum(VESSEL_KINDS),
  nominalVolumeMl: z.string(),
  basis: z.enum(BASES),
  material: z.enum(MATERIALS),
  expansionPerK: optional,
  referenceTemperatureC: z.string(),
  tolerance: toleranceOnWire.optional(),
  divisionMl: optional,
  neckDiameterMm: optional,
  vesselIds: z.array(id).optional(),
  trialsPerGroup: z.number().int(),
  drops: z.number().int().optional(),
  waterTemperatureC: optional,
};
export const wareRowOnWire = z.object({
  ...rowShape,
  /** Vessels of the register that the row names, with their tags; none for whatever is on the bench. */
  vessels: z.array(z.object({ id, tag: z.string() })),
  /** Limit of the vessel in mL; null where nothing is marked and no class is named. */
  toleranceMl: z.number().nullable(),
  /** `marked on the vessel`, `ISO 1042:1998 class A`; null for none. */
  toleranceSource: z.string().nullable(),
  readingRule,
});
export type WareRowOnWire = z.infer<typeof wareRowOnWire>;

export const classCounts = z.object({
  groups: z.number().int(),
  predictions: z.number().int(),
  trials: z.number().int(),
});
export type ClassCounts = z.infer<typeof classCounts>;

const balanceOnWire = z.object({ label: z.string(), resolutionG: optional, instrumentId: id.optional() });
const planOnWire = {
  design: z.enum(DESIGNS),
  balances: z.array(balanceOnWire),
  expectedGroups: z.number().int(),
  lessonMinutes: z.number().int(),
  asks: planShape.asks,
  conditions: classConditions,
  cautionNote: z.string().nullable(),
};

const experimentHead = {
  id,
  version: z.number().int(),
  change: z.number().int(),
  state: z.enum(EXPERIMENT_STATES),
  /** A rehearsal: every reading was made up by the program. */
  madeUp: z.boolean(),
  template: z.enum(TEMPLATES),
  title: z.string(),
  question: z.string(),
  openedAt: z.string().nullable(),
  /** When codes and the phones of groups end. */
  endsAt: z.string().nullable(),
  closedAt: z.string().nullable(),
  namesRemovedAt: z.string().nullable(),
  recordedAt: z.string(),
  recordedBy: z.string(),
  counts: classCounts,
};
export const experimentItem = z.object(experimentHead);
export type ExperimentItem = z.infer<typeof experimentItem>;
export const experimentPage = page(experimentItem);
export const experimentQuery = z.strictObject({
  state: z.enum(EXPERIMENT_STATES).optional(),
  template: z.enum(TEMPLATES).optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

export const experiment = z.object({
  ...experimentHead,
  ...planOnWire,
  rows: z.array(wareRowOnWire),
  namesHidden: z.boolean(),
  predictionsShown: z.boolean(),
  joiningOpen: z.boolean(),
  foresight,
  /** The hash in the journal at closing, and whether the data still have it; null before. */
  closing: z.object({ hash: z.string(), holds: z.boolean() }).nullable(),
});
export type Experiment = z.infer<typeof experiment>;

export const experimentMade = z.object({ id, version: z.number().int() });
const template = z.object({
  template: z.enum(TEMPLATES),
  title: z.string(),
  question: z.string(),
  ...planOnWire,
  rows: z.array(z.object(rowShape)),
});
export const templateList = z.object({ items: z.array(template) });

export const experimentParams = z.object({ id });
