/** What whoever enters for a class has open and half typed: kept for the tab, each group and ware by itself. */
import { useState } from 'react';
import { keepDraft, recallDraft } from '../../parts/tab-draft.ts';

export const EMPTY = { emptyG: '', filledG: '', waterTemperatureC: '' };
export type ReadingFields = typeof EMPTY;
/** The readings of a trial as typed, and the vessel chosen for it. */
export type ReadingsDraft = ReadingFields & { vesselId: string };
export const BLANK: ReadingsDraft = { ...EMPTY, vesselId: '' };

interface Kept {
  groupId: string;
  row: string;
  fromPaper: boolean;
  /** By group and ware. */
  readings: Partial<Record<string, ReadingsDraft>>;
}

export const enterPlace = (experimentId: string): string => `class-enter.${experimentId}`;

const keptOf = (experimentId: string): Kept => ({
  ...{ groupId: '', row: '', fromPaper: false, readings: {} },
  ...recallDraft<Kept>(enterPlace(experimentId)),
});

const keep = (experimentId: string, changes: Partial<Kept>): void =>
  keepDraft(enterPlace(experimentId), { ...keptOf(experimentId), ...changes });

/** What is open; what the address says comes first. */
export function useOpen(experimentId: string, asked: Partial<Pick<Kept, 'groupId' | 'row'>>) {
  const [open, setOpen] = useState(() => {
    const { groupId, row, fromPaper } = keptOf(experimentId);
    return { groupId: asked.groupId ?? groupId, row: asked.row ?? row, fromPaper };
  });
  const change = (changes: Partial<typeof open>) => {
    setOpen((before) => ({ ...before, ...changes }));
    keep(experimentId, { ...open, ...changes });
  };
  return [open, change] as const;
}

/** The readings of one group at one ware. */
export function useReadingsDraft(experimentId: string, groupId: string, row: string) {
  const name = `${groupId} ${row}`;
  const [draft, setDraft] = useState<ReadingsDraft>(() => keptOf(experimentId).readings[name] ?? BLANK);
  const change = (changes: Partial<ReadingsDraft>) =>
    setDraft((before) => {
      const next = { ...before, ...changes };
      keep(experimentId, { readings: { ...keptOf(experimentId).readings, [name]: next } });
      return next;
    });
  return [draft, change] as const;
}
