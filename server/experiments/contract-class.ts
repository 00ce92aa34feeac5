/** What a class sends and sees: coming in, predictions, trials, the board, and all of it for whoever teaches. */
import { z } from 'zod';
import { BASES, EXCLUSION_CAUSES, VESSEL_KINDS } from '../metrology/record.ts';
import { confirmNames, id, optionalText, positive, quantity, within } from '../wire.ts';
import { DESIGNS, EXPERIMENT_STATES, MOST_TRIALS_PER_GROUP, TEMPLATES, wareRowOnWire } from './contract.ts';
import { classConditions, experimentPlan, rowKey } from './contract.ts';
import { GROUP_NAMES } from './contract-names.ts';

export const SURENESS = ['guess', 'fairly-sure', 'sure'] as const;
export const ENTERED = ['phone', 'staff', 'paper'] as const;
/** More than planned is allowed and counts; this is the end. */
export const MOST_TRIALS_IN_ROW = 2 * MOST_TRIALS_PER_GROUP;

const code = optionalText('The code', 40);

export const joinBody = z.strictObject({ code });
export const returnBody = z.strictObject({ code, word: optionalText('The word', 40) });
/** The word is shown this once; the teacher can give another one. */
export const joined = z.object({ experimentId: id, groupId: id, name: z.string(), word: z.string() });
export const returned = z.object({ experimentId: id, groupId: id, name: z.string().nullable() });
export const helping = z.object({ experimentId: id });
export const classSessionState = z.object({
  kind: z.enum(['group', 'assistant', 'board']).nullable(),
  experimentId: id.nullable(),
  groupId: id.nullable(),
  endsAt: z.string().nullable(),
  /** Whether the experiment that was asked about is still in the logbook; null where none was. */
  isThere: z.boolean().nullable(),
});
/** A device that is no longer of a class asks whether it may still keep what it has of it. */
export const classSessionQuery = z.strictObject({ experiment: id.optional() });

const minutes = z
  .number({ error: 'The minutes are a whole number.' })
  .int('The minutes are a whole number.')
  .min(5, 'Give at least 5 minutes.')
  .max(600, 'Give at most 600 minutes.');
/** Left out: the length of the lesson and a quarter of an hour. */
export const openingBody = z.strictObject({ minutes: minutes.optional() });
/**
 * `open`, `close`: whether new groups come in. `rotate`: the old codes end; groups that are in stay in. `extend`: all
 * ends so many minutes from now.
 */
export const joiningBody = z
  .strictObject({
    act: z.enum(['open', 'close', 'rotate', 'extend'], { error: 'Choose: open, close, rotate or extend.' }),
    minutes: minutes.optional(),
  })
  .refine(({ act, minutes: given }) => act !== 'extend' || given !== undefined, {
    path: ['minutes'],
    error: 'Say in how many minutes from now the lesson ends.',
  });
const invitationShape = {
  /** For groups; null where none is to be shown. */
  code: z.string().nullable(),
  /** Where phones go; with the code in it, as text and as a square code. */
  address: z.string(),
  svg: z.string().nullable(),
};
/** What a projector shows of how to come in; its code is null once joining is closed. */
export const invitation = z.object(invitationShape);
export type Invitation = z.infer<typeof invitation>;
export const joining = z.object({
  open: z.boolean(),
  endsAt: z.string().nullable(),
  ...invitationShape,
  /** For the projector, and for one assistant who enters for all; null before opening and after closing, as the other. */
  boardCode: z.string().nullable(),
  assistantCode: z.string().nullable(),
  words: z.array(z.object({ groupId: id, number: z.number().int(), word: z.string() })),
});
export type Joining = z.infer<typeof joining>;

export const groupsBody = z.strictObject({
  count: z
    .number({ error: 'The number of groups is a whole number.' })
    .int('The number of groups is a whole number.')
    .min(1, 'Make at least one group.')
    .max(GROUP_NAMES.length, `There are at most ${GROUP_NAMES.length} groups.`),
});
export const groupChange = z.strictObject({
  name: z.enum(GROUP_NAMES, { error: 'Choose a name from the list.' }).optional(),
  hidden: z.boolean({ error: 'Say true or false.' }).optional(),
});
export const classGroup = z.object({
  id,
  number: z.number().int(),
  /** From the program's own list; null once names were removed. */
  name: z.string().nullable(),
  hidden: z.boolean(),
  madeBy: z.enum(['phone', 'staff']),
});
export type ClassGroup = z.infer<typeof classGroup>;
export const groupsMade = z.object({ items: z.array(classGroup) });
export const newWord = z.object({ word: z.string() });

