/** A solution that was made goes into the record, and later its end and what is decided about it. */
import { createHash } from 'node:crypto';
import { localDay } from '../clock.ts';
import type { PreparationTable } from '../db/preparation-tables.ts';
import type { Writing } from '../db/write.ts';
import { findVessel } from '../glassware/store.ts';
import { findInstrument } from '../instruments/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { ATOMIC_WEIGHTS_SOURCE } from '../metrology/solutions/atomic-weights.ts';
import { SOLUTIONS_VERSION, VERSIONS } from '../metrology/versions.ts';
import { invalid, notFound, Problem, type FieldProblem } from '../problem.ts';
import { newId } from '../requests.ts';
import type { DecisionBody, EndBody, PreparationBody } from './contract-record.ts';
import type { SolutionResult } from './contract.ts';
import { Gathering, newestUsable } from './gathering.ts';
import { solve } from './solving.ts';
import { decisionsOf, endsOf, insertDecision, insertEnd } from './store-decisions.ts';
import {
  findPreparation,
  insertPreparation,
  nextNumber,
  type FrozenSolution,
  type NewPreparation,
  type PreparationInstrument,
  type PreparationVessel,
} from './store.ts';

const refusalsOf = (body: PreparationBody, madeOn: string, today: string): FieldProblem[] => {
  const refusals: FieldProblem[] = [];
  if (madeOn > today)
    refusals.push({ pointer: '#/madeOn', detail: `${madeOn} lies in the future; today is ${today}.` });
  if (body.expiresOn !== undefined && body.expiresOn < madeOn)
    refusals.push({ pointer: '#/expiresOn', detail: `${body.expiresOn} lies before the day it was made, ${madeOn}.` });
  if (body.solution.way === 'solid' && body.solution.weighing === undefined)
    refusals.push({ pointer: '#/solution/weighing', detail: 'Weigh the solid first: a plan alone is not kept.' });
  return refusals;
};

/** Each once: a vessel used ten times is one row. */
const once = <T>(rows: readonly T[]): T[] => [...new Map(rows.map((row) => [JSON.stringify(row), row])).values()];

const usedVessels = (gathering: Gathering): PreparationVessel[] =>
  once([
    ...gathering.vessels.map(({ vesselId, calibrationId, use }) => ({ vesselId, calibrationId, use })),
    ...gathering.vesselsInStock,
  ]);

const rowOf = (
  body: PreparationBody,
  frozen: FrozenSolution,
  about: { id: string; number: string; madeOn: string; at: string; actor: string },
): PreparationTable => {
  const { title, expiresOn, solution } = body;
  const result = JSON.stringify(frozen);
  const words = [about.number, title, body.lots, solution.way === 'solid' ? solution.substance.formula : ''];
  return {
    id: about.id,
    number: about.number,
    way: solution.way,
    title,
    made_on: about.madeOn,
    expires_on: expiresOn ?? null,
    accuracy_percent: solution.accuracyPercent ?? null,
    hazard_line: body.hazardLine || null,
    water: body.water || null,
    lots: body.lots || null,
    note: body.note || null,
    search_text: words.filter(Boolean).join(' ').toLowerCase(),
    inputs: JSON.stringify(solution),
    result,
    result_hash: createHash('sha256').update(result).digest('hex'),
    recorded_at: about.at,
    recorded_by: about.actor,
  };
};

const tellOfUse = (journal: Writing['journal'], { row, vessels, instruments }: NewPreparation): void => {
  const object = `preparation/${row.id}`;
  for (const [index, used] of vessels.entries())
    journal({ act: 'preparation-vessel-used', object, before: null, after: { number: index + 1, ...used } });
  for (const [index, used] of instruments.entries())
    journal({ act: 'preparation-instrument-used', object, before: null, after: { number: index + 1, ...used } });
};

