import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import type { z } from 'zod';
import type { Board, ClassGroup, GroupPage, Joining } from '../../../server/experiments/contract-class.ts';
import type { Experiment, experimentPage, templateList } from '../../../server/experiments/contract.ts';
import { get, withQuery } from '../../api.ts';

export type Template = z.infer<typeof templateList>['items'][number];
type ExperimentPage = z.infer<typeof experimentPage>;

/** Keys begin with the experiments, so that one change refreshes all pages about them. */
export const classKeys = {
  all: ['experiments'] as const,
  list: ['experiments', 'list'] as const,
  templates: ['experiments', 'templates'] as const,
  one: (id: string) => ['experiments', id] as const,
  joining: (id: string) => ['experiments', id, 'joining'] as const,
  groups: (id: string) => ['experiments', id, 'groups'] as const,
  group: (id: string, group: string) => ['experiments', id, 'groups', group] as const,
};

/** How often pages of a running experiment ask again. */
const EVERY_MS = 5_000;

export const useExperiments = () =>
  useInfiniteQuery({
    queryKey: classKeys.list,
    queryFn: ({ pageParam, signal }) =>
      get<ExperimentPage>(withQuery('/api/experiments', { cursor: pageParam, limit: '30' }), signal),
    initialPageParam: '',
    getNextPageParam: (page) => page.next ?? undefined,
  });

export const useTemplates = () =>
  useQuery({
    queryKey: classKeys.templates,
    queryFn: ({ signal }) => get<{ items: Template[] }>('/api/experiments/templates', signal),
    staleTime: Infinity,
  });

export const useExperiment = (id: string) =>
  useQuery({
    queryKey: classKeys.one(id),
    queryFn: ({ signal }) => get<Experiment>(`/api/experiments/${id}`, signal),
    refetchInterval: ({ state }) => (state.data?.state === 'open' ? EVERY_MS : false),
  });

export const useJoining = (id: string, isWanted: boolean) =>
  useQuery({
    queryKey: classKeys.joining(id),
    queryFn: ({ signal }) => get<Joining>(`/api/experiments/${id}/joining`, signal),
    enabled: isWanted,
    refetchInterval: EVERY_MS,
  });

export const useGroups = (id: string, isRunning: boolean) =>
  useQuery({
    queryKey: classKeys.groups(id),
    queryFn: ({ signal }) => get<{ items: ClassGroup[] }>(`/api/experiments/${id}/groups`, signal),
    refetchInterval: isRunning ? EVERY_MS : false,
  });

/** What the board shows, asked for now and then: how far each group is. */
export const useBoard = (id: string, isRunning: boolean) =>
  useQuery({
    queryKey: [...classKeys.one(id), 'board'],
    queryFn: async ({ signal }) => (await get<{ board: Board | null }>(`/api/experiments/${id}/board`, signal)).board,
    refetchInterval: isRunning ? EVERY_MS : false,
  });

export const useGroup = (id: string, group: string) =>
  useQuery({
    queryKey: classKeys.group(id, group),
    queryFn: ({ signal }) => get<GroupPage>(`/api/experiments/${id}/groups/${group}`, signal),
    enabled: group !== '',
  });
