/** Questions a class puts itself to, with answers from its own numbers. Nothing of an answer is kept. */
import { z } from 'zod';
import { QUESTION_IDS, QUESTION_REASONS } from '../metrology/class/questions.ts';

const option = z.object({
  key: z.string(),
  /** Name of the row; null for the answers of a statement, which screens word. */
  label: z.string().nullable(),
});

export const questionList = z.object({
  items: z.array(
    z.object({
      id: z.enum(QUESTION_IDS),
      /** Name of the one row it is about; null where it is about all. */
      about: z.string().nullable(),
      ask: z.string(),
      options: z.array(option),
      /** Reasons to choose from, right ones and others. */
      reasons: z.array(z.enum(QUESTION_REASONS)),
    }),
  ),
});
export type QuestionList = z.infer<typeof questionList>;

export const answerBody = z.strictObject({
  question: z.enum(QUESTION_IDS, { error: 'Name the question.' }),
  option: z.string({ error: 'Choose an answer.' }).max(60, 'Choose an answer from the list.'),
  reason: z.enum(QUESTION_REASONS, { error: 'Choose a reason from the list.' }),
});

export const answerChecked = z.object({
  optionRight: z.boolean(),
  reasonRight: z.boolean(),
  /** What would have been right, and why; told once somebody answered. */
  right: z.array(option),
  reasons: z.array(z.enum(QUESTION_REASONS)),
  /** Why the chosen ware is not the one. */
  against: z.array(z.enum(QUESTION_REASONS)),
});
export type AnswerChecked = z.infer<typeof answerChecked>;
