import type { z } from 'zod';
import type { Reading } from '../db/logbook.ts';
import { decodeCursor, encodeCursor } from '../requests.ts';
import type { calibrationListItem, calibrationQuery, CalibrationState } from './contract.ts';
import { withPools } from './store-pool.ts';
import { loadCalibrations } from './store.ts';
import { summaryOf } from './view-strip.ts';

type Item = z.infer<typeof calibrationListItem>;

/** Calibrations by when they were last touched, newest first. */
export const listCalibrations = async (
  db: Reading,
  query: z.infer<typeof calibrationQuery>,
): Promise<{ items: Item[]; next: string | null }> => {
  let select = db.selectFrom('calibration_standing').select(['calibration_id', 'touched_at']);
  if (query.state !== undefined) select = select.where('state', '=', query.state);
  if (query.cursor !== undefined) {
    const [touchedAt, afterId] = decodeCursor(query.cursor, 2);
    select = select.where((where) =>
      where.or([
        where('touched_at', '<', touchedAt ?? ''),
        where.and([where('touched_at', '=', touchedAt ?? ''), where('calibration_id', '>', afterId ?? '')]),
      ]),
    );
  }
  const rows = await select
    .orderBy('touched_at', 'desc')
    .orderBy('calibration_id')
    .limit(query.limit + 1)
    .execute();
  const shown = rows.slice(0, query.limit);
  const ids = shown.map((row) => row.calibration_id);
  const loaded = await withPools(db, await loadCalibrations(db, ids));
  const items = shown.flatMap((row): Item[] => {
    const stored = loaded.get(row.calibration_id);
    return stored
      ? [
          {
            id: stored.id,
            state: stored.state satisfies CalibrationState,
            performedOn: stored.record.performedOn,
            recordedAt: stored.recordedAt,
            vesselId: stored.vessel.id,
            tag: stored.vessel.tag,
            kind: stored.vessel.kind,
            nominalVolumeMl: stored.vessel.nominalVolumeMl,
            plannedTrials: stored.record.plannedTrials,
            trialsRecorded: stored.trialsRecorded,
            trialsPlanned: stored.record.plannedTrials * stored.record.points.length,
            verdict: summaryOf(stored).verdict,
          },
        ]
      : [];
  });
  const last = shown.at(-1);
  return {
    items,
    next: rows.length > query.limit && last ? encodeCursor([last.touched_at, last.calibration_id]) : null,
  };
};
