/** Recording what was made: the fields that belong to the record alone, and the one way it is sent. */
import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useLocation } from 'wouter';
import { newKey, post, ProblemError } from '../../api.ts';
import { keepText as words } from '../../messages/en-solutions.ts';
import { refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { dayOf } from '../../parts/time.ts';
import { solutionKeys } from './queries.ts';
import { type FieldReader, filled, type Problems } from './reading.ts';

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
  problems: Problems;
}

export function useKeeping(onKept: () => void) {
  const [key] = useState(newKey);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const keep = async ({ solution, kept, problems }: Whole) => {
    const refused = refusedHere(problems);
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