export const predictionBody = z.strictObject({
  row: rowKey,
  volumeMl: positive('The volume you expect'),
  /** Single fillings are expected to lie within so much of it. */
  withinMl: positive('The distance').optional(),
  sureness: z.enum(SURENESS, { error: 'Choose: a guess, fairly sure, or sure.' }).optional(),
});
export type PredictionBody = z.infer<typeof predictionBody>;
export const prediction = z.object({
  row: z.string(),
  volumeMl: z.string(),
  withinMl: z.string().nullable(),
  sureness: z.enum(SURENESS).nullable(),
});
export type Prediction = z.infer<typeof prediction>;

const words = optionalText('The reason', 200);

export const classTrialBody = z.strictObject({
  row: rowKey,
  emptyG: quantity('The empty reading'),
  filledG: quantity('The filled reading'),
  /** Left out: the one temperature of the experiment is assumed. */
  waterTemperatureC: within('The water temperature', 0, 40, '°C').optional(),
  /** One of the registered vessels of the row. */
  vesselId: id.optional(),
  /** Entered afterwards from a sheet; staff and assistant only. */
  fromPaper: z.boolean({ error: 'Say true or false.' }).optional(),
  confirm: confirmNames.optional(),
});
export type ClassTrialBody = z.infer<typeof classTrialBody>;
export const classCorrectionBody = z.strictObject({
  field: z.enum(['emptyG', 'filledG', 'waterTemperatureC'], { error: 'Name the field that was mistyped.' }),
  value: quantity('The corrected value'),
  reason: words.refine((text) => text.length >= 3, 'Say why, in a few words without names.'),
  confirm: confirmNames.optional(),
});
export const classExclusionBody = z
  .strictObject({
    cause: z.enum(EXCLUSION_CAUSES, {
      error: 'Name the cause: spill, drop left, wrong mark, door open, typing or other.',
    }),
    reason: words.optional(),
  })
  .refine(({ cause, reason }) => cause !== 'other' || (reason ?? '').length >= 3, {
    path: ['reason'],
    error: 'Say what happened, in a few words without names.',
  });

const volumes = {
  /** Mass ÷ 1 g/mL; with the density of the water; corrected in full, at the reference temperature. */
  simpleVolumeMl: z.number(),
  densityVolumeMl: z.number(),
  volumeMl: z.number(),
};
export const classTrial = z.object({
  row: z.string(),
  number: z.number().int(),
  emptyG: z.string(),
  filledG: z.string(),
  /** As typed; null where the one temperature of the experiment is assumed. */
  waterTemperatureC: z.string().nullable(),
  usedWaterTemperatureC: z.number(),
  vesselId: id.nullable(),
  massG: z.number(),
  /** What the certificate of the balance adds to filled − empty. */
  balanceCorrectionG: z.number(),
  ...volumes,
  entered: z.enum(ENTERED),
  findings: z.array(z.object({ code: z.string(), detail: z.string() })),
  corrections: z.array(
    z.object({
      field: z.string(),
      previousValue: z.string().nullable(),
      value: z.string(),
      reason: z.string().nullable(),
    }),
  ),
  excluded: z.object({ cause: z.enum(EXCLUSION_CAUSES), reason: z.string().nullable() }).nullable(),
  recordedAt: z.string(),
});
export type ClassTrial = z.infer<typeof classTrial>;

/** What the experiment asks of every group. */
const classTask = z.object({
  id,
  change: z.number().int(),
  state: z.enum(EXPERIMENT_STATES),
  madeUp: z.boolean(),
  title: z.string(),
  question: z.string(),
  endsAt: z.string().nullable(),
  asks: experimentPlan.shape.asks,
  conditions: classConditions,
  cautionNote: z.string().nullable(),
  balances: z.array(z.object({ label: z.string(), resolutionG: z.string().optional() })),
  rows: z.array(wareRowOnWire),
});
/** The task, and how far each group is; for whoever enters for all of them. */
export const groupList = z.object({
  experiment: classTask,
  items: z.array(classGroup.extend({ trials: z.number().int() })),
});
export type GroupList = z.infer<typeof groupList>;
/** Everything a group's phone needs; nothing of other groups. */
export const groupPage = z.object({
  group: classGroup,
  experiment: classTask,
  predictions: z.array(prediction),
  trials: z.array(classTrial),
});
export type GroupPage = z.infer<typeof groupPage>;

