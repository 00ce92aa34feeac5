/** Stored lots as the wire shows them. */
import { summariesOf } from '../calibrations/view-strip.ts';
import type { Reading } from '../db/logbook.ts';
import { decisionsOf } from '../glassware/store-decisions.ts';
import { asksForDecision } from '../metrology/verdict.ts';
import type { LotDecisionOnWire } from './contract-decision.ts';
import type { LotListItem, LotVessel, LotWithVessels } from './contract.ts';
import { lotDecisionsOf } from './store-decisions.ts';
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

const onWire = (
  { facts, reason: _reason, ...lot }: StoredLot,
  vessels: readonly LotVesselRow[],
  decisions: readonly LotDecisionOnWire[],
): LotListItem => ({
  ...lot,
  ware: facts,
  progress: progressOf(vessels),
  decisions: [...decisions],
});

export const isOutOfUse = ({ standing }: Pick<LotVessel, 'standing'>): boolean =>
  standing === 'damaged' || standing === 'out-of-use';

/** Its latest calibration has left the bench, whether it is in use or not. */
export const isTested = ({ latest }: Pick<LotVessel, 'latest'>): boolean =>
  latest !== null && latest.state !== 'open' && latest.state !== 'abandoned';

export const lotsOnWire = async (db: Reading, lots: readonly StoredLot[]): Promise<LotListItem[]> => {
  const ids = lots.map(({ id }) => id);
  const vessels = await vesselsOfLots(db, ids);
  const decisions = await lotDecisionsOf(db, ids);
  return lots.map((lot) =>
    onWire(
      lot,
      vessels.filter(({ lotId }) => lotId === lot.id),
      decisions.get(lot.id) ?? [],
    ),
  );
};

/** Vessels in the order of their tags, each with its latest result and what was decided on that. */
const vesselsOnWire = async (db: Reading, vessels: readonly LotVesselRow[]): Promise<LotVessel[]> => {
  const latest = await summariesOf(
    db,
    vessels.flatMap(({ latestCalibrationId }) => latestCalibrationId ?? []),
  );
  const decided = await decisionsOf(
    db,
    vessels.map(({ id }) => id),
  );
  return vessels.map(({ id, tag, serial, standing, dueOn, latestCalibrationId }) => {
    const summary = latest.get(latestCalibrationId ?? '') ?? null;
    const decision = decided.get(id)?.findLast(({ calibrationId }) => calibrationId === summary?.id)?.decision ?? null;
    const shown = { id, tag, serial, standing, dueOn, latest: summary, decision };
    const asks =
      decision === null && !isOutOfUse(shown) && isTested(shown) && asksForDecision(summary?.verdict ?? null);
    return { ...shown, asksForDecision: asks };
  });
};

export const lotOnWire = async (db: Reading, lot: StoredLot): Promise<LotWithVessels> => {
  const vessels = await vesselsOfLots(db, [lot.id]);
  const decisions = await lotDecisionsOf(db, [lot.id]);
  const rounds = await roundsOf(db, lot.id);
  const open = await openAmong(
    db,
    rounds.flatMap(({ members }) => members.map(({ calibrationId }) => calibrationId)),
  );
  return {
    ...onWire(lot, vessels, decisions.get(lot.id) ?? []),
    vessels: await vesselsOnWire(db, vessels),
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
