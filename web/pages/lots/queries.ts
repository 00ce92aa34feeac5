import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import type { Round } from '../../../server/lots/contract-round.ts';
import type { LotListItem, LotWithVessels } from '../../../server/lots/contract.ts';
import { get, withQuery } from '../../api.ts';
import { keys, type Page } from '../../queries.ts';

export const useLots = () =>
  useInfiniteQuery({
    queryKey: [...keys.lots, 'list'],
    queryFn: ({ pageParam, signal }) => get<Page<LotListItem>>(withQuery('/api/lots', { cursor: pageParam }), signal),
    initialPageParam: '',
    getNextPageParam: (page) => page.next,
  });

export const useLot = (id: string) =>
  useQuery({
    queryKey: [...keys.lots, id],
    queryFn: ({ signal }) => get<LotWithVessels>(`/api/lots/${id}`, signal),
  });

export const roundPath = (lotId: string, number: number): string => `/api/lots/${lotId}/rounds/${number}`;

export const useRound = (lotId: string, number: number) =>
  useQuery({
    queryKey: [...keys.rounds, lotId, number],
    queryFn: ({ signal }) => get<Round>(roundPath(lotId, number), signal),
  });
