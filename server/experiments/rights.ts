/** Somebody of a class reaches their own experiment, and a group its own trials; everything else is not there for them. */
import type { FastifyRequest } from 'fastify';
import { notFound } from '../problem.ts';

/** @throws Problem `not-found` for another experiment */
export const requireOwnExperiment = ({ classSession }: FastifyRequest, experimentId: string): void => {
  if (classSession !== null && classSession.experimentId !== experimentId) throw notFound('experiment');
};

/** @throws Problem `not-found` for another experiment, and for another group */
export const requireOwnGroup = (request: FastifyRequest, params: { id: string; group: string }): void => {
  requireOwnExperiment(request, params.id);
  const { classSession } = request;
  if (classSession?.kind === 'group' && classSession.groupId !== params.group) throw notFound('group');
};