/** One picture of the class for the projector. Groups are told by number; names only while they are shown. */
export const board = z.object({
  id,
  /** Counts every change; the same number is the same board. */
  change: z.number().int(),
  state: z.enum(EXPERIMENT_STATES),
  madeUp: z.boolean(),
  title: z.string(),
  question: z.string(),
  design: z.enum(DESIGNS),
  namesHidden: z.boolean(),
  joiningOpen: z.boolean(),
  endsAt: z.string().nullable(),
  rows: z.array(
    z.object({
      key: z.string(),
      label: z.string(),
      kind: z.enum(VESSEL_KINDS),
      nominalVolumeMl: z.string(),
      basis: z.enum(BASES),
      toleranceMl: z.number().nullable(),
      toleranceSource: z.string().nullable(),
      trialsPerGroup: z.number().int(),
      drops: z.number().int().nullable(),
    }),
  ),
  groups: z.array(z.object({ number: z.number().int(), name: z.string().nullable() })),
  /** Null while the teacher does not show them. */
  predictions: z.array(prediction.extend({ group: z.number().int() })).nullable(),
  trials: z.array(
    z.object({
      group: z.number().int(),
      row: z.string(),
      number: z.number().int(),
      ...volumes,
      excluded: z.boolean(),
    }),
  ),
});
export type Board = z.infer<typeof board>;
export const boardQuery = z.strictObject({ after: z.coerce.number().int().min(0).optional() });
/** `board` is null where nothing changed since `after`. */
export const boardAnswer = z.object({ change: z.number().int(), board: board.nullable() });

/** All of an experiment, for figures, tables and reports. */
export const classData = z.object({
  id,
  change: z.number().int(),
  state: z.enum(EXPERIMENT_STATES),
  madeUp: z.boolean(),
  template: z.enum(TEMPLATES),
  title: z.string(),
  question: z.string(),
  design: z.enum(DESIGNS),
  conditions: classConditions,
  balances: z.array(
    z.object({
      label: z.string(),
      /** Whether its certificate's corrections are in every volume. */
      corrects: z.boolean(),
    }),
  ),
  openedAt: z.string().nullable(),
  closedAt: z.string().nullable(),
  rows: z.array(wareRowOnWire),
  groups: z.array(classGroup),
  predictions: z.array(prediction.extend({ groupId: id, group: z.number().int() })),
  trials: z.array(classTrial.extend({ groupId: id, group: z.number().int() })),
});
export type ClassData = z.infer<typeof classData>;

const figure = z.number().nullable();
const earlierClass = z.object({
  id,
  title: z.string(),
  openedAt: z.string().nullable(),
  closedAt: z.string().nullable(),
  groups: z.number().int(),
  rows: z.array(
    z.object({
      key: z.string(),
      n: z.number().int(),
      /** Groups with at least one trial that counts. */
      groups: z.number().int(),
      meanMl: figure,
      biasMl: figure,
      sdMl: figure,
      repeatabilitySdMl: figure,
      betweenSdMl: figure,
      withinRoomSdMl: figure,
      meanUncertaintyMl: figure,
    }),
  ),
});
export type EarlierClass = z.infer<typeof earlierClass>;
/** Ended classes that measured the same, newest first; volumes corrected in full. */
export const earlierClasses = z.object({ items: z.array(earlierClass) });

const count = z.number({ error: 'Say the number as it was told.' }).int('Say the number as it was told.').min(0);
/** Erasing names what goes; other numbers than the present ones are refused. */
export const erasureBody = z.strictObject({ groups: count, predictions: count, trials: count });
export const erased = z.object({ groups: z.number().int(), predictions: z.number().int(), trials: z.number().int() });
export const stateSaved = z.object({ version: z.number().int(), state: z.enum(EXPERIMENT_STATES) });
export const closed = stateSaved.extend({ hash: z.string(), groups: z.number().int(), trials: z.number().int() });
export const rehearsalBody = z.strictObject({
  groups: z
    .number({ error: 'The number of groups is a whole number.' })
    .int('The number of groups is a whole number.')
    .min(2, 'Make up at least two groups.')
    .max(30, 'Make up at most 30 groups.')
    .default(8),
  /** The same seed makes the same class; left out, one is chosen. */
  seed: z
    .number({ error: 'The seed is a whole number.' })
    .int('The seed is a whole number.')
    .min(0, 'The seed cannot be below zero.')
    .max(2_147_483_647)
    .optional(),
});

/** Left out: the whole class. */
export const reportQuery = z.strictObject({ group: id.optional() });
/** `answers`: the copy for whoever teaches. */
export const worksheetQuery = z.strictObject({
  answers: z.enum(['true', 'false'], { error: 'Say true or false.' }).default('false'),
});

export const groupParams = z.object({ id, group: id });
export const trialParams = z.object({
  id,
  group: id,
  row: rowKey,
  number: z
    .string()
    .regex(/^[1-9]\d{0,2}$/)
    .transform(Number),
});
