/** One vessel of a round as the computation takes it, so that the page computes before the server answers. */
import type { Round } from '../../../server/lots/contract-round.ts';
import type { CalibrationRecord } from '../../../server/metrology/record.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import { findTolerance, rowOf } from '../../../server/metrology/tolerance.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { liveTrial } from '../bench/live.ts';
import type { GridRow } from './grid-rows.ts';

export interface VesselTask {
  record: CalibrationRecord;
  tolerance: ToleranceRow | null;
}

export const taskOf = (round: Round, { row }: GridRow, tolerances: readonly ToleranceRow[]): VesselTask => ({
  tolerance: rowOf(findTolerance(tolerances, row.vessel)),
  record: {
    vessel: row.vessel,
    basis: round.basis,
    points: round.plannedPoints,
    plannedTrials: round.plannedTrials,
    performedOn: round.performedOn,
    decisionRule: round.decisionRule,
    repeatability: { use: 'own' },
    conditions: round.conditions,
    // A trial typed now comes after every reading of the air.
    conditionReadings: round.conditionReadings.map((reading) => ({ ...reading, afterTrial: 0 })),
    instruments: round.instrumentFacts,
    laboratory: round.laboratory,
    trials: [],
  },
});

/** Volume of a trial on its way, null where none can be computed. */
export const volumeOf = ({ record, tolerance }: VesselTask, entry: OutboxEntry): number | null =>
  entry.body ? (liveTrial(record, entry.body, 1, tolerance).result?.volumeMl ?? null) : null;
