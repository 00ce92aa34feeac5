/** Ask, do not guess: unusual values are taken once the person confirms them by name and says why in a note. */
import { openQuestions, type Question } from './metrology/questions.ts';
import { Problem } from './problem.ts';

interface Confirmation {
  confirm?: readonly string[] | undefined;
  note?: string | null | undefined;
}

/** @throws Problem `please-confirm` with every question that none of the bodies answers */
export const askUnlessConfirmed = (questions: readonly Question[], ...bodies: readonly Confirmation[]): void => {
  const open = bodies.reduce<readonly Question[]>(
    (left, body) => openQuestions(left, body.confirm, body.note),
    questions,
  );
  if (open.length === 0) return;
  throw new Problem('please-confirm', {
    detail: open.map((question) => question.detail).join(' '),
    errors: open.map(({ name, pointer, detail }) => ({ pointer, detail, confirm: name })),
  });
};
