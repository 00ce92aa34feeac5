import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { FastifyRequest } from 'fastify';
import type { Transaction } from 'kysely';
import type { ClassTrialTable } from '../db/class-tables.ts';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import type { Answer } from '../db/write.ts';
import { CLASS_ENTRY, CLASS_GROUP } from '../people/access.ts';
import { invalid, notFound, Problem } from '../problem.ts';
import { send } from '../requests.ts';
import { acceptCorrection, acceptReadings } from './accepting.ts';
import {
  classCorrectionBody,
  classExclusionBody,
  classTrial,
  classTrialBody,
  groupPage,
  groupParams,
  MOST_TRIALS_IN_ROW,
  prediction,
  predictionBody,
  trialParams,
  type ClassTrial,
  type ClassTrialBody,
  type Prediction,
} from './contract-class.ts';
import { requireOwnGroup } from './rights.ts';
import { findGroup } from './store-groups.ts';
import {
  insertClassCorrection,
  insertClassExclusion,
  insertClassTrial,
  keepPrediction,
  lastNumber,
  predictionsOf,
  storedTrial,
  trialsOf,
  type StoredClassTrial,
} from './store-trials.ts';
import { findExperiment, type StoredExperiment } from './store.ts';
import { groupPageOf, predictionOnWire, trialOnWire } from './view-class.ts';
import { waresOf } from './view.ts';
import type { Ware } from './ware-facts.ts';
import { classWrite, shown, type ClassServices } from './writing.ts';

const WRITES = { access: CLASS_ENTRY, classListener: true } as const;

type Trx = Transaction<Tables>;
type TrialParams = { id: string; group: string; row: string; number: number };

const requireGroup = async (trx: Trx, experimentId: string, groupId: string): Promise<void> => {
  if (!(await findGroup(trx, experimentId, groupId))) throw notFound('group');
};

const wareIn = async (db: Reading, stored: StoredExperiment, rowKey: string): Promise<Ware> => {
  const ware = (await waresOf(db, stored)).get(rowKey);
  if (ware) return ware;
  const known = stored.plan.rows.map(({ key }) => key).join(', ');
  throw invalid([{ pointer: '#/row', detail: `This experiment has no row ${rowKey}. Its rows: ${known}.` }]);
};

const trialNumbered = async (
  db: Reading,
  { group, row, number }: { group: string; row: string; number: number },
): Promise<StoredClassTrial> => {
  const trial = (await trialsOf(db, [group])).find((one) => one.rowKey === row && one.number === number);
  if (!trial) throw new Problem('not-found', { detail: `This group has no trial ${number} in this row.` });
  return trial;
};

const trialShown = async (db: Reading, params: TrialParams): Promise<ClassTrial> => {
  const stored = await findExperiment(db, params.id);
  if (!stored) throw notFound('experiment');
  return trialOnWire(await wareIn(db, stored, params.row), await trialNumbered(db, params));
};

const predictionShown = async (db: Reading, group: string, row: string): Promise<Prediction> => {
  const mine = (await predictionsOf(db, [group])).find(({ rowKey }) => rowKey === row);
  if (!mine) throw notFound('prediction');
  return predictionOnWire(mine);
};

const pageRoute: FastifyPluginAsyncZod<ClassServices> = async (app, { logbook }) => {
  app.get(
    '/experiments/:id/groups/:group',
    {
      config: { access: CLASS_GROUP, classListener: true },
      schema: { params: groupParams, response: { 200: groupPage } },
    },
    async (request) => {
      requireOwnGroup(request, request.params);
      const { id, group } = request.params;
      return logbook.read(async (db) => {
        const stored = await findExperiment(db, id);
        const known = await findGroup(db, id, group);
        if (!stored || !known) throw notFound('group');
        return groupPageOf(db, stored, known);
      });
    },
  );
};

const predicting: FastifyPluginAsyncZod<ClassServices> = async (app, services) => {
  app.post(
    '/experiments/:id/groups/:group/predictions',
    { config: WRITES, schema: { params: groupParams, body: predictionBody, response: { 201: prediction } } },
    async (request, reply) => {
      requireOwnGroup(request, request.params);
      const { id, group } = request.params;
      const { row, volumeMl, withinMl = null, sureness = null } = request.body;
      const answer = await classWrite(services, {
        ...{ act: 'class-prediction-recorded', request, experimentId: id, keyed: true, states: ['open'] },
        work: async ({ trx, at }, stored) => {
          await requireGroup(trx, id, group);
          await wareIn(trx, stored, row);
          if ((await lastNumber(trx, group, row)) > 0)
            throw new Problem('state-conflict', {
              detail: 'A prediction comes before the first weighing of its row; this row has been weighed.',
            });
          const kept = { group_id: group, row_key: row, volume_ml: volumeMl, within_ml: withinMl, sureness };
          await keepPrediction(trx, { ...kept, recorded_at: at });
          return { status: 201, body: { row } };
        },
      });
      return send(reply, await shown(services, answer, (db, kept) => predictionShown(db, group, kept.row)));
    },
  );
};

/** A phone enters what it weighs itself; a sheet is copied by somebody else. */
const enteredBy = ({ classSession }: FastifyRequest, { fromPaper }: ClassTrialBody): StoredClassTrial['entered'] => {
  const isGroup = classSession?.kind === 'group';
  if (isGroup && fromPaper === true)
    throw invalid([{ pointer: '#/fromPaper', detail: 'Sheets are copied by whoever teaches, or by the assistant.' }]);
  if (fromPaper === true) return 'paper';
  return isGroup ? 'phone' : 'staff';
};

