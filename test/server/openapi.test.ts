/** The API document lists every route and nothing else; every route says who may call it; reading changes nothing. */
import { Validator } from '@seriousme/openapi-schema-validator';
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp, type App } from '../../server/app.ts';
import { everything, expectProblem } from './attempts.ts';
import { issueAside } from '../certificates/issue-aside.ts';
import { measuredExperiment } from '../experiments/lesson.ts';
import { preparedSolution } from '../solutions/shelf.ts';
import { weighedLot } from '../lots/delivery.ts';
import { freshTag, idOf, TestServer, TRIAL } from './support.ts';

interface Operation {
  parameters?: { in: string; name: string; required?: boolean }[];
  requestBody?: { content: Record<string, { schema: { properties?: Record<string, unknown> } }> };
  responses: Record<string, { content?: Record<string, unknown> }>;
}
interface ApiDocument {
  openapi: string;
  info: { title: string; version: string };
  paths: Record<string, Record<string, Operation>>;
}

let server: TestServer;
let app: App;
let described: ApiDocument;
beforeAll(async () => {
  server = await TestServer.start();
  const pagesFolder = path.join(server.folder, 'pages');
  mkdirSync(path.join(pagesFolder, 'assets'), { recursive: true });
  writeFileSync(path.join(pagesFolder, 'index.html'), '<!doctype html><title>Tarebook</title>');
  writeFileSync(path.join(pagesFolder, 'assets', 'main-1a2b.js'), 'export {};');
  app = await buildApp({ logbook: server.logbook, pagesFolder });
  const reply = await app.inject({ method: 'GET', url: '/api/openapi.json' });
  described = reply.json<ApiDocument>();
});
afterAll(async () => {
  await app.close();
  await server.end();
});

const operations = () =>
  Object.entries(described.paths).flatMap(([url, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ url, method: method.toUpperCase(), operation })),
  );

/** Reads the router's own tree: each line is a piece of a path, deeper pieces stand further right. */
const routesOf = (tree: string): string[] => {
  const pieces: string[] = [];
  const routes: string[] = [];
  for (const line of tree.split('\n')) {
    const match = /^([│ ]*)[├└]── (\S+)(?: \(([A-Z, ]+)\))?$/.exec(line);
    if (!match) continue;
    const [, indent = '', piece = '', methods = ''] = match;
    pieces.splice(indent.length / 4, Number.POSITIVE_INFINITY, piece);
    const url = pieces.join('').replaceAll(/:(\w+)/g, '{$1}');
    for (const method of methods.split(', ').filter((one) => one !== '' && one !== 'HEAD'))
      routes.push(`${method} ${url}`);
  }
  return routes;
};

describe('the document', () => {
  it('is OpenAPI 3.1 of this program', () => {
    expect(described.openapi).toMatch(/^3\.1\.\d$/);
    expect(described.info).toMatchObject({ title: 'Tarebook' });
  });

  it('is valid, says a general validator of OpenAPI documents', async () => {
    const { valid, errors } = await new Validator().validate(
      structuredClone<unknown>(described) as Record<string, unknown>,
    );
    expect(errors ?? []).toEqual([]);
    expect(valid).toBe(true);
  });

  it('lists exactly the routes under /api that the router has, and no page', () => {
    const routes = routesOf(app.printRoutes({ commonPrefix: false }));
    expect(routes).toContain('GET /index.html');
    const ofTheApi = routes.filter((route) => route.includes(' /api/'));
    expect(ofTheApi.length).toBeGreaterThan(25);
    expect(
      operations()
        .map(({ method, url }) => `${method} ${url}`)
        .sort(),
    ).toEqual(ofTheApi.sort());
  });

  it('says which header each needs, and how it refuses', () => {
    for (const { method, url, operation } of operations()) {
      const headers =
        operation.parameters?.filter((one) => one.in === 'header' && one.required).map((one) => one.name) ?? [];
      // Some answers hold what is told this once, as a group's word: they must not be kept.
      const isKept = !['/api/setup', '/api/class/join', '/api/calendars'].includes(url);
      const creates = '201' in operation.responses && isKept;
      expect(headers).toEqual(method === 'PATCH' ? ['If-Match'] : creates ? ['Idempotency-Key'] : []);
      expect(Object.keys(operation.responses['default']?.content ?? {})).toEqual(['application/problem+json']);
    }
  });

  it('names the parameters of every path, and the fields of every body', () => {
    for (const { url, operation } of operations()) {
      const named = operation.parameters?.filter((one) => one.in === 'path').map((one) => one.name) ?? [];
      expect(named).toEqual([...url.matchAll(/\{(\w+)\}/g)].map((match) => match[1]));
    }
    const trial = described.paths['/api/calibrations/{id}/trials']?.['post']?.requestBody?.content['application/json'];
    expect(Object.keys(trial?.schema.properties ?? {})).toEqual(expect.arrayContaining(Object.keys(TRIAL)));
  });

  it('demands what it says: a creating route refuses without a key, a changing one without a version', async () => {
    const bare = operations().filter(({ operation }) => operation.parameters?.some((one) => one.in === 'header'));
    expect(bare.length).toBeGreaterThan(14);
    for (const { method, url } of bare) {
      const address = url.replace('certificates/{number}', 'certificates/2026-00001').replaceAll(/\{\w+\}/g, '1');
      const reply = await server.send(method as 'POST', address, {});
      // Signing asks first of all who signs.
      const signs = /\/(?:check|issue|amendment|withdrawal)$/.test(url);
      expect(signs ? [401, 422] : [400, 422, 428]).toContain(reply.status);
    }
  });
});

