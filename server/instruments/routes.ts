import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { localDay } from '../clock.ts';
import type { Logbook } from '../db/logbook.ts';
import { withoutGaps } from '../journal/values.ts';
import { BENCH, EVERYONE } from '../people/access.ts';
import { invalid, notFound, Problem } from '../problem.ts';
import {
  creating,
  decodeCursor,
  editing,
  encodeCursor,
  expectedVersion,
  newId,
  requireVersion,
  send,
} from '../requests.ts';
import { id } from '../wire.ts';
import {
  instrument,
  INSTRUMENT_KINDS,
  instrumentBody,
  instrumentChange,
  instrumentPage,
  instrumentWithHistory,
} from './contract.ts';
import { checkRoute } from './routes-checks.ts';
import {
  checksOf,
  findInstrument,
  insertInstrument,
  instrumentRevisions,
  instrumentsWithTag,
  listInstruments,
  reviseInstrument,
} from './store.ts';
import { checkOnWire, instrumentOnWire } from './view.ts';

const query = z.strictObject({
  kind: z.enum(INSTRUMENT_KINDS).optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(100),
});

const duplicateTag = (tag: string, pointer = '#/tag'): Problem => {
  const detail = `The tag ${tag} belongs, or once belonged, to another instrument.`;
  return new Problem('duplicate', { detail, errors: [{ pointer, detail }] });
};

const registering: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, { logbook, clock }) => {
  app.post(
    '/instruments',
    { config: { access: BENCH }, schema: { body: instrumentBody, response: { 201: instrument } } },
    async (request, reply) => {
      const facts = request.body;
      const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
        if ((await instrumentsWithTag(trx, facts.tag)).length > 0) throw duplicateTag(facts.tag);
        const stored = { id: newId(), version: 1, facts, inUse: true, reason: null, recordedAt: at, recordedBy: actor };
        await insertInstrument(trx, stored);
        journal({
          act: 'instrument-registered',
          object: `instrument/${stored.id}`,
          before: null,
          after: withoutGaps(facts),
        });
        return { status: 201, body: instrumentOnWire(stored, localDay(clock())) };
      });
      return send(reply, answer);
    },
  );
};

const reading: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, { logbook, clock }) => {
  app.get(
    '/instruments',
    { config: { access: EVERYONE }, schema: { querystring: query, response: { 200: instrumentPage } } },
    async (request) => {
      const { kind, cursor, limit } = request.query;
      const afterTag = cursor === undefined ? undefined : decodeCursor(cursor, 1)[0];
      const found = await logbook.read((db) => listInstruments(db, { kind, afterTag, limit: limit + 1 }));
      const items = found.slice(0, limit).map((stored) => instrumentOnWire(stored, localDay(clock())));
      const last = items.at(-1);
      return { items, next: found.length > limit && last ? encodeCursor([last.tag]) : null };
    },
  );

  app.get(
    '/instruments/:id',
    { config: { access: EVERYONE }, schema: { params: z.object({ id }), response: { 200: instrumentWithHistory } } },
    async (request) => {
      const { revisions, checks } = await logbook.read(async (db) => ({
        revisions: await instrumentRevisions(db, request.params.id),
        checks: await checksOf(db, request.params.id),
      }));
      const present = revisions.at(-1);
      if (!present) throw notFound('instrument');
      return {
        ...instrumentOnWire(present, localDay(clock())),
        checks: checks.map(checkOnWire),
        revisions: revisions.map(({ version, recordedAt, recordedBy, reason, facts }) => ({
          version,
          at: recordedAt,
          by: recordedBy,
          reason,
          certificateNumber: facts.certificateNumber ?? null,
        })),
      };
    },
  );
};

/** A new certificate, a place, a slip: the whole instrument again, with the reason. */
const changing: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, { logbook, clock }) => {
  app.patch(
    '/instruments/:id',
    {
      config: { access: BENCH },
      schema: { params: z.object({ id }), body: instrumentChange, response: { 200: instrument } },
    },
    async (request, reply) => {
      const expected = expectedVersion(request);
      const { instrument: facts, inUse, reason } = request.body;
      const answer = await logbook.write(editing(request), async ({ trx, at, actor, journal }) => {
        const present = await findInstrument(trx, request.params.id);
        if (!present) throw notFound('instrument');
        requireVersion(expected, present.version, instrumentOnWire(present, localDay(clock())));
        if (facts.kind !== present.facts.kind)
          throw invalid([
            {
              pointer: '#/instrument/kind',
              detail: `This instrument is a ${present.facts.kind}; register another one instead.`,
            },
          ]);
        const holders = await instrumentsWithTag(trx, facts.tag);
        if (holders.some((holder) => holder !== present.id)) throw duplicateTag(facts.tag, '#/instrument/tag');
        const stored = {
          id: present.id,
          version: present.version + 1,
          facts,
          inUse,
          reason,
          recordedAt: at,
          recordedBy: actor,
        };
        await reviseInstrument(trx, stored);
        journal({
          act: 'instrument-changed',
          object: `instrument/${stored.id}`,
          before: withoutGaps({ ...present.facts, inUse: present.inUse }),
          after: withoutGaps({ ...facts, inUse, reason }),
        });
        return { status: 200, body: instrumentOnWire(stored, localDay(clock())) };
      });
      return send(reply, answer);
    },
  );
};

export const instrumentRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (
  app,
  options,
) => {
  await registering(app, options);
  await reading(app, options);
  await changing(app, options);
  await checkRoute(app, options);
};
