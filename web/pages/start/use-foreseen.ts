import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { CapabilityOnWire } from '../../../server/calibrations/contract.ts';
import { newKey, post } from '../../api.ts';
import type { StartBody } from './draft.ts';

const PAUSE_MS = 350;

/** Text that follows another once it has stood still for a moment. */
function useSettled(text: string): string {
  const [settled, setSettled] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(text), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [text]);
  return settled;
}

type Spread = 'own' | 'pooled';

/** An unusual pressure is asked about when the calibration begins, not while somebody is still choosing. */
const askedLater = { confirm: ['air-pressure'], note: 'foreseen' };

/** What a set-up could decide, asked again whenever the choice has stood still; nothing is stored. */
export function useForeseen(vesselId: string, body: StartBody | null, use: Spread) {
  const { note: _note, performedOn: _performedOn, ...kept } = body ?? { note: '', performedOn: '' };
  const asked = useSettled(body === null ? '' : JSON.stringify({ ...kept, ...askedLater, repeatability: { use } }));
  return useQuery({
    queryKey: ['capability', vesselId, asked],
    queryFn: () => post<CapabilityOnWire>(`/api/vessels/${vesselId}/capability`, JSON.parse(asked), newKey()),
    enabled: asked !== '',
    placeholderData: keepPreviousData,
    staleTime: 60_000,
  });
}

export type Foreseen = ReturnType<typeof useForeseen>;