const refuseVessel = ({ row }: Ware, vesselId: string | undefined): void => {
  if (vesselId !== undefined && row.vesselIds?.includes(vesselId) !== true)
    throw invalid([{ pointer: '#/vesselId', detail: 'This vessel does not belong to the row.' }]);
};

const recording: FastifyPluginAsyncZod<ClassServices> = async (app, services) => {
  app.post(
    '/experiments/:id/groups/:group/trials',
    { config: WRITES, schema: { params: groupParams, body: classTrialBody, response: { 201: classTrial } } },
    async (request, reply) => {
      requireOwnGroup(request, request.params);
      const { id, group } = request.params;
      const { row, emptyG, filledG, waterTemperatureC = null, vesselId, confirm } = request.body;
      const entered = enteredBy(request, request.body);
      // Shown from what was just written: a class that saves all at once would wait for reading it back.
      const written: { trial?: ClassTrial } = {};
      const answer = await classWrite(services, {
        ...{ act: 'class-trial-recorded', request, experimentId: id, keyed: true, states: ['open'] },
        work: async ({ trx, at }, stored) => {
          await requireGroup(trx, id, group);
          const ware = await wareIn(trx, stored, row);
          refuseVessel(ware, vesselId);
          acceptReadings(ware, { emptyG, filledG, waterTemperatureC }, confirm);
          const number = (await lastNumber(trx, group, row)) + 1;
          if (number > MOST_TRIALS_IN_ROW) throw new Problem('too-many-trials');
          const trial: ClassTrialTable = {
            ...{ group_id: group, row_key: row, number, vessel_id: vesselId ?? null },
            ...{ empty_g: emptyG, filled_g: filledG, water_temperature_c: waterTemperatureC, entered },
            confirmed: confirm && confirm.length > 0 ? JSON.stringify(confirm) : null,
            recorded_at: at,
          };
          await insertClassTrial(trx, trial);
          written.trial = trialOnWire(ware, storedTrial(trial));
          return { status: 201, body: { id, group, row, number } };
        },
      });
      // Nothing was written for a key that came before; its trial may have been corrected since.
      if (written.trial) return send(reply, { status: answer.status, body: written.trial });
      return send(reply, await shown(services, answer, trialShown));
    },
  );
};

/** An act on one trial; answered with the trial as it stands then. */
const actOnTrial = async (
  services: ClassServices,
  request: FastifyRequest,
  params: TrialParams,
  act: string,
  work: (trx: Trx, at: string, trial: StoredClassTrial, ware: Ware) => Promise<void>,
): Promise<Answer<ClassTrial>> => {
  requireOwnGroup(request, params);
  const answer = await classWrite(services, {
    ...{ act, request, experimentId: params.id, keyed: true, states: ['open'] },
    work: async ({ trx, at }, stored) => {
      await requireGroup(trx, params.id, params.group);
      const ware = await wareIn(trx, stored, params.row);
      await work(trx, at, await trialNumbered(trx, params), ware);
      return { status: 201, body: params };
    },
  });
  return shown(services, answer, trialShown);
};

const TRIAL = '/experiments/:id/groups/:group/trials/:row/:number';

const changing: FastifyPluginAsyncZod<ClassServices> = async (app, services) => {
  app.post(
    `${TRIAL}/correction`,
    { config: WRITES, schema: { params: trialParams, body: classCorrectionBody, response: { 201: classTrial } } },
    async (request, reply) => {
      const { field, value, reason, confirm } = request.body;
      const act = 'class-trial-corrected';
      const answer = await actOnTrial(services, request, request.params, act, async (trx, at, trial, ware) => {
        const previousValue = trial.used[field];
        if (previousValue === value)
          throw invalid([{ pointer: '#/value', detail: 'That is the value already recorded.' }]);
        acceptCorrection(ware, trial.used, { ...trial.used, [field]: value }, confirm);
        await insertClassCorrection(trx, trial, { field, previousValue, value, reason, recordedAt: at });
      });
      return send(reply, answer);
    },
  );

  app.post(
    `${TRIAL}/exclusion`,
    { config: WRITES, schema: { params: trialParams, body: classExclusionBody, response: { 201: classTrial } } },
    async (request, reply) => {
      const { cause, reason } = request.body;
      const act = 'class-trial-excluded';
      const answer = await actOnTrial(services, request, request.params, act, async (trx, at, trial) => {
        if (trial.exclusion) throw new Problem('state-conflict', { detail: 'This trial is left out already.' });
        await insertClassExclusion(trx, trial, { cause, reason: reason || null, at });
      });
      return send(reply, answer);
    },
  );

  app.post(
    `${TRIAL}/inclusion`,
    { config: WRITES, schema: { params: trialParams, response: { 201: classTrial } } },
    async (request, reply) => {
      const act = 'class-trial-included-again';
      const answer = await actOnTrial(services, request, request.params, act, async (trx, at, trial) => {
        if (!trial.exclusion) throw new Problem('state-conflict', { detail: 'This trial counts already.' });
        await insertClassExclusion(trx, trial, { cause: null, reason: null, at });
      });
      return send(reply, answer);
    },
  );
};

export const groupRoutes: FastifyPluginAsyncZod<ClassServices> = async (app, services) => {
  await pageRoute(app, services);
  await predicting(app, services);
  await recording(app, services);
  await changing(app, services);
};
