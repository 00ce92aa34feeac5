/** A round begins, reads its air again and leaves the bench: the same steps for each of its vessels, in one write. */
import { beginCalibration } from '../calibrations/begin.ts';
import { settle } from '../calibrations/beginning.ts';
import { finishMeasuring, isFulfilled, readConditions } from '../calibrations/steps.ts';
import type { CalibrationBody, ConditionsBody } from '../calibrations/contract.ts';
import { withPools, type PooledCalibration } from '../calibrations/store-pool.ts';
import { loadCalibrations } from '../calibrations/store.ts';
import type { Writing } from '../db/write.ts';
import { findVessel } from '../glassware/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { invalid, notFound, Problem, type FieldProblem } from '../problem.ts';
import { newId } from '../requests.ts';
import type { RoundBody } from './contract-round.ts';
import {
  findRound,
  insertRound,
  insertZeroCheck,
  openAmong,
  roundsOf,
  vesselsWithOpen,
  type RoundMember,
  type RoundPlan,
  type StoredRound,
} from './store-rounds.ts';
import { vesselsOfLots, type LotVesselRow, type StoredLot } from './store.ts';

/** Named vessels, or all that are in use and free; in the order of their tags or as named. */
const membersFor = async ({ trx }: Writing, lot: StoredLot, named: string[] | undefined): Promise<LotVesselRow[]> => {
  const ofLot = await vesselsOfLots(trx, [lot.id]);
  const busy = await vesselsWithOpen(
    trx,
    ofLot.map(({ id }) => id),
  );
  if (named === undefined) {
    const free = ofLot.filter(
      ({ id, standing }) => !busy.has(id) && standing !== 'damaged' && standing !== 'out-of-use',
    );
    if (free.length > 0) return free;
    const detail = `No vessel of ${lot.name} is free: each has an open calibration or is out of use.`;
    throw new Problem('state-conflict', { detail });
  }
  const refused: FieldProblem[] = [];
  const members = named.flatMap((vesselId, index) => {
    const pointer = `#/vesselIds/${index}`;
    const vessel = ofLot.find(({ id }) => id === vesselId);
    if (!vessel) refused.push({ pointer, detail: `There is no vessel with the id ${vesselId} in ${lot.name}.` });
    else if (named.indexOf(vesselId) !== index) refused.push({ pointer, detail: `${vessel.tag} is named twice.` });
    else if (busy.has(vesselId))
      refused.push({ pointer, detail: `${vessel.tag} has an open calibration. Finish or abandon it first.` });
    return vessel ?? [];
  });
  if (refused.length > 0) throw invalid(refused);
  return members;
};

const calibrationBodyOf = ({ repeatability, ...plan }: RoundPlan, confirm: RoundBody['confirm']): CalibrationBody => ({
  ...plan,
  repeatability: repeatability === 'pooled' ? { use: 'pooled', over: 'lot' } : { use: 'own' },
  ...(confirm ? { confirm } : {}),
});

/** One calibration a vessel, all or none. */
export const beginRound = async (writing: Writing, lot: StoredLot, body: RoundBody, today: string) => {
  const { trx, at, actor, journal } = writing;
  const { wayOfWorking, vesselIds, confirm, ...planned } = body;
  const plan: RoundPlan = { ...planned, points: body.points ?? [lot.facts.nominalVolumeMl] };
  const members: RoundMember[] = [];
  for (const { id: vesselId } of await membersFor(writing, lot, vesselIds)) {
    const vessel = await findVessel(trx, vesselId);
    if (!vessel) throw notFound('vessel');
    const settled = await settle(trx, vessel, calibrationBodyOf(plan, confirm), today);
    const calibrationId = newId();
    await beginCalibration(writing, vessel, { id: calibrationId, settled });
    members.push({ vesselId, calibrationId });
  }
  const number = (await roundsOf(trx, lot.id)).length + 1;
  await insertRound(trx, { lotId: lot.id, number, wayOfWorking, plan, members, recordedAt: at, recordedBy: actor });
  journal({
    act: 'round-begun',
    object: `lot/${lot.id}`,
    before: null,
    after: withoutGaps({ number, wayOfWorking, plan, calibrations: members }),
  });
  return { number, calibrations: members };
};

/** @throws Problem `not-found` */
export const roundOf = async ({ trx }: Pick<Writing, 'trx'>, lotId: string, number: number): Promise<StoredRound> => {
  const round = await findRound(trx, lotId, number);
  if (!round) throw notFound('round of a lot');
  return round;
};

/** The open calibrations of a round, ready for an act; `trials: false` leaves their trials out. */
const openOf = async (
  { trx }: Writing,
  round: StoredRound,
  options: { trials: boolean },
): Promise<PooledCalibration[]> => {
  const ids = round.members.map(({ calibrationId }) => calibrationId);
  const open = await openAmong(trx, ids);
  const wanted = ids.filter((id) => open.has(id));
  const loaded = await withPools(trx, await loadCalibrations(trx, wanted, options));
  return wanted.flatMap((id) => loaded.get(id) ?? []);
};

/** The air of the room holds for every open vessel of the round from now on. @returns ids of their calibrations */
export const readRoundConditions = async (writing: Writing, round: StoredRound, body: ConditionsBody) => {
  const open = await openOf(writing, round, { trials: false });
  if (open.length === 0)
    throw new Problem('state-conflict', { detail: 'Every calibration of this round has left the bench.' });
  for (const stored of open) await readConditions(writing, stored, body);
  return open.map(({ id }) => id);
};

/**
 * Vessels whose planned trials are done leave the bench; the spread pooled over the lot is taken for each as it stands
 * before any of them leaves. @returns ids of their calibrations
 */
export const finishRound = async (writing: Writing, round: StoredRound, vesselIds: string[] | undefined) => {
  const open = await openOf(writing, round, { trials: true });
  const named = vesselIds && new Set(vesselIds);
  const asked = open.filter((stored) => (named ? named.has(stored.vessel.id) : isFulfilled(stored)));
  if (asked.length === 0)
    throw new Problem('state-conflict', { detail: 'No open vessel of this round has its planned trials.' });
  for (const stored of asked) await finishMeasuring(writing, stored, undefined);
  return asked.map(({ id }) => id);
};

/** The balance was looked at with an empty pan. @returns number of the look in its round */
export const checkZero = async (
  { trx, at, actor, journal }: Writing,
  round: StoredRound,
  { readingG, afterVessels, note }: { readingG: string; afterVessels: number; note?: string | undefined },
): Promise<number> => {
  const balanceId = round.plan.instruments.balanceId ?? null;
  const check = { balanceId, afterVessels, readingG, note: note || null, at, by: actor };
  const { lotId, number: roundNumber } = round;
  const number = await insertZeroCheck(trx, { lotId, round: roundNumber, check });
  journal({
    act: 'zero-checked',
    object: `lot/${lotId}`,
    before: null,
    after: { round: roundNumber, number, balanceId, afterVessels, readingG, note: note || null },
  });
  return number;
};
