/** Keeps the demonstration out of a logbook that holds somebody's own glassware. */
import type { Logbook, Reading } from '../db/logbook.ts';
import { listVessels, tagsOf } from '../glassware/store.ts';
import { listInstruments } from '../instruments/store.ts';
import { numberedTags } from '../lots/numbering.ts';
import { isDemonstration } from '../laboratory/store.ts';
import { DemoRefused } from './refused.ts';
import type { DemoTables, Row } from './rows.ts';

const PAGE = 200;

/** The first vessel none of whose tags, present or former, is one of the demonstration's. */
const foreignVessel = async (db: Reading, known: ReadonlySet<string>): Promise<string | null> => {
  let afterTag: string | undefined;
  for (;;) {
    const listed = await listVessels(db, { afterTag, limit: PAGE });
    const tags = await tagsOf(
      db,
      listed.map(({ vessel }) => vessel.id),
    );
    const foreign = listed.find(({ vessel }) => !(tags.get(vessel.id) ?? []).some((tag) => known.has(tag)));
    if (foreign) return foreign.vessel.tag;
    afterTag = listed.at(-1)?.vessel.tag;
    if (listed.length < PAGE || afterTag === undefined) return null;
  }
};

const tagsOfLot = (row: Row): string[] => {
  const numbered = numberedTags(row['pattern'] ?? '', Number(row['first']), Number(row['count']));
  return numbered.ok ? numbered.tags : [];
};

/** Something in the logbook that is no demonstration: what it is, in words; null for nothing. */
const foreign = async (db: Reading, tables: DemoTables): Promise<string | null> => {
  const demonstration = await isDemonstration(db);
  const tagsIn = (rows: DemoTables['vessels']) => new Set(demonstration ? rows.map((row) => row['tag'] ?? '') : []);
  const delivered = demonstration ? tables.lots.flatMap(tagsOfLot) : [];
  const vessel = await foreignVessel(db, new Set([...tagsIn(tables.vessels), ...delivered]));
  if (vessel !== null) return `the vessel ${vessel}`;
  const known = tagsIn(tables.instruments);
  const instruments = await listInstruments(db, { limit: PAGE });
  const instrument = instruments.find(({ facts }) => !known.has(facts.tag));
  return instrument === undefined ? null : `the instrument ${instrument.facts.tag}`;
};

/** @throws DemoRefused where the logbook holds vessels or instruments that are no demonstration */
export const refuseForeign = async (logbook: Logbook, tables: DemoTables): Promise<void> => {
  const found = await logbook.read((db) => foreign(db, tables));
  if (found === null) return;
  throw new DemoRefused(
    `This logbook holds ${found}, which is not demonstration data, so nothing was loaded. ` +
      'Name an empty folder in TAREBOOK_DATA and load the demonstration there.',
  );
};
