/** What must be settled before a calibration begins: points, day, instruments. */
import type { Reading } from '../db/logbook.ts';
import type { InstrumentBody } from '../instruments/contract.ts';
import { findInstrument } from '../instruments/store.ts';
import type { InstrumentFacts } from '../metrology/record.ts';
import type { FieldProblem } from '../problem.ts';
import type { CalibrationBody } from './contract.ts';
import { INSTRUMENT_ROLES, type InstrumentChoices, type InstrumentRole } from './store.ts';

const KIND_OF_ROLE: Record<InstrumentRole, string> = {
  balance: 'balance',
  thermometer: 'thermometer',
  barometer: 'barometer',
  hygrometer: 'hygrometer',
  airThermometer: 'thermometer',
};

/** The named instruments in their present revision, or what is wrong with the choice. */
export const chooseInstruments = async (
  db: Reading,
  named: CalibrationBody['instruments'],
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
    else {
      choices[role] = { id, version: found.version };
      facts[role] = found.facts;
    }
  }
  return { choices, facts, refusals };
};

export const dayRefusals = (performedOn: string, today: string): FieldProblem[] =>
  performedOn > today
    ? [{ pointer: '#/performedOn', detail: `${performedOn} lies in the future; today is ${today}.` }]
    : [];
