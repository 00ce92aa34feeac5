import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { listCalibrations } from '../calibrations/view-list.ts';
import { localDay } from '../clock.ts';
import type { Logbook, Reading } from '../db/logbook.ts';
import type { VesselListItem } from '../glassware/contract.ts';
import type { VesselDecision } from '../glassware/contract-decisions.ts';
import { decisionsOf } from '../glassware/store-decisions.ts';
import { listVessels } from '../glassware/store.ts';
import { listItems } from '../glassware/view.ts';
import { instrumentOnWire } from '../instruments/view.ts';
import { listInstruments } from '../instruments/store.ts';
import { listLots } from '../lots/store.ts';
import { lotsOnWire } from '../lots/view.ts';
import { asksForDecision } from '../metrology/verdict.ts';
import { EVERYONE } from '../people/access.ts';
import { calendarRoute } from './routes-calendar.ts';
import { auditRoutes } from './routes-audit.ts';
import { today as todayShape, type Today } from './contract.ts';
import { countAll, countDue, vesselsLastCalibrated } from './store.ts';

const DAY_MS = 86_400_000;
const LONGEST_LIST = 10;
const LOOKED_AT = 200;
const LOTS_LOOKED_AT = 30;
const DAYS_AHEAD = 31;
/** Before every due date. */
const EVER_SINCE = '0000-01-01';

const needsDecision = (item: VesselListItem, decided: Map<string, VesselDecision[]>): boolean =>
  item.inUse &&
  item.latest !== null &&
  asksForDecision(item.latest.verdict) &&
  !(decided.get(item.id) ?? []).some(({ calibrationId }) => calibrationId === item.latest?.id);

const hasResult = ({ latest }: VesselListItem): boolean => latest?.points.some(({ n }) => n > 0) === true;

const failingAmong = async (db: Reading, items: readonly VesselListItem[]): Promise<VesselListItem[]> => {
  const decided = await decisionsOf(
    db,
    items.map(({ id }) => id),
  );
  return items.filter((item) => needsDecision(item, decided)).slice(0, LONGEST_LIST);
};

const dueUntil = async (db: Reading, until: string, day: string): Promise<Today['due']> => {
  const instruments = await listInstruments(db, { dueFrom: EVER_SINCE, dueTo: until, limit: 100 });
  return {
    until,
    vessels: await listItems(db, await listVessels(db, { dueBy: until, limit: LONGEST_LIST })),
    vesselCount: await countDue(db, until),
    instruments: instruments
      .map((stored) => instrumentOnWire(stored, day))
      .toSorted((one, other) => (one.dueOn ?? '').localeCompare(other.dueOn ?? '')),
  };
};

const unfinishedLots = async (db: Reading): Promise<Today['lots']> => {
  const lots = await lotsOnWire(db, await listLots(db, { limit: LOTS_LOOKED_AT }));
  // An accepted delivery may be used as it is; what is left of it to measure presses nobody.
  return lots
    .filter(({ progress, decisions }) => progress.notBegun + progress.open > 0 && decisions[0]?.decision !== 'accept')
    .slice(0, LONGEST_LIST);
};

const gather = async (db: Reading, now: Date): Promise<Today> => {
  const day = localDay(now);
  const recent = await listItems(db, await vesselsLastCalibrated(db, LOOKED_AT));
  const open = await listCalibrations(db, { state: 'open', limit: LONGEST_LIST });
  return {
    open: open.items,
    counts: await countAll(db),
    failing: await failingAmong(db, recent),
    due: await dueUntil(db, localDay(new Date(now.getTime() + DAYS_AHEAD * DAY_MS)), day),
    lots: await unfinishedLots(db),
    recent: recent.filter(hasResult).slice(0, LONGEST_LIST),
  };
};

export const recordsRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.get('/today', { config: { access: EVERYONE }, schema: { response: { 200: todayShape } } }, async () =>
    logbook.read((db) => gather(db, clock())),
  );
  await auditRoutes(app, options);
  await calendarRoute(app, options);
};
