/** Solutions of the shelf by the number on their label. */
import { useQuery } from '@tanstack/react-query';
import { useSettled } from '../../parts/use-settled.ts';
import { fetchPreparations, solutionKeys } from './queries.ts';
import type { PreparationListItem } from '../../../server/solutions/contract-record.ts';

const PAUSE_MS = 250;

/** Null where no solution bears the number, undefined while it is looked up. */
export type Numbered = PreparationListItem | null | undefined;

export function useNumbered(typed: string): Numbered {
  const number = useSettled(typed.trim().toUpperCase(), PAUSE_MS);
  const { data } = useQuery({
    queryKey: solutionKeys.byNumber(number),
    queryFn: async ({ signal }) => {
      const { items } = await fetchPreparations({ search: number, shelf: 'all' }, signal);
      return items.find((one) => one.number === number) ?? null;
    },
    enabled: number !== '',
  });
  return number === typed.trim().toUpperCase() ? data : undefined;
}

/** Solutions to offer while a number is typed. */
export function useOfferedPreparations(typed: string, isWanted: boolean): readonly PreparationListItem[] {
  const search = useSettled(typed.trim(), PAUSE_MS);
  const { data } = useQuery({
    queryKey: solutionKeys.offered(search),
    queryFn: ({ signal }) => fetchPreparations({ search, shelf: 'on' }, signal),
    enabled: isWanted,
    placeholderData: (before) => before,
  });
  return data?.items ?? [];
}
