import { useQuery } from '@tanstack/react-query';
import type { ReferenceBook, ToleranceTable } from '../../../server/reference/contract.ts';
import { get } from '../../api.ts';
import { keys } from '../../queries.ts';

/** It changes with a new version of the program only. */
export const useReferenceBook = () =>
  useQuery({
    queryKey: ['reference'],
    queryFn: ({ signal }) => get<ReferenceBook>('/api/reference', signal),
    staleTime: Infinity,
  });

/** The limits of every kind at once. */
export const useAllTolerances = () =>
  useQuery({
    queryKey: keys.tolerances('every kind'),
    queryFn: ({ signal }) => get<ToleranceTable>('/api/reference/tolerances', signal),
    staleTime: Infinity,
  });

/** Where the rooms of the reference are, in the order they are listed. */
export const ROOM_GROUPS = [
  { group: 'computing', rooms: ['formulas', 'factors', 'assumptions', 'sources'] },
  { group: 'limits', rooms: ['tolerances', 'materials'] },
  { group: 'bench', rooms: ['meniscus', 'vessels', 'cautions'] },
  { group: 'saying', rooms: ['findings', 'refusals', 'words'] },
] as const;
export type ReferenceRoom = (typeof ROOM_GROUPS)[number]['rooms'][number];
