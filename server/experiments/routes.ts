import type { FastifyPluginAsync } from 'fastify';
import type { Logbook } from '../db/logbook.ts';
import type { Desk } from '../people/desk.ts';
import { Boards } from './boards.ts';
import { boardRoutes } from './routes-board.ts';
import { endingRoutes } from './routes-ending.ts';
import { groupRoutes } from './routes-group.ts';
import { joinRoutes } from './routes-join.ts';
import { paperRoutes } from './routes-papers.ts';
import { planRoutes } from './routes-plan.ts';
import { questionRoutes } from './routes-questions.ts';
import { runningRoutes } from './routes-running.ts';
import { boardOf } from './view-class.ts';

interface ExperimentRoutesOptions {
  logbook: Logbook;
  clock: () => Date;
  /** Null for commands, at which no class comes in. */
  desk: Desk | null;
}

export const experimentRoutes: FastifyPluginAsync<ExperimentRoutesOptions> = async (app, { logbook, clock, desk }) => {
  const boards = new Boards((id) => logbook.read((db) => boardOf(db, id)));
  app.beforeClosing.push(() => boards.close());
  const services = { logbook, boards, desk };
  await app.register(planRoutes, services);
  await app.register(runningRoutes, services);
  await app.register(groupRoutes, services);
  await app.register(boardRoutes, services);
  await app.register(endingRoutes, services);
  await app.register(paperRoutes, { logbook, clock });
  await app.register(questionRoutes, { logbook });
  if (desk) await app.register(joinRoutes, { ...services, clock, desk });
};
