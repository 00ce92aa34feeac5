import type { FastifyPluginAsync } from 'fastify';
import type { Desk } from './desk.ts';
import { requirePerson } from './gate.ts';
import { feedRoutes } from './routes-feeds.ts';
import { keyRoutes } from './routes-keys.ts';
import { ownRoutes, secondFactorRoutes } from './routes-own.ts';
import { accountRoutes, peopleRoutes } from './routes-people.ts';
import { sessionRoutes, setupRoutes } from './routes-session.ts';

export const doorRoutes: FastifyPluginAsync<{ desk: Desk }> = async (app, options) => {
  requirePerson(app);
  await app.register(setupRoutes, options);
  await app.register(sessionRoutes, options);
  await app.register(ownRoutes, options);
  await app.register(secondFactorRoutes, options);
  await app.register(peopleRoutes, options);
  await app.register(accountRoutes, options);
  await app.register(keyRoutes, options);
  await app.register(feedRoutes, options);
};
