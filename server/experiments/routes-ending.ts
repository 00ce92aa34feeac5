import { randomBytes, randomInt } from 'node:crypto';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Writing } from '../db/write.ts';
import { TEACHING } from '../people/access.ts';
import { notFound, Problem } from '../problem.ts';
import { creating, newId, send } from '../requests.ts';
import { closingHashOf } from './closing.ts';
import { experimentMade, experimentParams } from './contract.ts';
import { closed, erased, erasureBody, rehearsalBody, stateSaved } from './contract-class.ts';
import { addGroup, NO_CODES } from './joining.ts';
import { madeUpClass, type MadeUpGroup } from './rehearsal.ts';
import type { RunningServices } from './routes-running.ts';
import { eraseExperiment, eraseNames } from './store-erasing.ts';
import { changeCodes } from './store-groups.ts';
import { insertClassTrial, keepPrediction } from './store-trials.ts';
import { changeExperiment, countsOfOne, findExperiment, insertExperiment } from './store.ts';
import { classWrite, keyPrefix } from './writing.ts';

const closing: FastifyPluginAsyncZod<RunningServices> = async (app, services) => {
  const { desk } = services;
  app.post(
    '/experiments/:id/closing',
    { config: { access: TEACHING }, schema: { params: experimentParams, response: { 201: closed } } },
    async (request, reply) => {
      const { id } = request.params;
      const answer = await classWrite(services, {
        ...{ act: 'experiment-closed', request, experimentId: id, keyed: true, states: ['open'] },
        work: async ({ trx, at }, stored) => {
          const hash = await closingHashOf(trx, stored);
          const version = stored.version + 1;
          const state = 'closed' as const;
          const facts = { version, state, joiningOpen: false, closedAt: at, closingHash: hash };
          await changeExperiment(trx, id, facts);
          await changeCodes(trx, id, NO_CODES);
          const { groups, trials } = await countsOfOne(trx, id);
          return { status: 201, body: { version, state, hash, groups, trials } };
        },
        told: ({ hash }) => ({ hash }),
      });
      desk?.classSessions.endAllOf(id);
      return send(reply, answer);
    },
  );

  app.post(
    '/experiments/:id/names-removal',
    { config: { access: TEACHING }, schema: { params: experimentParams, response: { 201: stateSaved } } },
    async (request, reply) => {
      const { id } = request.params;
      const answer = await classWrite(services, {
        ...{ act: 'class-names-removed', request, experimentId: id, keyed: true, states: ['closed'] },
        work: async ({ trx, at }, stored) => {
          if (stored.namesRemovedAt !== null)
            throw new Problem('state-conflict', { detail: 'The names of this experiment are removed already.' });
          await eraseNames(trx, id, keyPrefix(id));
          const version = stored.version + 1;
          await changeExperiment(trx, id, { version, namesRemovedAt: at });
          return { status: 201, body: { version, state: stored.state } };
        },
      });
      return send(reply, answer);
    },
  );
};

/** Erasing takes no key: nothing of it may be kept, and what is gone is not erased a second time. */
const erasing: FastifyPluginAsyncZod<RunningServices> = async (app, { logbook, boards, desk }) => {
  app.post(
    '/experiments/:id/erasure',
    {
      config: { access: TEACHING },
      schema: { params: experimentParams, body: erasureBody, response: { 200: erased } },
    },
    async (request) => {
      const { id } = request.params;
      const said = request.body;
      const { actor, id: requestId } = request;
      const answer = await logbook.write({ actor, requestId }, async ({ trx, journal }) => {
        const stored = await findExperiment(trx, id);
        if (!stored) throw notFound('experiment');
        const counts = await countsOfOne(trx, id);
        const { groups, predictions, trials } = counts;
        if (said.groups !== groups || said.predictions !== predictions || said.trials !== trials)
          throw new Problem('other-counts', {
            detail: `There are ${groups} groups, ${predictions} predictions and ${trials} trials now. Look again before they are erased.`,
            members: { counts },
          });
        await eraseExperiment(trx, id, keyPrefix(id));
        journal({ act: 'experiment-erased', object: `experiment/${id}`, before: null, after: { ...counts } });
        return { status: 200, body: counts };
      });
      desk?.classSessions.endAllOf(id);
      boards.changed(id);
      return answer.body;
    },
  );
};

const keepMadeUp = async (writing: Writing, experimentId: string, made: readonly MadeUpGroup[]): Promise<void> => {
  const { trx, at } = writing;
  for (const { predictions, trials } of made) {
    const { group } = await addGroup(writing, experimentId, 'staff');
    for (const { row, volumeMl, withinMl } of predictions) {
      const facts = { volume_ml: volumeMl, within_ml: withinMl, sureness: null, recorded_at: at };
      await keepPrediction(trx, { group_id: group.id, row_key: row, ...facts });
    }
    const numbers = new Map<string, number>();
    for (const { row, emptyG, filledG, waterTemperatureC } of trials) {
      const number = (numbers.get(row) ?? 0) + 1;
      numbers.set(row, number);
      await insertClassTrial(trx, {
        ...{ group_id: group.id, row_key: row, number, vessel_id: null, empty_g: emptyG, filled_g: filledG },
        ...{ water_temperature_c: waterTemperatureC, entered: 'staff', confirmed: null, recorded_at: at },
      });
    }
  }
};

/** A copy of the plan with a made-up class in it, marked so for ever; the plan itself stays as it was. */
const rehearsing: FastifyPluginAsyncZod<RunningServices> = async (app, { logbook }) => {
  app.post(
    '/experiments/:id/rehearsal',
    {
      config: { access: TEACHING },
      schema: { params: experimentParams, body: rehearsalBody, response: { 201: experimentMade } },
    },
    async (request, reply) => {
      const { groups, seed = randomInt(2_147_483_647) } = request.body;
      const answer = await logbook.write(creating(request), async (writing) => {
        const { trx, at, actor, journal } = writing;
        const stored = await findExperiment(trx, request.params.id);
        if (!stored) throw notFound('experiment');
        const { template, plan } = stored;
        const id = newId();
        const salt = randomBytes(32).toString('hex');
        await insertExperiment(trx, { id, template, plan, madeUp: true, salt, at, actor });
        await keepMadeUp(writing, id, madeUpClass(plan, groups, seed));
        await changeExperiment(trx, id, { version: 2, state: 'open', openedAt: at, endsAt: at });
        const counts = await countsOfOne(trx, id);
        journal({ act: 'experiment-rehearsed', object: `experiment/${id}`, before: null, after: { ...counts } });
        return { status: 201, body: { id, version: 2 } };
      });
      return send(reply, answer);
    },
  );
};

export const endingRoutes: FastifyPluginAsyncZod<RunningServices> = async (app, services) => {
  await closing(app, services);
  await erasing(app, services);
  await rehearsing(app, services);
};
