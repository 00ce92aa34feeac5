import { useEffect, useMemo, useState } from 'react';
import type { Calibration, PointOnWire, TrialBody } from '../../../server/calibrations/contract.ts';
import type { evaluate as Evaluate } from '../../../server/metrology/evaluate.ts';
import type { CalibrationRecord } from '../../../server/metrology/record.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { withTrials } from './record.ts';

/** The whole computation, fetched with the first trial that can be judged: the page is there for typing before. */
function useEvaluate(isNeeded: boolean): typeof Evaluate | null {
  const [loaded, setLoaded] = useState<{ evaluate: typeof Evaluate } | null>(null);
  useEffect(() => {
    if (!isNeeded) return;
    let isGone = false;
    // Without it the page shows the server's results, a trial later.
    void import('../../../server/metrology/evaluate.ts').then(
      ({ evaluate }) => {
        if (!isGone) setLoaded({ evaluate });
      },
      () => undefined,
    );
    return () => {
      isGone = true;
    };
  }, [isNeeded]);
  return loaded?.evaluate ?? null;
}

interface LiveOptions {
  calibration: Calibration;
  record: CalibrationRecord;
  rows: readonly ToleranceRow[];
  pending: readonly OutboxEntry[];
  /** The trial being typed, where it would be kept as it is. */
  typed: TrialBody | null;
  /** A trial can be computed with, typed or on its way. */
  isNeeded: boolean;
}

/** Points with the unsent trials and the one being typed counted in; those of the server until that can be computed. */
export function useLivePoints({
  calibration,
  record,
  rows,
  pending,
  typed,
  isNeeded,
}: LiveOptions): readonly PointOnWire[] {
  const evaluate = useEvaluate(isNeeded);
  return useMemo(() => {
    const known = new Set(calibration.trials.map((trial) => trial.number));
    const unsent = pending.flatMap((entry) => (entry.body && !known.has(entry.savedNumber ?? 0) ? [entry.body] : []));
    const bodies = typed ? [...unsent, typed] : unsent;
    if (evaluate === null || bodies.length === 0) return calibration.points;
    try {
      return evaluate(withTrials(record, bodies), rows).points;
    } catch {
      // A refused entry may hold what no formula covers; its own row says so.
      return calibration.points;
    }
  }, [calibration, record, rows, pending, typed, evaluate]);
}
