/** A route that does not say who may call it keeps the server from starting. */
import type { FastifyInstance } from 'fastify';
import { afterAll, expect, it, vi } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { openLogbook } from '../../server/db/logbook.ts';
import { removeFolder, temporaryFolder } from '../db/support.ts';

const ROUTE = { access: undefined as unknown };
vi.mock('../../server/records/routes.ts', () => ({
  recordsRoutes: async (app: FastifyInstance) => {
    app.get('/open-door', { config: ROUTE as object }, async () => 'anybody');
  },
}));

const folder = temporaryFolder();
const logbook = await openLogbook(folder);
afterAll(async () => {
  await logbook.close();
  removeFolder(folder);
});

it('is refused by its address', async () => {
  await expect(buildApp({ logbook, pagesFolder: null })).rejects.toThrow(
    /GET \/api\/open-door does not declare who may call it/,
  );
});

it('starts with the same route once it says so', async () => {
  ROUTE.access = 'open';
  const app = await buildApp({ logbook, pagesFolder: null });
  expect((await app.inject({ method: 'GET', url: '/api/open-door' })).body).toBe('anybody');
  await app.close();
});
