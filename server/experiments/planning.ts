/** What cannot be planned, and what is asked before it is. */
import { askUnlessConfirmed } from '../confirm.ts';
import type { Reading } from '../db/logbook.ts';
import { findVessel } from '../glassware/store.ts';
import { findInstrument } from '../instruments/store.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { questionsForAir, questionsForVessel, type Question } from '../metrology/questions.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { refusalsForVessel } from '../metrology/vessel-refusals.ts';
import { invalid, type FieldProblem } from '../problem.ts';
import type { ExperimentPlan, WareRow } from './contract.ts';
import { wareOf } from './ware-facts.ts';

const at = (index: number, pointer: string): string => `#/rows/${index}${pointer.slice(1)}`;

/** A row may go without a tolerance: a beaker of the bench has none. */
const refusalsForRow = (row: WareRow, index: number): FieldProblem[] => {
  const { vessel } = wareOf({ conditions: {}, balances: [] }, row, null).record;
  return refusalsForVessel(toleranceRows, vessel)
    .filter(({ pointer }) => pointer !== '#/tolerance' || row.tolerance !== undefined)
    .map(({ pointer, detail }) => ({ pointer: at(index, pointer), detail }));
};

const unknownVessels = async (db: Reading, row: WareRow, index: number): Promise<FieldProblem[]> => {
  const refusals: FieldProblem[] = [];
  for (const [place, id] of (row.vesselIds ?? []).entries())
    if (!(await findVessel(db, id)))
      refusals.push({ pointer: `#/rows/${index}/vesselIds/${place}`, detail: 'The register has no such vessel.' });
  return refusals;
};

type Balance = ExperimentPlan['balances'][number];

/** A registered balance brings its last digit along, and its corrections in the revision of this day. */
const knownBalance = async (
  db: Reading,
  balance: Balance,
  index: number,
  refusals: FieldProblem[],
): Promise<Balance> => {
  if (balance.instrumentId === undefined) return balance;
  const instrument = await findInstrument(db, balance.instrumentId);
  const refused = (detail: string): Balance => {
    refusals.push({ pointer: `#/balances/${index}/instrumentId`, detail });
    return balance;
  };
  if (instrument?.facts.kind !== 'balance') return refused('The register has no such balance.');
  if (!instrument.inUse) return refused(`${instrument.facts.tag} is out of use.`);
  const resolutionG = instrument.facts.resolutionG ?? balance.resolutionG;
  const known = { ...balance, instrumentVersion: instrument.version };
  return resolutionG === undefined ? known : { ...known, resolutionG };
};

/** Asked where something of it is typed anew: an unusual air pressure, a mark far from that of its class. */
const questionsFor = (plan: ExperimentPlan, typed: Partial<ExperimentPlan>, altitudeM: string | null): Question[] => {
  const ofAir = typed.conditions
    ? questionsForAir({ laboratory: { altitudeM } }, typed.conditions, '#/conditions')
    : [];
  const ofRows = (typed.rows ? plan.rows : []).flatMap((row, index) => {
    const { vessel } = wareOf(plan, row, altitudeM).record;
    return questionsForVessel(toleranceRows, vessel).map((question) => ({
      ...question,
      pointer: at(index, question.pointer),
    }));
  });
  return [...ofAir, ...ofRows];
};

interface Asked {
  confirm?: readonly string[] | undefined;
  note?: string | undefined;
}

/**
 * The plan as it can be kept.
 * @param typed what of it came with this request
 * @throws Problem `validation-failed`, `please-confirm`
 */
export const keepablePlan = async (
  db: Reading,
  plan: ExperimentPlan,
  typed: Partial<ExperimentPlan>,
  asked: Asked,
): Promise<ExperimentPlan> => {
  const refusals: FieldProblem[] = [];
  for (const [index, row] of plan.rows.entries())
    refusals.push(...refusalsForRow(row, index), ...(await unknownVessels(db, row, index)));
  // A plan that is changed elsewhere keeps its balances as they were.
  const balances: Balance[] = typed.balances ? [] : plan.balances;
  for (const [index, balance] of (typed.balances ?? []).entries())
    balances.push(await knownBalance(db, balance, index, refusals));
  if (refusals.length > 0) throw invalid(refusals);
  askUnlessConfirmed(questionsFor(plan, typed, (await readLaboratory(db)).altitudeM), asked);
  return { ...plan, balances };
};
