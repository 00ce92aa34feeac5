/** The one place where anything thrown becomes an answer. */
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest, FastifyServerOptions } from 'fastify';
import { BARE_HEADERS } from './doors/headers.ts';
import { OutsideValidity } from './metrology/outside-validity.ts';
import { Problem } from './problem.ts';
import { newRequestId } from './requests.ts';

const PROBLEM_TYPE = 'application/problem+json; charset=utf-8';

const UNREADABLE = new Problem('unreadable-request', {
  detail: 'The request could not be read: it is not well-formed JSON or HTTP.',
});

const FROM_FASTIFY: Record<string, Problem> = {
  FST_ERR_MAX_PARAM_LENGTH: new Problem('not-found'),
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
  if (status !== undefined && status >= 400 && status < 500) return UNREADABLE;
  return null;
};

export const refuse = (problem: Problem, request: FastifyRequest, reply: FastifyReply): FastifyReply =>
  reply
    .code(problem.status)
    .headers({ 'cache-control': 'no-store', ...problem.extras.headers })
    .type(PROBLEM_TYPE)
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

/** Addresses that never reach a route. */
export const answerFrameworkErrors: FastifyServerOptions['frameworkErrors'] = (error, request, reply) => {
  void refuse(asProblem(error) ?? new Problem('internal'), request, reply);
};

/** Bytes that are not HTTP never become a request; they are answered on the bare socket. */
export const answerClientErrors: FastifyServerOptions['clientErrorHandler'] = (error, socket) => {
  if (error.code === 'ECONNRESET' || !socket.writable) {
    socket.destroy();
    return;
  }
  const body = JSON.stringify(UNREADABLE.body(newRequestId()));
  const head = [
    `HTTP/1.1 ${UNREADABLE.status} Bad Request`,
    `content-type: ${PROBLEM_TYPE}`,
    `content-length: ${Buffer.byteLength(body)}`,
    'connection: close',
    ...Object.entries(BARE_HEADERS).map(([name, value]) => `${name}: ${value}`),
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
};
