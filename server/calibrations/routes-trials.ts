import type { Transaction } from 'kysely';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { askUnlessConfirmed } from '../confirm.ts';
import type { Logbook } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import { withoutGaps } from '../journal/values.ts';
import { questionsForTrial, refusalsForTrial, type Question } from '../metrology/questions.ts';
import type { TrialFacts } from '../metrology/record.ts';
import type { TrialResult } from '../metrology/result.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { findTolerance, rowOf } from '../metrology/tolerance.ts';
import { evaluateTrial } from '../metrology/trial.ts';
import { BENCH } from '../people/access.ts';
import { invalid, notFound, Problem } from '../problem.ts';
import { creating, send } from '../requests.ts';
import { id } from '../wire.ts';
import { insertCorrection, insertExclusion } from './store-acts.ts';
import { correctionBody, exclusionBody, inclusionBody, trialBody, trialSaved, type TrialBody } from './contract.ts';
import { plannedPoint } from './points.ts';
import { recordTrial } from './recording.ts';
import { requireOpen } from './states.ts';
import { findForNextTrial } from './store-next-trial.ts';
import { countedAt } from './store-trials.ts';
import { findCalibration, type StoredCalibration } from './store.ts';

const MOST_TRIALS = 1000;

const ofCalibration = z.object({ id });
const ofTrial = z.object({
  id,
  number: z
    .string()
    .regex(/^[1-9]\d{0,3}$/)
    .transform(Number),
});
const actSaved = z.object({ number: z.number().int(), version: z.number().int() });

const openCalibration = async (trx: Transaction<Tables>, calibrationId: string): Promise<StoredCalibration> => {
  const stored = await findCalibration(trx, calibrationId);
  if (!stored) throw notFound('calibration');
  requireOpen(stored.state);
  return stored;
};

const trialNumbered = (stored: StoredCalibration, number: number): TrialFacts => {
  const trial = stored.record.trials[number - 1];
  if (!trial) throw new Problem('not-found', { detail: `This calibration has no trial ${number}.` });
  return trial;
};

/** Which reading was taken over, checked against what this calibration holds. */
const takeOverRefusal = (stored: StoredCalibration, body: TrialBody): string | null => {
  if (body.emptyOf === undefined) return null;
  if (body.emptySource !== 'reused' && body.emptySource !== 'carried')
    return 'A reading is taken over from another trial only when it is reused or carried.';
  return body.emptyOf > stored.trialsRecorded ? `There is no trial ${body.emptyOf} to take the reading from.` : null;
};

/** Everything that can be wrong with a trial before it is kept; computes it on the way. */
const acceptTrial = (stored: StoredCalibration, body: TrialBody, number: number): TrialResult => {
  const { record } = stored;
  if (number > MOST_TRIALS) throw new Problem('too-many-trials');
  if (plannedPoint(record.points, body.pointMl) === null)
    throw invalid([
      {
        pointer: '#/pointMl',
        detail: `${body.pointMl} mL is not a test point of this calibration (${record.points.join(', ')} mL).`,
      },
    ]);
  const takeOver = takeOverRefusal(stored, body);
  if (takeOver !== null) throw invalid([{ pointer: '#/emptyOf', detail: takeOver }]);
  const refusals = refusalsForTrial(record, body);
  if (refusals.length > 0) throw invalid(refusals);
  const row = rowOf(findTolerance(toleranceRows, record.vessel));
  askUnlessConfirmed(questionsForTrial(record, body, number, row), body);
  return evaluateTrial(record, body, number, row);
};

/** Only a calibration with as many trials as planned can hold one beyond the plan. */
const beyondPlan = async (
  trx: Transaction<Tables>,
  stored: StoredCalibration,
  body: TrialBody,
): Promise<TrialResult['findings']> => {
  const { plannedTrials } = stored.record;
  if (stored.trialsRecorded < plannedTrials) return [];
  if ((await countedAt(trx, stored.id, body.pointMl)) < plannedTrials) return [];
  const detail = `${plannedTrials} trials were planned at ${body.pointMl} mL; this one counts too.`;
  return [{ code: 'beyond-plan', detail, trial: stored.trialsRecorded + 1 }];
};

const recording: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/calibrations/:id/trials',
    {
      config: { access: BENCH },
      schema: { params: ofCalibration, body: trialBody, response: { 201: trialSaved } },
    },
    async (request, reply) => {
      const body = request.body;
      const asked = creating(request);
      const answer = await logbook.write(asked, async (writing) => {
        const { trx } = writing;
        const stored = await findForNextTrial(trx, request.params.id, body.emptyOf);
        if (!stored) throw notFound('calibration');
        requireOpen(stored.state);
        const number = stored.trialsRecorded + 1;
        const result = acceptTrial(stored, body, number);
        const beyond = await beyondPlan(trx, stored, body);
        await recordTrial(writing, { calibrationId: stored.id, number, body, requestKey: asked.key.value });
        const { massG, waterDensityGPerMl, airDensityGPerMl, volumeMl, simpleVolumeMl } = result;
        const findings = [...result.findings, ...beyond];
        return {
          status: 201,
          body: { number, massG, waterDensityGPerMl, airDensityGPerMl, volumeMl, simpleVolumeMl, findings },
        };
      });
      return send(reply, answer);
    },
  );
};

