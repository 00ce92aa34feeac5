/** Earlier classes that measured the same, so that years can be compared. */
import type { Reading } from '../db/logbook.ts';
import { numberOf } from '../metrology/decimal.ts';
import type { EarlierClass } from './contract-class.ts';
import type { WareRow } from './contract.ts';
import { figuresOf } from './figures-of.ts';
import { findExperiment, listExperiments, type StoredExperiment } from './store.ts';
import { classDataOf } from './view-class.ts';

/** Classes that are looked through, and those whose figures are worked out; both newest first. */
const MOST_LOOKED_AT = 500;
const MOST_TOLD = 20;

/** What makes rows the same to a class: which ware, which volume, weighed how. */
const measuredBy = (rows: readonly WareRow[]): string =>
  JSON.stringify(
    rows
      .map(({ key, kind, nominalVolumeMl, basis, referenceTemperatureC, drops = null }) => [
        ...[key, kind, numberOf(nominalVolumeMl), basis, numberOf(referenceTemperatureC), drops],
      ])
      .sort(([one], [other]) => (String(one) < String(other) ? -1 : 1)),
  );

const openedBefore = (one: StoredExperiment, other: StoredExperiment): boolean =>
  one.openedAt !== null && (other.openedAt === null || one.openedAt < other.openedAt);

/** Ended classes of the same template and the same rows, opened before this one; newest first, none made up. */
export const earlierThan = async (db: Reading, stored: StoredExperiment): Promise<string[]> => {
  const { template } = stored;
  const ended = await listExperiments(db, { state: 'closed', template, limit: MOST_LOOKED_AT });
  const rows = measuredBy(stored.plan.rows);
  return ended
    .filter((one) => !one.madeUp && openedBefore(one, stored) && measuredBy(one.plan.rows) === rows)
    .slice(0, MOST_TOLD)
    .map(({ id }) => id);
};

/** @returns null for one that was erased meanwhile */
export const earlierClassOf = async (db: Reading, id: string): Promise<EarlierClass | null> => {
  const stored = await findExperiment(db, id);
  if (!stored) return null;
  const data = await classDataOf(db, stored);
  const { title, openedAt, closedAt, groups } = data;
  return {
    ...{ id, title, openedAt, closedAt, groups: groups.length },
    rows: figuresOf(data, 'corrected').map((figures) => ({
      key: figures.key,
      n: figures.n,
      groups: figures.groups,
      meanMl: figures.meanMl,
      biasMl: figures.biasMl,
      sdMl: figures.sdMl,
      repeatabilitySdMl: figures.repeatabilitySdMl,
      betweenSdMl: figures.betweenSdMl,
      withinRoomSdMl: figures.withinRoomSdMl,
      meanUncertaintyMl: figures.meanUncertaintyMl,
    })),
  };
};
