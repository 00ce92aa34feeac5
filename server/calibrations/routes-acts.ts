import type { Transaction } from 'kysely';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { certificatesOf } from '../certificates/store.ts';
import { paperOf } from '../certificates/view.ts';
import type { Logbook } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import { balancesInUse } from '../instruments/store.ts';
import { hashOf } from '../journal/hash-of.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { BENCH } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { creating, editing, expectedVersion, requireVersion, send } from '../requests.ts';
import { id } from '../wire.ts';
import { conditionsBody, measuredBody, planChange, reasonBody } from './contract.ts';
import { moveCalibration } from './moving.ts';
import { requireNoCertificate } from './signing.ts';
import { calibrationOnWire } from './view.ts';
import { requireOpen, requireState } from './states.ts';
import { abandonCalibration, finishMeasuring, readConditions } from './steps.ts';
import { insertAct } from './store-acts.ts';
import { findForResult, type PooledCalibration } from './store-pool.ts';

const params = z.object({ id });
const moved = z.object({ id, state: z.string(), version: z.number().int() });

const find = async (trx: Transaction<Tables>, calibrationId: string): Promise<PooledCalibration> => {
  const stored = await findForResult(trx, calibrationId);
  if (!stored) throw notFound('calibration');
  return stored;
};

export const actRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/calibrations/:id/measured',
    { config: { access: BENCH }, schema: { params, body: measuredBody, response: { 201: moved } } },
    async (request, reply) => {
      const { reason } = request.body;
      const answer = await logbook.write(creating(request), async (writing) => {
        const stored = await find(writing.trx, request.params.id);
        return finishMeasuring(writing, stored, reason);
      });
      return send(reply, answer);
    },
  );

  app.post(
    '/calibrations/:id/reopening',
    { config: { access: BENCH }, schema: { params, body: reasonBody, response: { 201: moved } } },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (writing) => {
        const stored = await find(writing.trx, request.params.id);
        requireState(stored.state, ['measured', 'checked'], 'only a measured or checked one goes back to open');
        const step = { act: 'calibration-reopened', state: 'open', vesselVersion: null } as const;
        return moveCalibration(writing, stored, { ...step, reason: request.body.reason });
      });
      return send(reply, answer);
    },
  );

  app.post(
    '/calibrations/:id/abandonment',
    { config: { access: BENCH }, schema: { params, body: reasonBody, response: { 201: moved } } },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (writing) => {
        const stored = await find(writing.trx, request.params.id);
        requireState(stored.state, ['open', 'measured', 'checked'], 'it cannot be abandoned any more');
        await requireNoCertificate(writing, stored.id);
        return abandonCalibration(writing, stored, request.body.reason);
      });
      return send(reply, answer);
    },
  );

  await conditionsRoute(app, { logbook });
  await planRoute(app, { logbook });
};

const conditionsRoute: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/calibrations/:id/conditions',
    { config: { access: BENCH }, schema: { params, body: conditionsBody, response: { 201: moved } } },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (writing) => {
        const stored = await find(writing.trx, request.params.id);
        await readConditions(writing, stored, request.body);
        return { status: 201, body: { id: stored.id, state: stored.state, version: stored.version + 1 } };
      });
      return send(reply, answer);
    },
  );
};

/** Rule, coverage probability and planned trials are fixed before the first trial; a later change says why. */
const planRoute: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.patch(
    '/calibrations/:id',
    { config: { access: BENCH }, schema: { params, body: planChange, response: { 200: moved } } },
    async (request, reply) => {
      const expected = expectedVersion(request);
      const { reason, ...change } = request.body;
      const answer = await logbook.write(editing(request), async ({ trx, at, actor, journal }) => {
        const stored = await find(trx, request.params.id);
        requireOpen(stored.state);
        const balances = await balancesInUse(trx);
        const paper = paperOf(stored, await certificatesOf(trx, stored.id));
        requireVersion(expected, stored.version, calibrationOnWire(stored, { balances, explain: false, paper }));
        const { plannedTrials, decisionRule, coverageProbability } = stored.record;
        const before = { plannedTrials, decisionRule, coverageProbability };
        const after = { ...before, ...change };
        const facts = { before, after, verdictBefore: evaluate(stored.record, toleranceRows).verdict };
        await insertAct(trx, {
          calibrationId: stored.id,
          number: stored.acts.length + 1,
          act: 'plan-changed',
          state: stored.state,
          vesselVersion: null,
          facts,
          reason,
          at,
          actor,
          standing: {
            planned_trials: after.plannedTrials,
            decision_rule: after.decisionRule,
            coverage_probability: after.coverageProbability,
          },
        });
        journal({
          act: 'plan-changed',
          object: `calibration/${stored.id}`,
          before,
          after: { ...after, reason, factsHash: hashOf(facts) },
        });
        return { status: 200, body: { id: stored.id, state: stored.state, version: stored.version + 1 } };
      });
      return send(reply, answer);
    },
  );
};
