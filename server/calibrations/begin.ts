/** A calibration begins: its rows, the vessel's latest one, and the entry in the journal. */
import type { Writing } from '../db/write.ts';
import { setLatestCalibration, type StoredVessel } from '../glassware/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { VERSIONS } from '../metrology/versions.ts';
import type { Settled } from './beginning.ts';
import { insertCalibration } from './store-acts.ts';
import { latestCalibrationOf } from './store.ts';

export const beginCalibration = async (
  { trx, at, actor, journal }: Writing,
  vessel: StoredVessel,
  {
    id,
    settled,
    origin = settled.body.origin,
  }: { id: string; settled: Settled; origin?: 'paper' | 'sheet' | undefined },
): Promise<void> => {
  await insertCalibration(trx, { id, vesselId: vessel.id, settled, at, actor, origin });
  await setLatestCalibration(trx, vessel.id, await latestCalibrationOf(trx, vessel.id));
  journal({
    act: 'calibration-begun',
    object: `calibration/${id}`,
    before: null,
    after: withoutGaps({
      ...settled.body,
      vesselId: vessel.id,
      vesselVersion: vessel.version,
      basis: settled.basis,
      performedOn: settled.performedOn,
      ...settled.laboratory,
      origin,
      versions: VERSIONS,
    }),
  });
};
