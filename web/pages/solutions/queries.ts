import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import type { Preparation, PreparationListItem } from '../../../server/solutions/contract-record.ts';
import { get, withQuery } from '../../api.ts';
import type { Page } from '../../queries.ts';

export const solutionKeys = {
  all: ['solutions'] as const,
  list: (search: string, shelf: string) => ['solutions', 'list', search, shelf] as const,
  one: (id: string) => ['solutions', 'one', id] as const,
  byNumber: (number: string) => ['solutions', 'by-number', number] as const,
  offered: (search: string) => ['solutions', 'offered', search] as const,
  affected: (of: string, id: string) => ['solutions', 'affected', of, id] as const,
  evaluated: (asked: string) => ['evaluated', asked] as const,
  formula: (text: string) => ['formula', text] as const,
};

interface ShelfFilter {
  search: string;
  /** `on`: what is on the shelf; `all`: what is used up or discarded too. */
  shelf: string;
  cursor?: string;
}

export const fetchPreparations = (filter: ShelfFilter, signal?: AbortSignal) =>
  get<Page<PreparationListItem>>(withQuery('/api/preparations', { ...filter }), signal);

export const usePreparations = (search: string, shelf: string) =>
  useInfiniteQuery({
    queryKey: solutionKeys.list(search, shelf),
    queryFn: ({ pageParam, signal }) => fetchPreparations({ search, shelf, cursor: pageParam }, signal),
    initialPageParam: '',
    getNextPageParam: (page) => page.next,
    placeholderData: (before) => before,
  });

export const usePreparation = (id: string) =>
  useQuery({
    queryKey: solutionKeys.one(id),
    queryFn: ({ signal }) => get<Preparation>(`/api/preparations/${id}`, signal),
    enabled: id !== '',
  });
