/** Setting and taking away the cookie of somebody of a class. */
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { ClassSession } from './class-sessions.ts';
import type { Desk } from './desk.ts';

const flagsOf = (desk: Desk, request: FastifyRequest) =>
  ({ path: '/', httpOnly: true, sameSite: 'strict', secure: desk.isSecure(request) }) as const;

/** Begins a session with a new id; the one this browser had ends. */
export const beginClassSession = (
  desk: Desk,
  facts: Omit<ClassSession, 'hash'>,
  request: FastifyRequest,
  reply: FastifyReply,
): void => {
  const before = desk.whoseOfClass(request);
  if (before) desk.classSessions.end(before);
  reply.setCookie(desk.classCookie(request), desk.classSessions.begin(facts), flagsOf(desk, request));
};

export const endClassSession = (desk: Desk, request: FastifyRequest, reply: FastifyReply): void => {
  const before = desk.whoseOfClass(request);
  if (before) desk.classSessions.end(before);
  reply.clearCookie(desk.classCookie(request), flagsOf(desk, request));
};
