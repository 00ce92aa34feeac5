import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { localDay } from '../clock.ts';
import { askUnlessConfirmed } from '../confirm.ts';
import type { Logbook } from '../db/logbook.ts';
import { findVessel, setLatestCalibration } from '../glassware/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { questionsForAir, refusalsForAir } from '../metrology/questions.ts';
import { BENCH, EVERYONE } from '../people/access.ts';
import { invalid, notFound, Problem } from '../problem.ts';
import { creating, newId, send } from '../requests.ts';
import { id } from '../wire.ts';
import { actRoutes } from './routes-acts.ts';
import { insertCalibration } from './acts.ts';
import { chooseInstruments, dayRefusals } from './beginning.ts';
import { calibration, calibrationBody, calibrationCreated, calibrationPage, calibrationQuery } from './contract.ts';
import { evaluateRoute } from './routes-evaluate.ts';
import { listCalibrations } from './view-list.ts';
import { calibrationOnWire } from './view.ts';
import { pointRefusals } from './points.ts';
import { findCalibration, latestCalibrationOf } from './store.ts';
import { trialRoutes } from './routes-trials.ts';

const params = z.object({ id });

export const calibrationRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (
  app,
  options,
) => {
  const { logbook, clock } = options;
  await app.register(trialRoutes, { logbook });
  await app.register(actRoutes, { logbook });
  await app.register(evaluateRoute);

  app.post(
    '/vessels/:id/calibrations',
    { config: { access: BENCH }, schema: { params, body: calibrationBody, response: { 201: calibrationCreated } } },
    async (request, reply) => {
      const body = request.body;
      const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
        const vessel = await findVessel(trx, request.params.id);
        if (!vessel) throw notFound('vessel');
        if (!vessel.inUse)
          throw new Problem('state-conflict', { detail: `${vessel.tag} is out of use; put it back into use first.` });
        const today = localDay(clock());
        const performedOn = body.performedOn ?? today;
        const { choices, facts, refusals } = await chooseInstruments(trx, body.instruments);
        const laboratory = { altitudeM: (await readLaboratory(trx)).altitudeM };
        const known = { laboratory, instruments: facts };
        const refused = [
          ...pointRefusals(vessel, body.points),
          ...dayRefusals(performedOn, today),
          ...refusals,
          ...refusalsForAir(known, body.conditions, '#/conditions'),
        ];
        if (refused.length > 0) throw invalid(refused);
        askUnlessConfirmed(questionsForAir(known, body.conditions, '#/conditions'), body.conditions, body);
        const calibrationId = newId();
        const basis = body.basis ?? vessel.basis;
        await insertCalibration(trx, {
          id: calibrationId,
          vesselId: vessel.id,
          basis,
          body,
          performedOn,
          instruments: choices,
          laboratory,
          at,
          actor,
        });
        await setLatestCalibration(trx, vessel.id, await latestCalibrationOf(trx, vessel.id));
        journal({
          act: 'calibration-begun',
          object: `calibration/${calibrationId}`,
          before: null,
          after: withoutGaps({
            ...body,
            vesselId: vessel.id,
            vesselVersion: vessel.version,
            basis,
            performedOn,
            ...laboratory,
          }),
        });
        return { status: 201, body: { id: calibrationId, version: 1, capability: null } };
      });
      return send(reply, answer);
    },
  );

  app.get(
    '/calibrations',
    { config: { access: EVERYONE }, schema: { querystring: calibrationQuery, response: { 200: calibrationPage } } },
    async (request) => logbook.read((db) => listCalibrations(db, request.query)),
  );

  app.get(
    '/calibrations/:id',
    { config: { access: EVERYONE }, schema: { params, response: { 200: calibration } } },
    async (request) =>
      logbook.read(async (db) => {
        const stored = await findCalibration(db, request.params.id);
        if (!stored) throw notFound('calibration');
        return calibrationOnWire(stored);
      }),
  );
};