export const recordPreparation = async (
  { trx, at, actor, journal }: Writing,
  body: PreparationBody,
): Promise<{ id: string; number: string; result: SolutionResult }> => {
  const today = localDay(new Date(at));
  const madeOn = body.madeOn ?? today;
  const gathering = new Gathering(trx, { actor, now: new Date(at), base: '#/solution', madeOn });
  const refusals = refusalsOf(body, madeOn, today);
  if (refusals.length > 0) throw invalid(refusals);
  const { result, recipe } = await solve(gathering, body.solution);
  const { waterDensity, airDensity, tolerances } = VERSIONS;
  const atomicWeights = ATOMIC_WEIGHTS_SOURCE.source;
  const versions = { model: SOLUTIONS_VERSION, atomicWeights, waterDensity, airDensity, tolerances };
  const about = { id: newId(), number: await nextNumber(trx), madeOn, at, actor };
  const row = rowOf(body, { result, recipe, versions }, about);
  const instruments: PreparationInstrument[] = once(gathering.instruments);
  const made = { row, vessels: usedVessels(gathering), instruments };
  await insertPreparation(trx, made);
  journal({
    act: 'preparation-recorded',
    object: `preparation/${row.id}`,
    before: null,
    after: withoutGaps({
      number: row.number,
      way: row.way,
      title: row.title,
      madeOn,
      expiresOn: row.expires_on,
      accuracyPercent: row.accuracy_percent,
      hazardLine: row.hazard_line,
      water: row.water,
      lots: row.lots,
      note: row.note,
      solution: body.solution,
      resultHash: row.result_hash,
    }),
  });
  tellOfUse(journal, made);
  return { id: row.id, number: row.number, result };
};

/** @throws Problem where there is no such preparation, or it has ended */
export const endPreparation = async (
  { trx, at, actor, journal }: Writing,
  id: string,
  { ending, reason }: EndBody,
): Promise<void> => {
  const stored = await findPreparation(trx, id);
  if (!stored) throw notFound('preparation');
  const ended = (await endsOf(trx, [id])).get(id);
  if (ended) {
    const word = ended.ending === 'used-up' ? 'used up' : 'discarded';
    throw new Problem('state-conflict', {
      detail: `${stored.number} was ${word} on ${ended.at.slice(0, 10)} already.`,
    });
  }
  await insertEnd(trx, id, { ending, reason, at, by: actor });
  journal({ act: 'preparation-ended', object: `preparation/${id}`, before: null, after: { ending, reason } });
};

const causeOf = async ({ trx }: Writing, { vesselId, instrumentId }: DecisionBody) => {
  const none = { vesselId: null, calibrationId: null, instrumentId: null, instrumentVersion: null };
  if (vesselId !== undefined) {
    if (!(await findVessel(trx, vesselId)))
      throw invalid([{ pointer: '#/vesselId', detail: 'There is no vessel with this id.' }]);
    return { ...none, vesselId, calibrationId: (await newestUsable(trx, vesselId))?.id ?? null };
  }
  const instrument = await findInstrument(trx, instrumentId ?? '');
  if (!instrument) throw invalid([{ pointer: '#/instrumentId', detail: 'There is no instrument with this id.' }]);
  return { ...none, instrumentId: instrument.id, instrumentVersion: instrument.version };
};

/** @throws Problem where there is no such preparation, vessel or instrument */
export const decidePreparation = async (
  writing: Writing,
  id: string,
  body: DecisionBody,
): Promise<{ number: number }> => {
  const { trx, at, actor, journal } = writing;
  if (!(await findPreparation(trx, id))) throw notFound('preparation');
  const cause = await causeOf(writing, body);
  const number = ((await decisionsOf(trx, [id])).get(id)?.length ?? 0) + 1;
  const { decision, reason } = body;
  await insertDecision(trx, id, { number, ...cause, decision, reason, at, by: actor });
  journal({
    act: 'preparation-decided',
    object: `preparation/${id}`,
    before: null,
    after: { number, ...cause, decision, reason },
  });
  return { number };
};
