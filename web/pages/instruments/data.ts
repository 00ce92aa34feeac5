import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import type { Instrument, InstrumentWithHistory } from '../../../server/instruments/contract.ts';
import { get, withQuery } from '../../api.ts';
import { keys, type Page } from '../../queries.ts';

/** The whole register, page by page. The key begins like the other lists of instruments, so that one change refreshes all. */
export const useRegister = () =>
  useInfiniteQuery({
    queryKey: [...keys.instruments, 'register'],
    queryFn: ({ pageParam, signal }) =>
      get<Page<Instrument>>(withQuery('/api/instruments', { cursor: pageParam }), signal),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
  });

export const useInstrument = (id: string) =>
  useQuery({
    queryKey: [...keys.instruments, id],
    queryFn: ({ signal }) => get<InstrumentWithHistory>(`/api/instruments/${id}`, signal),
  });
