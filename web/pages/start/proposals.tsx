import type { ReactNode } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import type { Instrument } from '../../../server/instruments/contract.ts';
import { Loading } from '../../parts/loading.tsx';
import { useInstruments, useLaboratory, useLatestCalibration } from '../../queries.ts';
import { type startDraft, USUAL_DEFAULTS } from './draft.ts';

export interface StartProposals {
  latest: Calibration | null;
  instruments: readonly Instrument[];
  defaults: Parameters<typeof startDraft>[4];
}

/** What a start proposes. A list that cannot be had must not stop the work. */
export function Proposals({ what, children }: { what: string; children: (proposals: StartProposals) => ReactNode }) {
  const latest = useLatestCalibration();
  const instruments = useInstruments();
  const laboratory = useLaboratory();
  if (latest.isPending || instruments.isPending || laboratory.isPending) return <Loading what={what} />;
  return children({
    latest: latest.data ?? null,
    instruments: instruments.data?.items ?? [],
    defaults: laboratory.data?.defaults ?? USUAL_DEFAULTS,
  });
}
