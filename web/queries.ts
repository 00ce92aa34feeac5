import { QueryClient, useQuery } from '@tanstack/react-query';
import type { Calibration } from '../server/calibrations/contract.ts';
import type { VesselListItem, VesselWithHistory } from '../server/glassware/contract.ts';
import type { Instrument } from '../server/instruments/contract.ts';
import type { Laboratory } from '../server/laboratory/contract.ts';
import type { VesselKind } from '../server/metrology/record.ts';
import type { Today } from '../server/records/contract.ts';
import type { ToleranceRowOnWire } from '../server/reference/contract.ts';
import { get, NetworkError, withQuery } from './api.ts';

/** One page of a list; `next` is the cursor of the following one. */
export interface Page<T> {
  items: T[];
  next: string | null;
}

export const makeQueryClient = (): QueryClient =>
  new QueryClient({
    defaultOptions: {
      queries: {
        staleTime: 5_000,
        // A refusal stays a refusal; only a lost connection is worth another try.
        retry: (count, error) => error instanceof NetworkError && count < 2,
        networkMode: 'always',
      },
      mutations: { networkMode: 'always', retry: false },
    },
  });

/** Keys begin with the thing they show, so that one change can refresh all pages about it. */
export const keys = {
  today: ['today'] as const,
  laboratory: ['laboratory'] as const,
  vessels: ['vessels'] as const,
  vessel: (id: string) => ['vessels', id] as const,
  calibration: (id: string) => ['calibrations', id] as const,
  latestCalibration: ['calibrations', 'latest'] as const,
  openCalibrations: ['calibrations', 'open'] as const,
  lots: ['lots'] as const,
  rounds: ['rounds'] as const,
  instruments: ['instruments'] as const,
  tolerances: (kind: string) => ['tolerances', kind] as const,
};

export const useToday = () =>
  useQuery({ queryKey: keys.today, queryFn: ({ signal }) => get<Today>('/api/today', signal) });

export const useLaboratory = () =>
  useQuery({ queryKey: keys.laboratory, queryFn: ({ signal }) => get<Laboratory>('/api/laboratory', signal) });

export const useVessel = (id: string) =>
  useQuery({
    queryKey: keys.vessel(id),
    queryFn: ({ signal }) => get<VesselWithHistory>(`/api/vessels/${id}`, signal),
    enabled: id !== '',
  });

export const fetchVessels = (
  filter: { search?: string; kind?: string; dueBy?: string; cursor?: string },
  signal?: AbortSignal,
) => get<Page<VesselListItem>>(withQuery('/api/vessels', filter), signal);

/** The vessel that bears a tag now, in whatever letter case it was typed or scanned. */
export const vesselByTag = async (tag: string): Promise<VesselListItem | null> => {
  const { items } = await fetchVessels({ search: tag });
  const small = tag.toLowerCase();
  return (
    items.find((vessel) => vessel.tag === tag) ?? items.find((vessel) => vessel.tag.toLowerCase() === small) ?? null
  );
};

export const useCalibration = (id: string) =>
  useQuery({
    queryKey: keys.calibration(id),
    queryFn: ({ signal }) => get<Calibration>(`/api/calibrations/${id}`, signal),
  });

export type CalibrationListItem = Today['open'][number];

export const useOpenCalibrations = () =>
  useQuery({
    queryKey: keys.openCalibrations,
    queryFn: ({ signal }) => get<Page<CalibrationListItem>>('/api/calibrations?state=open', signal),
  });

/** The calibration begun last, with its instruments and conditions: what the next one most likely shares. */
export const useLatestCalibration = () =>
  useQuery({
    queryKey: keys.latestCalibration,
    queryFn: async ({ signal }) => {
      const { items } = await get<Page<CalibrationListItem>>('/api/calibrations?limit=1', signal);
      const latest = items[0];
      return latest ? get<Calibration>(`/api/calibrations/${latest.id}`, signal) : null;
    },
  });

export const useInstruments = () =>
  useQuery({
    queryKey: keys.instruments,
    queryFn: ({ signal }) => get<Page<Instrument>>('/api/instruments', signal),
  });

export const useTolerances = (kind: VesselKind | '') =>
  useQuery({
    queryKey: keys.tolerances(kind),
    queryFn: ({ signal }) =>
      get<{ version: string; items: ToleranceRowOnWire[] }>(withQuery('/api/reference/tolerances', { kind }), signal),
    enabled: kind !== '',
    staleTime: Infinity,
  });
