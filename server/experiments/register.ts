/** What the register says of the balance and the vessels that a plan names. */
import type { Reading } from '../db/logbook.ts';
import { presentTags } from '../glassware/store.ts';
import { findInstrumentRevisions } from '../instruments/store.ts';
import type { BalanceFacts } from '../metrology/record.ts';
import type { ExperimentPlan } from './contract.ts';
import type { Register } from './ware-facts.ts';

type Balances = Pick<ExperimentPlan, 'balances'>;

/**
 * The balance of every reading of a class, in the revision the plan was kept with. Null where the plan names several:
 * then nobody knows on which of them a trial was weighed.
 */
export const soleBalance = ({ balances }: Balances): { id: string; version: number } | null => {
  const [balance, ...others] = balances;
  const { instrumentId: id, instrumentVersion: version } = balance ?? {};
  return others.length > 0 || id === undefined || version === undefined ? null : { id, version };
};

const balanceFacts = async (db: Reading, plan: Balances): Promise<BalanceFacts | null> => {
  const wanted = soleBalance(plan);
  if (wanted === null) return null;
  const [found] = await findInstrumentRevisions(db, [wanted]);
  return found?.facts.kind === 'balance' ? found.facts : null;
};

export const registerOf = async (db: Reading, plan: Balances & Pick<ExperimentPlan, 'rows'>): Promise<Register> => ({
  balance: await balanceFacts(db, plan),
  tags: await presentTags(
    db,
    plan.rows.flatMap(({ vesselIds }) => vesselIds ?? []),
  ),
});
