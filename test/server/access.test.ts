/** A route that does not say who may call it keeps the server from starting. */
import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { openLogbook, type Logbook } from '../../server/db/logbook.ts';
import { removeFolder, temporaryFolder } from '../db/support.ts';

const RECORDS = '../../server/records/routes.ts';
let folder: string;
let logbook: Logbook;
beforeEach(async () => {
  folder = temporaryFolder();
  logbook = await openLogbook(folder);
});
afterEach(async () => {
  vi.doUnmock(RECORDS);
  vi.resetModules();
  await logbook.close();
  removeFolder(folder);
});

/** The whole server, with one route of another making in the place of today's page. */
const serverWith = async (config: object) => {
  vi.resetModules();
  vi.doMock(RECORDS, () => ({
    recordsRoutes: async (app: FastifyInstance) => {
      app.get('/open-door', { config }, async () => 'anybody');
    },
  }));
  const { buildApp } = await import('../../server/app.ts');
  return buildApp({ logbook, pagesFolder: null });
};

it('is refused by its address', async () => {
  await expect(serverWith({})).rejects.toThrow(/GET \/api\/open-door does not declare who may call it/);
});

it('starts with the same route once it says so', async () => {
  const app = await serverWith({ access: 'open' });
  expect((await app.inject({ method: 'GET', url: '/api/open-door' })).body).toBe('anybody');
  await app.close();
});