describe('pages', () => {
  it('answer a browser at any address outside /api, and only a browser', async () => {
    const html = { accept: 'text/html' };
    for (const url of ['/', '/glassware', '/vessels/abc?tab=2', '/apiary']) {
      const reply = await app.inject({ method: 'GET', url, headers: html });
      expect(reply.headers['content-type']).toMatch(/^text\/html/);
    }
    for (const [url, headers] of [
      ['/api/nothing', html],
      ['/api', html],
      ['/glassware', {}],
    ] as const) {
      const reply = await app.inject({ method: 'GET', url, headers });
      expectProblem({ status: reply.statusCode, headers: reply.headers, body: reply.json() }, ['not-found']);
    }
  });
});

/** Invented: a single label on the sheet. */
const ONE_LABEL = 'columns=1&rows=1&labelWidthMm=60&labelHeightMm=30&marginLeftMm=0&marginTopMm=0';

describe('reading', () => {
  it('changes nothing, at every address that can be read', async () => {
    const calibration = await server.calibration();
    await server.trial(calibration);
    const instrument = idOf(await server.post('/api/instruments', { kind: 'balance', tag: freshTag() }));
    const { id: experiment, group } = await measuredExperiment(server);
    const ids: Record<string, string> = {
      experiments: experiment,
      calibrations: calibration,
      instruments: instrument,
      vessels: await server.vessel(),
      lots: (await weighedLot(server, 2)).lot,
      preparations: await preparedSolution(server),
    };
    const number = await issueAside(server, calibration);
    const before = everything(server);
    // A stream has no end to wait for, a calendar answers its token only, and calendars are somebody's: tested by themselves.
    const aside = /\/stream$|\.ics$|^\/api\/calendars$/;
    const reading = operations().filter(({ method, url }) => method === 'GET' && !aside.test(url));
    for (const { url } of reading) {
      const address = url
        .replace(/(\w+)\/\{id\}/, (_, kind: string) => `${kind}/${ids[kind] ?? ''}`)
        .replace('rounds/{number}', 'rounds/1')
        .replace('{number}', number)
        .replace('{format}', 'pdf')
        .replace('summary.pdf', 'summary.pdf?from=2026-01-01&to=2026-12-31')
        .replace(/labels$/, `labels?vessels=${ids['vessels'] ?? ''}`)
        .replace(/labels\.pdf$/, `labels.pdf?vessels=${ids['vessels'] ?? ''}&${ONE_LABEL}`)
        .replace(/sheets\.pdf$/, `sheets.pdf?vessels=${ids['vessels'] ?? ''}`)
        .replace(/formula$/, 'formula?text=NaCl')
        .replace(/choice$/, 'choice?job=portion&volumeMl=25')
        .replace(/distribution$/, 'distribution?kind=burette&nominalVolumeMl=50')
        .replace('{token}', 'aaaaaaaa')
        .replace('{group}', group);
      for (const method of ['GET', 'HEAD'] as const) {
        const reply = await app.inject({ method, url: address });
        expect({ address, status: reply.statusCode }).toEqual({ address, status: 200 });
      }
    }
    expect(reading.length).toBeGreaterThan(10);
    expect(everything(server)).toEqual(before);
    // Papers are set for some of them, twice each.
  }, 90_000);
});
