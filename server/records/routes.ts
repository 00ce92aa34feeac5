import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { listCalibrations } from '../calibrations/view-list.ts';
import { localDay } from '../clock.ts';
import type { Logbook, Reading } from '../db/logbook.ts';
import type { VesselListItem } from '../glassware/contract.ts';
import { listItems } from '../glassware/view.ts';
import { instrumentOnWire } from '../instruments/view.ts';
import { listInstruments } from '../instruments/store.ts';
import { EVERYONE } from '../people/access.ts';
import { calendarRoute } from './routes-calendar.ts';
import { auditRoutes } from './routes-audit.ts';
import { today as todayShape, type Today } from './contract.ts';
import { countAll, vesselsLastCalibrated } from './store.ts';

const LONGEST_LIST = 10;
const LOOKED_AT = 200;
const NOT_PASSING = new Set(['fail', 'conditional-fail', 'not-decidable']);

const needsAttention = (item: VesselListItem): boolean =>
  item.inUse && item.latest !== null && item.latest.verdict !== null && NOT_PASSING.has(item.latest.verdict);

const gather = async (db: Reading, day: string): Promise<Today> => {
  const recent = await listItems(db, await vesselsLastCalibrated(db, LOOKED_AT));
  const open = await listCalibrations(db, { state: 'open', limit: LONGEST_LIST });
  const overdue = await listInstruments(db, { overdueOn: day, limit: LONGEST_LIST });
  return {
    open: open.items,
    counts: await countAll(db),
    failing: recent.filter(needsAttention).slice(0, LONGEST_LIST),
    overdueInstruments: overdue.map((stored) => instrumentOnWire(stored, day)),
    recent: recent.slice(0, LONGEST_LIST),
  };
};

export const recordsRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.get('/today', { config: { access: EVERYONE }, schema: { response: { 200: todayShape } } }, async () =>
    logbook.read((db) => gather(db, localDay(clock()))),
  );
  await app.register(auditRoutes, options);
  await app.register(calendarRoute, options);
};
