/** zod decides what a request may hold; what it refuses becomes a problem that names the field. */
import type { FastifySchemaCompiler } from 'fastify';
import type { ZodError, ZodType } from 'zod';
import { invalid, Problem, type FieldProblem } from './problem.ts';
import { pointerOf } from './wire.ts';

const fieldProblems = (error: ZodError): FieldProblem[] =>
  error.issues.flatMap((issue): FieldProblem[] => {
    if (issue.code === 'unrecognized_keys')
      return issue.keys.map((key) => ({
        pointer: pointerOf([...issue.path, key]),
        detail: `There is no field called ${JSON.stringify(key)} here.`,
      }));
    return [{ pointer: pointerOf(issue.path), detail: issue.message }];
  });

/** @throws never; fastify wants the refusal as a value */
export const validatorCompiler: FastifySchemaCompiler<ZodType> =
  ({ schema, httpPart }) =>
  (data: unknown) => {
    if (httpPart === 'body' && (data === undefined || data === null))
      return { error: new Problem('unreadable-request', { detail: 'The request has no body.' }) };
    const parsed = schema.safeParse(data);
    if (parsed.success) return { value: parsed.data };
    if (httpPart === 'params') return { error: new Problem('not-found') };
    return { error: invalid(fieldProblems(parsed.error)) };
  };
