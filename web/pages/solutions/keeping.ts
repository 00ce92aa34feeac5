/** Recording what was made: the fields that belong to the record alone, and the one way it is sent. */
import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useMemo, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import { newKey, post, ProblemError } from '../../api.ts';
import { keepText as words } from '../../messages/en-solutions.ts';
import { type FormRefusal, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { dayOf } from '../../parts/time.ts';
import { solutionKeys } from './queries.ts';
import { type FieldReader, filled } from './reading.ts';
import { type FormAt, stillRefused } from './still-refused.ts';

export interface KeepDraft {
  title: string;
  /** Empty: today. */
  madeOn: string;
  expiresOn: string;
  hazardLine: string;
  water: string;
  lots: string;
  note: string;
}
export const NOTHING_KEPT: KeepDraft = {
  title: '',
  madeOn: '',
  expiresOn: '',
  hazardLine: '',
  water: '',
  lots: '',
  note: '',
};

/** @param proposed title that counts while none was typed */
export const readKeep = (reader: FieldReader, draft: KeepDraft, proposed: string) => ({
  title: reader.text('title', draft.title || proposed, words.titleMissing),
  madeOn: draft.madeOn.trim() || dayOf(new Date()),
  ...filled('expiresOn', draft.expiresOn),
  ...filled('hazardLine', draft.hazardLine),
  ...filled('water', draft.water),
  ...filled('lots', draft.lots),
  ...filled('note', draft.note),
});

/** The fields of the solution stand in the form as in a solution that is only worked out; `within` is where they stood. */
export const atFormFields = (error: unknown, within = '#/solution/'): unknown =>
  error instanceof ProblemError
    ? new ProblemError(error.status, {
        ...error.body,
        errors: error.fields.map((one) => ({ ...one, pointer: one.pointer.replace(within, '#/') })),
      })
    : error;

interface Whole {
  solution: object;
  kept: object;
  reader: FieldReader;
}

const ANSWER_MS = 5_000;
const LOOK_AGAIN_MS = 50;

/** The form once what was typed last has been looked up; a number and Enter are faster than the register. */
async function lookedUp(read: () => Whole): Promise<Whole> {
  const untilMs = Date.now() + ANSWER_MS;
  let whole = read();
  while (whole.reader.isOnlyWaiting && Date.now() < untilMs) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
    whole = read();
  }
  return whole;
}

/** What still holds of a refusal while the form is put right. */
function useStillRefused(refusal: FormRefusal | null, read: () => Whole): FormRefusal | null {
  const told = useRef<{ refusal: FormRefusal | null; then: FormAt | null }>({ refusal: null, then: null });
  const formNow = (isThen: boolean): FormAt => {
    const { solution, kept, reader } = read();
    return { body: { ...solution, ...kept }, problems: isThen ? reader.problems : reader.settledProblems };
  };
  if (told.current.refusal !== refusal) told.current = { refusal, then: refusal && formNow(true) };
  const { then } = told.current;
  const holds = JSON.stringify(refusal && then ? stillRefused(refusal, then, formNow(false)) : null);
  // The same as long as it says the same.
  return useMemo(() => JSON.parse(holds) as FormRefusal | null, [holds]);
}

/** @param read the form as it stands when asked, also later than the drawing it was handed over with */
export function useKeeping(onKept: () => void, read: () => Whole) {
  const [key] = useState(newKey);
  const sent = useSubmission();
  const [isLookingUp, setLookingUp] = useState(false);
  const shown = useStillRefused(sent.refusal, read);
  const problemAt = (field: string): string | undefined => shown?.fields.find((one) => one.field === field)?.detail;
  const submission = { ...sent, shown, problemAt, busy: sent.busy || isLookingUp };
  const client = useQueryClient();
  const [, go] = useLocation();
  const latest = useRef(read);
  latest.current = read;
  const keep = async (event: SubmitEvent) => {
    event.preventDefault();
    if (submission.busy) return;
    setLookingUp(true);
    const { solution, kept, reader } = await lookedUp(() => latest.current()).finally(() => setLookingUp(false));
    const refused = refusedHere(reader.problems);
    if (refused) return submission.setRefusal(refused);
    await submission.submit(async () => {
      try {
        const { id } = await post<{ id: string }>('/api/preparations', { ...kept, solution }, key);
        onKept();
        await client.invalidateQueries({ queryKey: solutionKeys.all });
        go(`/${id}`);
      } catch (error) {
        throw atFormFields(error);
      }
    });
  };
  return { submission, keep };
}
