/** Stored lots as the wire shows them. */
import { summariesOf } from '../calibrations/view-strip.ts';
import type { Reading } from '../db/logbook.ts';
import type { LotListItem, LotWithVessels } from './contract.ts';
import { openAmong, roundsOf } from './store-rounds.ts';
import { vesselsOfLots, type LotVesselRow, type StoredLot } from './store.ts';

const progressOf = (vessels: readonly LotVesselRow[]): LotListItem['progress'] => {
  const count = (...standings: LotVesselRow['standing'][]) =>
    vessels.filter(({ standing }) => standings.includes(standing)).length;
  return {
    vessels: vessels.length,
    notBegun: count('not-begun'),
    open: count('open'),
    measured: count('measured'),
    outOfUse: count('damaged', 'out-of-use'),
  };
};

const onWire = ({ facts, reason: _reason, ...lot }: StoredLot, vessels: readonly LotVesselRow[]): LotListItem => ({
  ...lot,
  ware: facts,
  progress: progressOf(vessels),
});

export const lotsOnWire = async (db: Reading, lots: readonly StoredLot[]): Promise<LotListItem[]> => {
  const vessels = await vesselsOfLots(
    db,
    lots.map(({ id }) => id),
  );
  return lots.map((lot) =>
    onWire(
      lot,
      vessels.filter(({ lotId }) => lotId === lot.id),
    ),
  );
};

export const lotOnWire = async (db: Reading, lot: StoredLot): Promise<LotWithVessels> => {
  const vessels = await vesselsOfLots(db, [lot.id]);
  const latest = await summariesOf(
    db,
    vessels.flatMap(({ latestCalibrationId }) => latestCalibrationId ?? []),
  );
  const rounds = await roundsOf(db, lot.id);
  const open = await openAmong(
    db,
    rounds.flatMap(({ members }) => members.map(({ calibrationId }) => calibrationId)),
  );
  return {
    ...onWire(lot, vessels),
    vessels: vessels.map(({ id, tag, serial, standing, dueOn, latestCalibrationId }) => ({
      id,
      tag,
      serial,
      standing,
      dueOn,
      latest: latest.get(latestCalibrationId ?? '') ?? null,
    })),
    rounds: rounds.map(({ number, wayOfWorking, members, recordedAt, recordedBy }) => ({
      number,
      wayOfWorking,
      vessels: members.length,
      open: members.filter(({ calibrationId }) => open.has(calibrationId)).length,
      recordedAt,
      recordedBy,
    })),
  };
};
