import { randomBytes } from 'node:crypto';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { EVERYONE, TEACHING } from '../people/access.ts';
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
import {
  experiment,
  experimentBody,
  experimentChange,
  experimentMade,
  experimentPage,
  experimentParams,
  experimentQuery,
  foresight,
  foresightBody,
  templateList,
  TEMPLATES,
  type ExperimentChange,
  type ExperimentPlan,
} from './contract.ts';
import { foresightOf } from './foresight.ts';
import { keepablePlan } from './planning.ts';
import { changeExperiment, countsOfOne, findExperiment, insertExperiment, listExperiments } from './store.ts';
import type { StoredExperiment } from './store.ts';
import { planOf } from './templates.ts';
import { experimentItems, experimentOnWire } from './view.ts';
import type { ClassServices } from './writing.ts';

/** Only what was sent, by the names of the plan. */
const typedPlan = (body: Partial<ExperimentChange>): Partial<ExperimentPlan> => {
  const { title, question, design, rows, balances, expectedGroups, lessonMinutes } = body;
  const { asks, conditions, cautionNote } = body;
  const typed = { title, question, design, rows, balances, expectedGroups, lessonMinutes };
  return Object.fromEntries(
    Object.entries({ ...typed, asks, conditions, cautionNote }).filter(([, value]) => value !== undefined),
  );
};

const planning: FastifyPluginAsyncZod<ClassServices> = async (app, { logbook }) => {
  app.get(
    '/experiments/templates',
    { config: { access: EVERYONE }, schema: { response: { 200: templateList } } },
    async () => ({ items: TEMPLATES.map((template) => ({ template, ...planOf(template) })) }),
  );

  app.post(
    '/experiments/foresight',
    { config: { access: EVERYONE }, schema: { body: foresightBody, response: { 200: foresight } } },
    async (request) => foresightOf(request.body),
  );

  app.post(
    '/experiments',
    { config: { access: TEACHING }, schema: { body: experimentBody, response: { 201: experimentMade } } },
    async (request, reply) => {
      const { template } = request.body;
      const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
        const typed = typedPlan(request.body);
        const plan = await keepablePlan(trx, { ...planOf(template), ...typed }, typed, request.body);
        const id = newId();
        const salt = randomBytes(32).toString('hex');
        await insertExperiment(trx, { id, template, plan, madeUp: false, salt, at, actor });
        journal({
          act: 'experiment-planned',
          object: `experiment/${id}`,
          before: null,
          after: { template, rows: plan.rows.length },
        });
        return { status: 201, body: { id, version: 1 } };
      });
      return send(reply, answer);
    },
  );
};

const reading: FastifyPluginAsyncZod<ClassServices> = async (app, { logbook }) => {
  app.get(
    '/experiments',
    { config: { access: EVERYONE }, schema: { querystring: experimentQuery, response: { 200: experimentPage } } },
    async (request) => {
      const { state, template, cursor, limit } = request.query;
      const [recordedAt = '', id = ''] = cursor === undefined ? [] : decodeCursor(cursor, 2);
      const after = cursor === undefined ? undefined : { recordedAt, id };
      return logbook.read(async (db) => {
        const found = await listExperiments(db, { state, template, after, limit: limit + 1 });
        const items = await experimentItems(db, found.slice(0, limit));
        const last = items.at(-1);
        return { items, next: found.length > limit && last ? encodeCursor([last.recordedAt, last.id]) : null };
      });
    },
  );

  app.get(
    '/experiments/:id',
    { config: { access: EVERYONE }, schema: { params: experimentParams, response: { 200: experiment } } },
    async (request) =>
      logbook.read(async (db) => {
        const stored = await findExperiment(db, request.params.id);
        if (!stored) throw notFound('experiment');
        return experimentOnWire(db, stored);
      }),
  );
};

/** What was measured under a plan keeps that plan; air, water, title and what the board shows may still change. */
const FIXED_BY_DATA = ['rows', 'design', 'asks'] as const;

const refuseLateChange = (stored: StoredExperiment, typed: Partial<ExperimentPlan>, hasData: boolean): void => {
  if (stored.state === 'closed' && Object.keys(typed).length > 0)
    throw new Problem('state-conflict', { detail: 'This experiment is closed: its plan stays as it is.' });
  const assumed = stored.plan.conditions.waterTemperatureC;
  if (hasData && assumed !== undefined && typed.conditions && typed.conditions.waterTemperatureC === undefined)
    throw invalid([
      {
        pointer: '#/conditions/waterTemperatureC',
        detail: `Trials may rest on the ${assumed} °C assumed for all. Type another temperature, or leave this one.`,
      },
    ]);
  const fixed = FIXED_BY_DATA.filter((field) => typed[field] !== undefined);
  if (hasData && fixed.length > 0)
    throw new Problem('state-conflict', {
      detail: `Groups have foreseen or weighed something already: ${fixed.join(', ')} stay as planned. Plan another experiment.`,
    });
};

const changing: FastifyPluginAsyncZod<ClassServices> = async (app, { logbook, boards }) => {
  app.patch(
    '/experiments/:id',
    {
      config: { access: TEACHING },
      schema: { params: experimentParams, body: experimentChange, response: { 200: experiment } },
    },
    async (request, reply) => {
      const expected = expectedVersion(request);
      const { id } = request.params;
      const { namesHidden, predictionsShown } = request.body;
      const answer = await logbook.write(editing(request), async ({ trx, journal }) => {
        const stored = await findExperiment(trx, id);
        if (!stored) throw notFound('experiment');
        requireVersion(expected, stored.version, await experimentOnWire(trx, stored));
        const typed = typedPlan(request.body);
        const counts = await countsOfOne(trx, id);
        refuseLateChange(stored, typed, counts.trials + counts.predictions > 0);
        const plan = await keepablePlan(trx, { ...stored.plan, ...typed }, typed, request.body);
        const shown = {
          ...(namesHidden === undefined ? {} : { namesHidden }),
          ...(predictionsShown === undefined ? {} : { predictionsShown }),
        };
        await changeExperiment(trx, id, { version: stored.version + 1, plan, ...shown });
        const changed = [...Object.keys(typed), ...Object.keys(shown)];
        journal({ act: 'experiment-changed', object: `experiment/${id}`, before: null, after: { changed } });
        const present = await findExperiment(trx, id);
        if (!present) throw notFound('experiment');
        return { status: 200, body: await experimentOnWire(trx, present) };
      });
      boards.changed(id);
      return send(reply, answer);
    },
  );
};

export const planRoutes: FastifyPluginAsyncZod<ClassServices> = async (app, services) => {
  await planning(app, services);
  await reading(app, services);
  await changing(app, services);
};
