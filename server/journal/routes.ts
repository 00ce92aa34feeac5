import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { RECORDS } from '../people/access.ts';
import { decodeCursor, encodeCursor } from '../requests.ts';
import type { JournalChecking } from './checking.ts';
import { journalCheck, journalHead, journalPage, journalQuery, journalWords } from './contract.ts';
import { headOf, listEntries, namesOf, wordsIn, type JournalSearch } from './store-list.ts';

const NUMBER = /^\d{1,15}$/;

/** A day of the query begins and ends on the laboratory's own clock. */
const instantOf = (day: string, daysLater: number): string => {
  const moment = new Date(`${day}T00:00:00`);
  moment.setDate(moment.getDate() + daysLater);
  return moment.toISOString();
};

const searchOf = (query: z.infer<typeof journalQuery>): JournalSearch => {
  const { object, act, actor, from, to, search, cursor, limit } = query;
  const below = cursor === undefined ? '' : (decodeCursor(cursor, 1)[0] ?? '');
  return {
    object,
    act,
    actor,
    search,
    from: from === undefined ? undefined : instantOf(from, 0),
    before: to === undefined ? undefined : instantOf(to, 1),
    belowNumber: NUMBER.test(below) ? Number(below) : undefined,
    limit: limit + 1,
  };
};

interface JournalRoutesOptions {
  logbook: Logbook;
  checking: JournalChecking;
}

export const journalRoutes: FastifyPluginAsyncZod<JournalRoutesOptions> = async (app, { logbook, checking }) => {
  app.get(
    '/journal',
    { config: { access: RECORDS }, schema: { querystring: journalQuery, response: { 200: journalPage } } },
    async (request) =>
      logbook.read(async (db) => {
        const found = await listEntries(db, searchOf(request.query));
        const shown = found.slice(0, request.query.limit);
        const names = await namesOf(
          db,
          shown.map((entry) => entry.object),
        );
        const last = shown.at(-1);
        return {
          items: shown.map((entry) => ({ ...entry, name: names.get(entry.object) ?? null })),
          next: found.length > shown.length && last ? encodeCursor([String(last.number)]) : null,
        };
      }),
  );

  app.get('/journal/head', { config: { access: RECORDS }, schema: { response: { 200: journalHead } } }, async () =>
    logbook.read(headOf),
  );

  app.get('/journal/words', { config: { access: RECORDS }, schema: { response: { 200: journalWords } } }, async () =>
    logbook.read(wordsIn),
  );

  app.get('/journal/check', { config: { access: RECORDS }, schema: { response: { 200: journalCheck } } }, async () =>
    checking.state(),
  );

  app.post(
    '/journal/check',
    { config: { access: RECORDS }, schema: { response: { 202: journalCheck } } },
    async (_request, reply) => reply.code(202).send(checking.start()),
  );
};
