import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { localDay } from '../clock.ts';
import { askUnlessConfirmed } from '../confirm.ts';
import type { Logbook, Reading } from '../db/logbook.ts';
import type { StoredVessel } from '../glassware/store.ts';
import { vesselOnWire } from '../glassware/view.ts';
import { BENCH, EVERYONE } from '../people/access.ts';
import { invalid, notFound, Problem } from '../problem.ts';
import { creating, decodeCursor, editing, encodeCursor, expectedVersion, requireVersion, send } from '../requests.ts';
import { id } from '../wire.ts';
import {
  lotBody,
  lotChange,
  lotCreated,
  lotPage,
  lotPreview,
  lotQuery,
  lotWithVessels,
  type LotBody,
  type LotChange,
} from './contract.ts';
import { previewRows, questionsForWare, refuseRows, refuseWare, sampleOf } from './previewing.ts';
import { registerLot, told } from './register.ts';
import { decidingRoutes } from './routes-deciding.ts';
import { inspectionRoutes } from './routes-inspections.ts';
import { roundRoutes } from './routes-rounds.ts';
import { findLot, listLots, lotWithName, reviseLot, type StoredLot } from './store.ts';
import { lotOnWire, lotsOnWire } from './view.ts';

interface LotRoutesOptions {
  logbook: Logbook;
  clock: () => Date;
}

const params = z.object({ id });

const refuseDay = (receivedOn: string, today: string): void => {
  if (receivedOn <= today) return;
  const detail = `${receivedOn} lies in the future; today is ${today}.`;
  throw invalid([{ pointer: '#/receivedOn', detail }]);
};

const duplicateName = (name: string): Problem => {
  const detail = `Another lot is named ${name}.`;
  return new Problem('duplicate', { detail, errors: [{ pointer: '#/name', detail }] });
};

/** What stands in the way of the delivery as a whole, whatever its vessels are called. */
const refuseAbout = async (db: Reading, body: LotBody, sample: StoredVessel, today: string): Promise<void> => {
  refuseDay(body.receivedOn, today);
  refuseWare(sample);
  if ((await lotWithName(db, body.name)) !== null) throw duplicateName(body.name);
};

const registering: FastifyPluginAsyncZod<LotRoutesOptions> = async (app, { logbook, clock }) => {
  app.post(
    '/lots',
    { config: { access: BENCH }, schema: { body: lotBody, response: { 200: lotPreview, 201: lotCreated } } },
    async (request, reply) => {
      const body = request.body;
      const sample = sampleOf(body);
      if (body.dryRun) {
        const rows = await logbook.read(async (db) => {
          await refuseAbout(db, body, sample, localDay(clock()));
          return previewRows(db, body);
        });
        return reply.code(200).send({ dryRun: true, rows, toleranceMl: vesselOnWire(sample, []).toleranceMl });
      }
      const answer = await logbook.write(creating(request), async (writing) => {
        await refuseAbout(writing.trx, body, sample, localDay(clock()));
        const rows = await previewRows(writing.trx, body);
        refuseRows(body, rows);
        askUnlessConfirmed(questionsForWare(sample), body);
        return { status: 201, body: await registerLot(writing, body, rows) };
      });
      return send(reply, answer);
    },
  );
};

const reading: FastifyPluginAsyncZod<LotRoutesOptions> = async (app, { logbook }) => {
  app.get(
    '/lots',
    { config: { access: EVERYONE }, schema: { querystring: lotQuery, response: { 200: lotPage } } },
    async (request) => {
      const { cursor, limit } = request.query;
      const [receivedOn = '', lotId = ''] = cursor === undefined ? [] : decodeCursor(cursor, 2);
      const after = cursor === undefined ? undefined : { receivedOn, id: lotId };
      return logbook.read(async (db) => {
        const found = await listLots(db, { after, limit: limit + 1 });
        const items = await lotsOnWire(db, found.slice(0, limit));
        const last = items.at(-1);
        return { items, next: found.length > limit && last ? encodeCursor([last.receivedOn, last.id]) : null };
      });
    },
  );

  app.get(
    '/lots/:id',
    { config: { access: EVERYONE }, schema: { params, response: { 200: lotWithVessels } } },
    async (request) =>
      logbook.read(async (db) => {
        const lot = await findLot(db, request.params.id);
        if (!lot) throw notFound('lot');
        return lotOnWire(db, lot);
      }),
  );
};

/** A text that is not sent stays; null or an empty one takes it out. */
const changedText = (sent: string | null | undefined, present: string | null): string | null =>
  sent === undefined ? present : sent || null;

const changedLot = (present: StoredLot, change: LotChange, at: string, actor: string): StoredLot => ({
  ...present,
  version: present.version + 1,
  name: change.name ?? present.name,
  receivedOn: change.receivedOn ?? present.receivedOn,
  supplier: changedText(change.supplier, present.supplier),
  maker: changedText(change.maker, present.maker),
  note: changedText(change.note, present.note),
  reason: change.reason,
  recordedAt: at,
  recordedBy: actor,
});

const correcting: FastifyPluginAsyncZod<LotRoutesOptions> = async (app, { logbook, clock }) => {
  app.patch(
    '/lots/:id',
    { config: { access: BENCH }, schema: { params, body: lotChange, response: { 200: lotWithVessels } } },
    async (request, reply) => {
      const expected = expectedVersion(request);
      const answer = await logbook.write(editing(request), async ({ trx, at, actor, journal }) => {
        const present = await findLot(trx, request.params.id);
        if (!present) throw notFound('lot');
        requireVersion(expected, present.version, await lotOnWire(trx, present));
        const lot = changedLot(present, request.body, at, actor);
        refuseDay(lot.receivedOn, localDay(clock()));
        const holder = await lotWithName(trx, lot.name);
        if (holder !== null && holder !== lot.id) throw duplicateName(lot.name);
        await reviseLot(trx, lot);
        journal({ act: 'lot-corrected', object: `lot/${lot.id}`, before: told(present), after: told(lot) });
        return { status: 200, body: await lotOnWire(trx, lot) };
      });
      return send(reply, answer);
    },
  );
};

export const lotRoutes: FastifyPluginAsyncZod<LotRoutesOptions> = async (app, options) => {
  await registering(app, options);
  await reading(app, options);
  await correcting(app, options);
  await roundRoutes(app, options);
  await decidingRoutes(app, options);
  await inspectionRoutes(app, options);
};
