import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { evaluate } from '../metrology/evaluate.ts';
import { refusalsForAir, refusalsForTrial } from '../metrology/questions.ts';
import type { CalibrationRecord } from '../metrology/record.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { refusalsForVessel } from '../metrology/vessel-refusals.ts';
import { COMPUTING } from '../people/access.ts';
import { invalid, type FieldProblem } from '../problem.ts';
import { result } from './contract-result.ts';
import { evaluateBody, type EvaluateBody } from './contract.ts';
import { resultOnWire } from './view.ts';
import { pointRefusal } from './points.ts';

const refusalsOf = (body: EvaluateBody, record: CalibrationRecord): FieldProblem[] => [
  ...refusalsForVessel(toleranceRows, body.vessel).map(({ pointer, detail }) => ({
    pointer: pointer.replace('#', '#/vessel'),
    detail,
  })),
  ...refusalsForAir(record, body.conditions, '#/conditions'),
  ...body.trials.flatMap((trial, index): FieldProblem[] => {
    const detail = pointRefusal(body.vessel, trial.pointMl);
    return [
      ...(detail === null ? [] : [{ pointer: `#/trials/${index}/pointMl`, detail }]),
      ...refusalsForTrial(record, trial, `#/trials/${index}`),
    ];
  }),
];

/** The whole computation for a record that comes with the request; nothing is stored. Unusual values are findings. */
export const evaluateRoute: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/evaluate',
    { config: { access: COMPUTING }, schema: { body: evaluateBody, response: { 200: result } } },
    async (request) => {
      const record: CalibrationRecord = request.body;
      const refusals = refusalsOf(request.body, record);
      if (refusals.length > 0) throw invalid(refusals);
      return resultOnWire(evaluate(record, toleranceRows));
    },
  );
};
