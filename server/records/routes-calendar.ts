import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { localDay } from '../clock.ts';
import type { Logbook } from '../db/logbook.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { calendarOf } from './calendar.ts';
import { instrumentsDue, vesselsDue } from './store-due.ts';

const DAY_MS = 86_400_000;
/** What is long overdue still stands in the calendar; what comes is told two years ahead. */
const DAYS_BACK = 365;
const DAYS_AHEAD = 730;

/** A program reads it by the token in its address; nobody signs in. */
export const calendarRoute: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.get(
    '/due/:token/calendar.ics',
    {
      config: { access: [], calendarFeed: true },
      schema: { params: z.object({ token: z.string().max(200) }), response: { 200: z.string() } },
    },
    async (_request, reply) => {
      const now = clock();
      const from = localDay(new Date(now.getTime() - DAYS_BACK * DAY_MS));
      const to = localDay(new Date(now.getTime() + DAYS_AHEAD * DAY_MS));
      const due = await logbook.read(async (db) => ({
        laboratory: (await readLaboratory(db)).name,
        vessels: await vesselsDue(db, from, to),
        instruments: await instrumentsDue(db, from, to),
      }));
      return reply.type('text/calendar; charset=utf-8').send(calendarOf(due, now));
    },
  );
};
