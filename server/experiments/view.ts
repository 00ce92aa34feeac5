/** Stored experiments as the wire shows them. */
import type { Reading } from '../db/logbook.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { holdsAtClosing } from './closing.ts';
import type { ClassCounts, Experiment, ExperimentItem } from './contract.ts';
import { foresightOf } from './foresight.ts';
import { countsOf, countsOfOne, noCounts, type StoredExperiment } from './store.ts';
import { registerOf } from './register.ts';
import { rowOnWire, wares, type Ware } from './ware-facts.ts';

const headOf = (stored: StoredExperiment, counts: ClassCounts): ExperimentItem => ({
  id: stored.id,
  version: stored.version,
  change: stored.change,
  state: stored.state,
  madeUp: stored.madeUp,
  template: stored.template,
  title: stored.plan.title,
  question: stored.plan.question,
  openedAt: stored.openedAt,
  endsAt: stored.endsAt,
  closedAt: stored.closedAt,
  namesRemovedAt: stored.namesRemovedAt,
  recordedAt: stored.recordedAt,
  recordedBy: stored.recordedBy,
  counts,
});

/** The rows of an experiment, ready to compute with. */
export const waresOf = async (db: Reading, { plan }: StoredExperiment): Promise<ReadonlyMap<string, Ware>> =>
  wares(plan, (await readLaboratory(db)).altitudeM, await registerOf(db, plan));

export const experimentOnWire = async (db: Reading, stored: StoredExperiment): Promise<Experiment> => {
  const counts = await countsOfOne(db, stored.id);
  const { plan } = stored;
  return {
    ...headOf(stored, counts),
    ...plan,
    balances: plan.balances.map(({ instrumentVersion: _kept, ...balance }) => balance),
    rows: [...(await waresOf(db, stored)).values()].map(rowOnWire),
    namesHidden: stored.namesHidden,
    predictionsShown: stored.predictionsShown,
    joiningOpen: stored.joiningOpen,
    foresight: foresightOf(plan),
    closing:
      stored.closingHash === null
        ? null
        : { hash: stored.closingHash, holds: await holdsAtClosing(db, stored, stored.closingHash) },
  };
};

export const experimentItems = async (db: Reading, listed: readonly StoredExperiment[]): Promise<ExperimentItem[]> => {
  const counts = await countsOf(
    db,
    listed.map(({ id }) => id),
  );
  return listed.map((stored) => headOf(stored, counts.get(stored.id) ?? noCounts()));
};
