import { type RefObject, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import { patch, ProblemError } from '../api.ts';
import { Versions, type VersionsRow } from './versions.tsx';

/** A record under change in a dialog: what was there, what is typed, and what somebody else saved meanwhile. */
export interface EditBeside<Kept, Draft> {
  base: Kept;
  draft: Draft;
  setDraft: (draft: Draft) => void;
  present: Kept | null;
  send: (body: Record<string, unknown>) => Promise<unknown>;
  take: (found: Kept) => void;
  mergeOnto: (found: Kept) => void;
  box: RefObject<HTMLDivElement | null>;
}

/** `draftOf` takes from a record what the dialog changes, flat and comparable by value. */
export function useEditBeside<Kept extends { version: number }, Draft extends object>(
  path: string,
  record: Kept,
  draftOf: (record: Kept) => Draft,
): EditBeside<Kept, Draft> {
  const [base, setBase] = useState(record);
  const [draft, setDraft] = useState(() => draftOf(record));
  const [present, setPresent] = useState<Kept | null>(null);
  const box = useRef<HTMLDivElement>(null);
  const isSame = (one: Kept, other: Kept) => JSON.stringify(draftOf(one)) === JSON.stringify(draftOf(other));
  const sendOnto = async (body: Record<string, unknown>, onto: Kept): Promise<unknown> => {
    try {
      return await patch(path, body, onto.version);
    } catch (error) {
      if (!(error instanceof ProblemError) || error.code !== 'stale-edit') throw error;
      const found = error.body.current as Kept;
      // Only what this dialog does not show was changed meanwhile.
      if (isSame(found, onto)) return sendOnto(body, found);
      setPresent(found);
      throw error;
    }
  };
  const take = (found: Kept) => {
    setBase(found);
    setDraft(draftOf(found));
    setPresent(null);
  };
  const mergeOnto = (found: Kept) => {
    flushSync(() => {
      setBase(found);
      setDraft({ ...draftOf(found), ...changesIn(draftOf(base), draft) });
      setPresent(null);
    });
    box.current?.closest('form')?.requestSubmit();
  };
  return { base, draft, setDraft, present, send: (body) => sendOnto(body, base), take, mergeOnto, box };
}

const changesIn = <Draft extends object>(before: Draft, mine: Draft): Partial<Draft> =>
  Object.fromEntries(
    Object.entries(mine).filter(([field, value]) => value !== before[field as keyof Draft]),
  ) as Partial<Draft>;

interface BesideProps<Kept> {
  edit: Pick<EditBeside<Kept, unknown>, 'present' | 'take' | 'mergeOnto'>;
  busy: boolean;
  rows: (present: Kept) => VersionsRow[];
}

/** Both changes side by side, where there are two. */
export function Beside<Kept>({ edit, busy, rows }: BesideProps<Kept>) {
  const { present } = edit;
  if (present === null) return null;
  return (
    <Versions
      rows={rows(present)}
      busy={busy}
      onMerge={() => edit.mergeOnto(present)}
      onTakePresent={() => edit.take(present)}
    />
  );
}

/** Fields in which the three drafts differ, in words. */
export const versionsRows = <Draft,>(
  fields: readonly (readonly [string, (draft: Draft) => string])[],
  { before, mine, present }: Record<'before' | 'mine' | 'present', Draft>,
): VersionsRow[] =>
  fields
    .map(([name, show]) => ({ name, before: show(before), mine: show(mine), present: show(present) }))
    .filter((row) => row.mine !== row.before || row.present !== row.before);
