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
  await setupRoutes(app, options);
  await sessionRoutes(app, options);
  await ownRoutes(app, options);
  await secondFactorRoutes(app, options);
  await peopleRoutes(app, options);
  await accountRoutes(app, options);
  await keyRoutes(app, options);
  await feedRoutes(app, options);
};
