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
  await planRoutes(app, services);
  await runningRoutes(app, services);
  await groupRoutes(app, services);
  await boardRoutes(app, services);
  await endingRoutes(app, services);
  await paperRoutes(app, { logbook, clock });
  await questionRoutes(app, { logbook });
  if (desk) await joinRoutes(app, { ...services, clock, desk });
};
