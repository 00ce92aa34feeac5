/** The one place where anything thrown becomes an answer. */
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { OutsideValidity } from './metrology/outside-validity.ts';
import { Problem } from './problem.ts';

const FROM_FASTIFY: Record<string, Problem> = {
  FST_ERR_CTP_INVALID_MEDIA_TYPE: new Problem('wrong-media-type'),
  FST_ERR_CTP_BODY_TOO_LARGE: new Problem('too-large'),
  FST_ERR_CTP_EMPTY_JSON_BODY: new Problem('unreadable-request', { detail: 'The request has no body.' }),
};

const sqliteCode = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';

/** @returns the refusal, or null for a bug that must be logged whole and answered without its text */
const asProblem = (error: unknown): Problem | null => {
  if (error instanceof Problem) return error;
  if (error instanceof OutsideValidity) return new Problem('outside-validity', { detail: error.message });
  const code = sqliteCode(error);
  const known = FROM_FASTIFY[code];
  if (known) return known;
  if (code === 'SQLITE_FULL' || code === 'ENOSPC') return new Problem('storage-full');
  const status = (error as Partial<FastifyError>).statusCode;
  if (status !== undefined && status >= 400 && status < 500)
    return new Problem('unreadable-request', {
      detail: 'The request could not be read: it is not well-formed JSON or HTTP.',
    });
  return null;
};

export const refuse = (problem: Problem, request: FastifyRequest, reply: FastifyReply): FastifyReply =>
  reply
    .code(problem.status)
    .headers(problem.extras.headers ?? {})
    .type('application/problem+json; charset=utf-8')
    .serializer(JSON.stringify)
    .send(problem.body(request.id));

export const answerErrors = (app: FastifyInstance): void => {
  app.setErrorHandler((error, request, reply) => {
    const problem = asProblem(error);
    if (problem) return refuse(problem, request, reply);
    request.log.error({ err: error }, 'unexpected error');
    return refuse(new Problem('internal'), request, reply);
  });
};
