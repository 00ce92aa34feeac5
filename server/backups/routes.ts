import { existsSync } from 'node:fs';
import path from 'node:path';
import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook } from '../db/logbook.ts';
import { isDemonstration } from '../laboratory/store.ts';
import { KEEPER } from '../people/access.ts';
import { invalid, Problem } from '../problem.ts';
import { creating, editing, send } from '../requests.ts';
import type { Backups } from './backups.ts';
import { asideBody, backupList, backupMade, restarting, restoreBody } from './contract.ts';
import { BackupRefused } from './copy.ts';
import { isBackupName } from './folder.ts';
import { asideJob, restoreJob, type Job } from './jobs.ts';

export interface BackupRoutesOptions {
  logbook: Logbook;
  clock: () => Date;
  backups: Backups;
  /** Closes the server, does the job and opens it again; null where there is nobody who could. */
  onRestart: ((job: Job) => void) | null;
}

const refuse = (error: unknown): never => {
  throw error instanceof BackupRefused ? new Problem('state-conflict', { detail: error.message }) : error;
};

export const backupRoutes: FastifyPluginAsyncZod<BackupRoutesOptions> = async (app, options) => {
  const { logbook, clock, backups, onRestart } = options;
  let isRestarting = false;
  const openedAt = clock().toISOString();
  /** @throws Problem `state-conflict` */
  const requireRestart = (): ((job: Job) => void) => {
    if (onRestart === null)
      throw new Problem('state-conflict', { detail: 'This server cannot open itself again. Start it with npm start.' });
    if (isRestarting)
      throw new Problem('state-conflict', { detail: 'The server is opening another logbook just now.' });
    return onRestart;
  };
  /** The answer goes out first: the connection it comes over closes with the server. */
  const restartAfter = (reply: FastifyReply, restart: (job: Job) => void, job: Job): FastifyReply => {
    isRestarting = true;
    reply.raw.once('close', () => restart(job));
    return reply.code(202).send({ restarting: true, openedAt });
  };

  app.get('/backups', { config: { access: KEEPER }, schema: { response: { 200: backupList } } }, async () => ({
    ...(await backups.list()),
    openedAt,
  }));

  app.post(
    '/backups',
    { config: { access: KEEPER }, schema: { response: { 201: backupMade } } },
    async (request, reply) => send(reply, await backups.make(creating(request)).catch(refuse)),
  );

  app.post(
    '/backups/restore',
    { config: { access: KEEPER }, schema: { body: restoreBody, response: { 202: restarting } } },
    async (request, reply) => {
      const { file, reason } = request.body;
      const whole = path.join(await backups.folder(), file);
      if (!isBackupName(file) || !existsSync(whole))
        throw invalid([{ pointer: '#/file', detail: 'No backup has this name.' }]);
      const restart = requireRestart();
      return restartAfter(reply, restart, restoreJob(whole, { actor: request.actor, reason, at: clock() }));
    },
  );

  app.post(
    '/logbook/aside',
    { config: { access: KEEPER }, schema: { body: asideBody, response: { 202: restarting } } },
    async (request, reply) => {
      if (!(await logbook.read(isDemonstration)))
        throw new Problem('state-conflict', {
          detail: 'Only a demonstration is set aside; this logbook is a real one.',
        });
      const restart = requireRestart();
      const { reason = null } = request.body;
      await logbook.write(editing(request), ({ journal }) => {
        journal({ act: 'logbook-set-aside', object: 'logbook/1', before: null, after: { reason } });
        return Promise.resolve({ status: 202, body: null });
      });
      return restartAfter(reply, restart, asideJob(clock()));
    },
  );
};
