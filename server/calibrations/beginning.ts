/** What must be settled before a calibration begins: points, day, instruments. */
import { askUnlessConfirmed } from '../confirm.ts';
import type { Reading } from '../db/logbook.ts';
import type { StoredVessel } from '../glassware/store.ts';
import type { InstrumentBody } from '../instruments/contract.ts';
import { findInstrument } from '../instruments/store.ts';
import type { Defaults } from '../laboratory/contract.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { questionsForAir, refusalsForAir } from '../metrology/questions.ts';
import type { Basis, CalibrationRecord, InstrumentFacts } from '../metrology/record.ts';
import { invalid, Problem, type FieldProblem } from '../problem.ts';
import type { CalibrationBody } from './contract.ts';
import { pointRefusals } from './points.ts';
import { lotPools } from './store-lot-pool.ts';
import { asChoice, poolOf } from './store-pool.ts';
import { INSTRUMENT_ROLES, type InstrumentChoices, type InstrumentRole } from './store.ts';

const KIND_OF_ROLE: Record<InstrumentRole, string> = {
  balance: 'balance',
  thermometer: 'thermometer',
  barometer: 'barometer',
  hygrometer: 'hygrometer',
  airThermometer: 'thermometer',
};

/** The named instruments in their present revision, or what is wrong with the choice. */
const chooseInstruments = async (
  db: Reading,
  named: CalibrationBody['instruments'],
  today: string,
  overdueBlocks: boolean,
): Promise<{ choices: InstrumentChoices; facts: InstrumentFacts; refusals: FieldProblem[] }> => {
  const choices: InstrumentChoices = {};
  const facts: Partial<Record<InstrumentRole, InstrumentBody>> = {};
  const refusals: FieldProblem[] = [];
  for (const role of INSTRUMENT_ROLES) {
    const id = named[`${role}Id`];
    if (id === undefined) continue;
    const found = await findInstrument(db, id);
    const pointer = `#/instruments/${role}Id`;
    if (!found) refusals.push({ pointer, detail: `There is no ${KIND_OF_ROLE[role]} with the id ${id}.` });
    else if (found.facts.kind !== KIND_OF_ROLE[role])
      refusals.push({ pointer, detail: `${found.facts.tag} is a ${found.facts.kind}, not a ${KIND_OF_ROLE[role]}.` });
    else if (!found.inUse) refusals.push({ pointer, detail: `${found.facts.tag} is out of use.` });
    else if (overdueBlocks && found.facts.dueOn !== undefined && found.facts.dueOn < today)
      refusals.push({ pointer, detail: `The certificate of ${found.facts.tag} ran out on ${found.facts.dueOn}.` });
    else {
      choices[role] = { id, version: found.version };
      facts[role] = found.facts;
    }
  }
  return { choices, facts, refusals };
};

const dayRefusals = (performedOn: string, today: string): FieldProblem[] =>
  performedOn > today
    ? [{ pointer: '#/performedOn', detail: `${performedOn} lies in the future; today is ${today}.` }]
    : [];

/** A sheet says the day it was written; today would be a guess. */
const sheetRefusals = ({ origin, performedOn }: CalibrationBody): FieldProblem[] =>
  origin === 'sheet' && performedOn === undefined
    ? [{ pointer: '#/performedOn', detail: 'Type the day that stands on the sheet.' }]
    : [];

const lotRefusals = (vessel: StoredVessel, { repeatability }: CalibrationBody): FieldProblem[] =>
  repeatability?.use === 'pooled' && repeatability.over === 'lot' && vessel.lotId === null
    ? [{ pointer: '#/repeatability/over', detail: `${vessel.tag} belongs to no lot to pool over.` }]
    : [];

export type SettledBody = CalibrationBody &
  Required<Pick<CalibrationBody, 'decisionRule' | 'coverageProbability' | 'repeatability'>>;

/** A calibration as it would begin: what was left out is filled from the laboratory's defaults. */
export interface Settled {
  body: SettledBody;
  basis: Basis;
  performedOn: string;
  choices: InstrumentChoices;
  instruments: InstrumentFacts;
  laboratory: { altitudeM: string | null };
}

const withDefaults = (body: CalibrationBody, defaults: Defaults): SettledBody => ({
  ...body,
  decisionRule: body.decisionRule ?? defaults.decisionRule,
  coverageProbability: body.coverageProbability ?? defaults.coverageProbability,
  repeatability: body.repeatability ?? { use: defaults.repeatability },
});

/** @throws Problem where the calibration cannot begin so, or where something must be confirmed first */
export const settle = async (
  db: Reading,
  vessel: StoredVessel,
  body: CalibrationBody,
  today: string,
): Promise<Settled> => {
  if (!vessel.inUse)
    throw new Problem('state-conflict', { detail: `${vessel.tag} is out of use; put it back into use first.` });
  const { altitudeM, defaults } = await readLaboratory(db);
  const performedOn = body.performedOn ?? today;
  const { choices, facts, refusals } = await chooseInstruments(db, body.instruments, today, defaults.overdueBlocks);
  const laboratory = { altitudeM };
  const known = { laboratory, instruments: facts };
  const refused = [
    ...pointRefusals(vessel, body.points),
    ...sheetRefusals(body),
    ...dayRefusals(performedOn, today),
    ...refusals,
    ...lotRefusals(vessel, body),
    ...refusalsForAir(known, body.conditions, '#/conditions'),
  ];
  if (refused.length > 0) throw invalid(refused);
  askUnlessConfirmed(questionsForAir(known, body.conditions, '#/conditions'), body.conditions, body);
  const basis = body.basis ?? vessel.basis;
  return { body: withDefaults(body, defaults), basis, performedOn, choices, instruments: facts, laboratory };
};

const emptyRecord = (settled: Settled, vessel: StoredVessel): CalibrationRecord => ({
  vessel,
  basis: settled.basis,
  points: settled.body.points,
  plannedTrials: settled.body.plannedTrials,
  performedOn: settled.performedOn,
  decisionRule: settled.body.decisionRule,
  coverageProbability: settled.body.coverageProbability,
  repeatability: settled.body.repeatability,
  conditions: settled.body.conditions,
  instruments: settled.instruments,
  laboratory: settled.laboratory,
  trials: [],
});

/** The record before its first trial, for saying what this set-up can decide; a pooled spread is that of the record. */
export const recordBefore = async (db: Reading, settled: Settled, vessel: StoredVessel): Promise<CalibrationRecord> => {
  const record = emptyRecord(settled, vessel);
  const { repeatability } = settled.body;
  if (repeatability.use !== 'pooled' || repeatability.sdMl !== undefined) return record;
  const shared = { basis: settled.basis, points: settled.body.points, balanceId: settled.choices.balance?.id };
  const pool =
    repeatability.over === 'lot' && vessel.lotId !== null
      ? await lotPools(db)({ ...shared, lotId: vessel.lotId, vesselId: vessel.id })
      : await poolOf(db, { ...shared, vessel });
  return pool === null ? record : { ...record, repeatability: asChoice(pool, repeatability) };
};
