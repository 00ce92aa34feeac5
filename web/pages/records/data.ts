import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import type { Certificate, CertificateListItem } from '../../../server/certificates/contract.ts';
import type { JournalEntryOnWire } from '../../../server/journal/contract.ts';
import type { Audit, Sample } from '../../../server/records/contract-audit.ts';
import { get, withQuery } from '../../api.ts';
import type { Page } from '../../queries.ts';

export const useAudit = () =>
  useQuery({ queryKey: ['audit'], queryFn: ({ signal }) => get<Audit>('/api/audit', signal) });

/** @param seed null while none is chosen */
export const useSample = (seed: number | null) =>
  useQuery({
    queryKey: ['audit', 'sample', seed],
    queryFn: ({ signal }) => get<Sample>(withQuery('/api/audit/sample', { size: '5', seed: String(seed) }), signal),
    staleTime: Infinity,
    enabled: seed !== null,
  });

export const useCertificates = (filter: { search: string; state: string }) =>
  useInfiniteQuery({
    queryKey: ['certificates', 'list', filter.search, filter.state],
    queryFn: ({ pageParam, signal }) =>
      get<Page<CertificateListItem>>(withQuery('/api/certificates', { ...filter, cursor: pageParam }), signal),
    initialPageParam: '',
    getNextPageParam: (page) => page.next,
    placeholderData: (before) => before,
  });

export const useCertificate = (number: string) =>
  useQuery({
    queryKey: ['certificates', number],
    queryFn: ({ signal }) => get<Certificate>(`/api/certificates/${number}`, signal),
  });

export interface JournalFilter {
  object: string;
  act: string;
  actor: string;
  from: string;
  to: string;
  search: string;
}

export const useJournal = (filter: JournalFilter, enabled: boolean) =>
  useInfiniteQuery({
    queryKey: ['journal', filter],
    queryFn: ({ pageParam, signal }) =>
      get<Page<JournalEntryOnWire>>(withQuery('/api/journal', { ...filter, cursor: pageParam }), signal),
    initialPageParam: '',
    getNextPageParam: (page) => page.next,
    placeholderData: (before) => before,
    enabled,
  });

export const useJournalWords = () =>
  useQuery({
    queryKey: ['journal', 'words'],
    queryFn: ({ signal }) => get<{ acts: string[]; actors: string[] }>('/api/journal/words', signal),
  });
