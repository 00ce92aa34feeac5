/** Stored vessels as the wire shows them. */
import { keptSummariesOf } from '../calibrations/kept-summaries.ts';
import type { Reading } from '../db/logbook.ts';
import { withoutGaps } from '../journal/values.ts';
import type { Vessel, VesselListItem } from './contract.ts';
import { judgingTolerance } from './judging.ts';
import { tagsOf, type ListedVessel, type StoredVessel } from './store.ts';

export const vesselOnWire = (stored: StoredVessel, tags: readonly string[]): Vessel => {
  const { reason: _reason, ...facts } = stored;
  return {
    ...facts,
    tolerance: stored.tolerance ? (withoutGaps(stored.tolerance) as Vessel['tolerance']) : null,
    formerTags: tags.filter((tag) => tag !== stored.tag),
    expansionPerK: stored.expansionPerK ?? null,
    divisionMl: stored.divisionMl ?? null,
    marks: stored.marks ? [...stored.marks] : null,
    neckDiameterMm: stored.neckDiameterMm ?? null,
    expectedSpreadMl: stored.expectedSpreadMl ?? null,
    waitingTimeS: stored.waitingTimeS ?? null,
    ...judgingTolerance(stored),
  };
};

/** Vessels as a list shows them: with former tags and the strip of their latest calibration. */
export const listItems = async (db: Reading, listed: readonly ListedVessel[]): Promise<VesselListItem[]> => {
  const tags = await tagsOf(
    db,
    listed.map((item) => item.vessel.id),
  );
  const latest = await keptSummariesOf(
    db,
    listed.map((item) => item.latestCalibrationId).filter((calibrationId) => calibrationId !== null),
  );
  return listed.map((item) => ({
    ...vesselOnWire(item.vessel, tags.get(item.vessel.id) ?? []),
    dueOn: item.dueOn,
    latest: (item.latestCalibrationId === null ? null : latest.get(item.latestCalibrationId)) ?? null,
  }));
};
