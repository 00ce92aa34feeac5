/** Ask, do not guess: unusual values are taken once the person confirms them by name and says why in a note. */
import { openQuestions, type Question } from './metrology/questions.ts';
import { Problem } from './problem.ts';

interface Confirmation {
  confirm?: readonly string[] | undefined;
  note?: string | null | undefined;
}

/**
 * The name and the note may stand in different parts of one request: the conditions or the whole.
 * @throws Problem `please-confirm` with every question that the parts do not answer
 */
export const askUnlessConfirmed = (questions: readonly Question[], ...parts: readonly Confirmation[]): void => {
  const confirm = parts.flatMap((part) => part.confirm ?? []);
  const note = parts.map((part) => part.note ?? '').join(' ');
  const open = openQuestions(questions, confirm, note);
  if (open.length === 0) return;
  throw new Problem('please-confirm', {
    detail: open.map((question) => question.detail).join(' '),
    errors: open.map(({ name, pointer, detail }) => ({ pointer, detail, confirm: name })),
  });
};
