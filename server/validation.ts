/** zod decides what a request may hold; what it refuses becomes a problem that names the field. */
import type { FastifySchemaCompiler } from 'fastify';
import type { z, ZodError, ZodType } from 'zod';
import { invalid, Problem, type FieldProblem } from './problem.ts';
import { pointerOf } from './wire.ts';

const EXPECTED: Partial<Record<string, string>> = {
  string: 'text',
  number: 'a whole number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object with named fields',
};

/** Stands in a sentence for the name of the field, which zod adds only later. */
const FIELD = '{field}';

const bound = (origin: string, limit: number | bigint, side: 'most' | 'least'): string => {
  if (origin === 'array') return `${FIELD} holds at ${side} ${limit} entries.`;
  if (origin === 'string') return `${FIELD} holds at ${side} ${limit} characters.`;
  return `${FIELD} is at ${side} ${limit}.`;
};

/** Plain sentences where a contract has none of its own. */
const plainSentence = (issue: z.core.$ZodRawIssue): string | undefined => {
  switch (issue.code) {
    case 'invalid_type':
      return issue.input === undefined
        ? `${FIELD} is missing.`
        : `${FIELD} must be ${EXPECTED[issue.expected] ?? issue.expected}.`;
    case 'invalid_value':
      return `${FIELD} is one of: ${issue.values.map(String).join(', ')}.`;
    case 'too_big':
      return bound(issue.origin, issue.maximum, 'most');
    case 'too_small':
      return bound(issue.origin, issue.minimum, 'least');
    default:
      return undefined;
  }
};

const nameOf = (path: readonly PropertyKey[]): string =>
  path.findLast((step) => typeof step === 'string') ?? 'The request';

const fieldProblems = (error: ZodError): FieldProblem[] =>
  error.issues.flatMap((issue): FieldProblem[] => {
    if (issue.code === 'unrecognized_keys')
      return issue.keys.map((key) => ({
        pointer: pointerOf([...issue.path, key]),
        detail: `There is no field called ${JSON.stringify(key)} here.`,
      }));
    return [{ pointer: pointerOf(issue.path), detail: issue.message.replace(FIELD, () => nameOf(issue.path)) }];
  });

/** @throws never; fastify wants the refusal as a value */
export const validatorCompiler: FastifySchemaCompiler<ZodType> =
  ({ schema, httpPart }) =>
  (data: unknown) => {
    if (httpPart === 'body' && (data === undefined || data === null))
      return { error: new Problem('unreadable-request', { detail: 'The request has no body.' }) };
    const parsed = schema.safeParse(data, { error: plainSentence });
    if (parsed.success) return { value: parsed.data };
    if (httpPart === 'params') return { error: new Problem('not-found') };
    return { error: invalid(fieldProblems(parsed.error)) };
  };
