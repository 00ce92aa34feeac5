/** What is due between two days. */
import type { Reading } from '../db/logbook.ts';
import { listInstruments } from '../instruments/store.ts';
import type { DueInstrument, DueVessels } from './calendar.ts';

const TAGS_NAMED = 30;
const MOST_INSTRUMENTS = 500;

/** Days with vessels that are due, each with their number and the first of their tags. */
export const vesselsDue = async (db: Reading, from: string, to: string): Promise<DueVessels[]> => {
  const rows = await db
    .selectFrom('vessel')
    .select(['due_on', 'tag'])
    .where('due_on', '>=', from)
    .where('due_on', '<=', to)
    .orderBy('due_on')
    .orderBy('tag')
    .execute();
  const days = new Map<string, { dueOn: string; count: number; tags: string[] }>();
  for (const { due_on: dueOn, tag } of rows) {
    if (dueOn === null) continue;
    const day = days.get(dueOn) ?? { dueOn, count: 0, tags: [] };
    day.count += 1;
    if (day.tags.length < TAGS_NAMED) day.tags.push(tag);
    days.set(dueOn, day);
  }
  return [...days.values()];
};

export const instrumentsDue = async (db: Reading, from: string, to: string): Promise<DueInstrument[]> => {
  const inUse = await listInstruments(db, { dueFrom: from, dueTo: to, limit: MOST_INSTRUMENTS });
  return inUse.flatMap(({ id, facts }) =>
    facts.dueOn === undefined ? [] : [{ id, tag: facts.tag, kind: facts.kind, dueOn: facts.dueOn }],
  );
};