/** A trial left out with its cause, and taken back in by a second entry; both stay readable. */
const excluding: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/calibrations/:id/trials/:number/exclusion',
    { config: { access: BENCH }, schema: { params: ofTrial, body: exclusionBody, response: { 201: actSaved } } },
    async (request, reply) => {
      const { cause, reason } = request.body;
      const { number } = request.params;
      const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
        const stored = await openCalibration(trx, request.params.id);
        if (trialNumbered(stored, number).exclusion)
          throw new Problem('state-conflict', { detail: `Trial ${number} is excluded already.` });
        await insertExclusion(trx, {
          calibrationId: stored.id,
          trialNumber: number,
          excluded: true,
          cause,
          reason,
          at,
          actor,
        });
        journal({
          act: 'trial-excluded',
          object: `calibration/${stored.id}`,
          before: { number, excluded: false },
          after: { number, excluded: true, cause, reason },
        });
        return { status: 201, body: { number, version: stored.version + 1 } };
      });
      return send(reply, answer);
    },
  );

  app.post(
    '/calibrations/:id/trials/:number/inclusion',
    { config: { access: BENCH }, schema: { params: ofTrial, body: inclusionBody, response: { 201: actSaved } } },
    async (request, reply) => {
      const { reason } = request.body;
      const { number } = request.params;
      const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
        const stored = await openCalibration(trx, request.params.id);
        if (!trialNumbered(stored, number).exclusion)
          throw new Problem('state-conflict', { detail: `Trial ${number} counts already.` });
        await insertExclusion(trx, {
          calibrationId: stored.id,
          trialNumber: number,
          excluded: false,
          cause: null,
          reason,
          at,
          actor,
        });
        journal({
          act: 'trial-included-again',
          object: `calibration/${stored.id}`,
          before: { number, excluded: true },
          after: { number, excluded: false, reason },
        });
        return { status: 201, body: { number, version: stored.version + 1 } };
      });
      return send(reply, answer);
    },
  );
};

/** What the corrected value makes unusual; what was unusual before was asked before. */
const newQuestions = (stored: StoredCalibration, before: TrialFacts, after: TrialFacts): Question[] => {
  const row = rowOf(findTolerance(toleranceRows, stored.record.vessel));
  const number = before.number ?? 1;
  const asked = questionsForTrial(stored.record, before, number, row).map((question) => question.detail);
  return questionsForTrial(stored.record, after, number, row)
    .filter((question) => !asked.includes(question.detail))
    .map((question) => ({ ...question, pointer: '#/value' }));
};

/** The slip put right as one more reading of the same trial; refusals and questions name the value field. */
const correctionRoute: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/calibrations/:id/trials/:number/correction',
    { config: { access: BENCH }, schema: { params: ofTrial, body: correctionBody, response: { 201: actSaved } } },
    async (request, reply) => {
      const { field, value, reason, note } = request.body;
      const { number } = request.params;
      const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
        const stored = await openCalibration(trx, request.params.id);
        const trial = trialNumbered(stored, number);
        const earlier = trial.corrections?.findLast((correction) => correction.field === field);
        const previousValue = earlier?.value ?? trial[field] ?? null;
        if (previousValue === value)
          throw invalid([{ pointer: '#/value', detail: 'That is the value already recorded.' }]);
        const corrected = { ...trial, corrections: [...(trial.corrections ?? []), { field, value, reason }] };
        const refusals = refusalsForTrial(stored.record, corrected);
        if (refusals.length > 0) throw invalid(refusals.map((refusal) => ({ ...refusal, pointer: '#/value' })));
        askUnlessConfirmed(newQuestions(stored, trial, corrected), request.body);
        await insertCorrection(trx, {
          calibrationId: stored.id,
          trialNumber: number,
          field,
          previousValue,
          value,
          reason,
          note: note || null,
          at,
          actor,
        });
        journal({
          act: 'trial-corrected',
          object: `calibration/${stored.id}`,
          before: { number, field, value: previousValue },
          after: withoutGaps({ number, field, value, reason, note }),
        });
        return { status: 201, body: { number, version: stored.version + 1 } };
      });
      return send(reply, answer);
    },
  );
};

export const trialRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, options) => {
  await recording(app, options);
  await excluding(app, options);
  await correctionRoute(app, options);
};
