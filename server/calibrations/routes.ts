import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { certificatesOf } from '../certificates/store.ts';
import { paperOf } from '../certificates/view.ts';
import { localDay } from '../clock.ts';
import type { Logbook } from '../db/logbook.ts';
import { findVessel } from '../glassware/store.ts';
import { balancesInUse } from '../instruments/store.ts';
import { BENCH, EVERYONE } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { creating, newId, send } from '../requests.ts';
import { id } from '../wire.ts';
import { actRoutes } from './routes-acts.ts';
import { beginCalibration } from './begin.ts';
import { recordBefore, settle } from './beginning.ts';
import { capability } from './contract-result.ts';
import {
  calibration,
  calibrationBody,
  calibrationCreated,
  calibrationPage,
  calibrationQuery,
  explainQuery,
} from './contract.ts';
import { decidingRoute } from './routes-deciding.ts';
import { evaluateRoute } from './routes-evaluate.ts';
import { listCalibrations } from './view-list.ts';
import { calibrationOnWire, capabilityOnWire } from './view.ts';
import { findForResult } from './store-pool.ts';
import { refereeRoute } from './routes-referee.ts';
import { signingRoutes } from './routes-signing.ts';
import { trialRoutes } from './routes-trials.ts';

const params = z.object({ id });

const beginning: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, { logbook, clock }) => {
  app.post(
    '/vessels/:id/calibrations',
    { config: { access: BENCH }, schema: { params, body: calibrationBody, response: { 201: calibrationCreated } } },
    async (request, reply) => {
      const body = request.body;
      const answer = await logbook.write(creating(request), async (writing) => {
        const { trx } = writing;
        const vessel = await findVessel(trx, request.params.id);
        if (!vessel) throw notFound('vessel');
        const settled = await settle(trx, vessel, body, localDay(clock()));
        const calibrationId = newId();
        await beginCalibration(writing, vessel, { id: calibrationId, settled });
        const begun = await findForResult(trx, calibrationId);
        const balances = await balancesInUse(trx);
        const foreseen = begun && capabilityOnWire(begun.record, balances);
        return { status: 201, body: { id: calibrationId, version: 1, capability: foreseen } };
      });
      return send(reply, answer);
    },
  );

  app.post(
    '/vessels/:id/capability',
    { config: { access: EVERYONE }, schema: { params, body: calibrationBody, response: { 200: capability } } },
    async (request) =>
      logbook.read(async (db) => {
        const vessel = await findVessel(db, request.params.id);
        if (!vessel) throw notFound('vessel');
        const settled = await settle(db, vessel, request.body, localDay(clock()));
        return capabilityOnWire(await recordBefore(db, settled, vessel), await balancesInUse(db));
      }),
  );
};

const reading: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.get(
    '/calibrations',
    { config: { access: EVERYONE }, schema: { querystring: calibrationQuery, response: { 200: calibrationPage } } },
    async (request) => logbook.read((db) => listCalibrations(db, request.query)),
  );

  app.get(
    '/calibrations/:id',
    {
      config: { access: EVERYONE },
      schema: { params, querystring: explainQuery, response: { 200: calibration } },
    },
    async (request) =>
      logbook.read(async (db) => {
        const stored = await findForResult(db, request.params.id);
        if (!stored) throw notFound('calibration');
        const balances = stored.state === 'open' ? await balancesInUse(db) : [];
        const paper = paperOf(stored, await certificatesOf(db, stored.id));
        return calibrationOnWire(stored, { balances, explain: request.query.explain === 'true', paper });
      }),
  );
};

export const calibrationRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (
  app,
  options,
) => {
  await beginning(app, options);
  await reading(app, options);
  await trialRoutes(app, options);
  await actRoutes(app, options);
  await signingRoutes(app, options);
  await evaluateRoute(app, {});
  await refereeRoute(app, options);
  await decidingRoute(app, options);
};
