/** Which vessels a paper is asked for. */
import type { Reading } from '../db/logbook.ts';
import { findLot, vesselsOfLots } from '../lots/store.ts';
import { notFound } from '../problem.ts';
import { MOST_LABELS, type VesselChoice } from './contract.ts';

/**
 * Ids of the vessels asked for, those of a lot in the order of their tags.
 * @throws Problem `not-found` where there is no such lot
 */
export const chosenVessels = async (db: Reading, { vessels, lot }: VesselChoice): Promise<string[]> => {
  if (lot === undefined) return vessels ?? [];
  if (!(await findLot(db, lot))) throw notFound('lot');
  return (await vesselsOfLots(db, [lot])).map(({ id }) => id).slice(0, MOST_LABELS);
};
