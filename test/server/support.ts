/** A whole server on a logbook of its own in a temporary folder, spoken to without sockets. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { buildApp, type App } from '../../server/app.ts';
import { openLogbook, type Logbook } from '../../server/db/logbook.ts';

export interface Reply {
  status: number;
  // Bodies are looked at field by field in the tests; their shape is what is being tested.
  body: Record<string, never>;
  headers: Record<string, unknown>;
}

let keys = 0;

export class TestServer {
  readonly folder: string;
  app!: App;
  logbook!: Logbook;
  now = new Date('2026-09-14T08:30:00.000Z');

  private constructor(folder: string) {
    this.folder = folder;
  }

  static async start(): Promise<TestServer> {
    const server = new TestServer(mkdtempSync(path.join(tmpdir(), 'tarebook-test-')));
    await server.open();
    return server;
  }

  async open(): Promise<void> {
    const clock = () => this.now;
    this.logbook = await openLogbook(this.folder, clock);
    this.app = await buildApp({ logbook: this.logbook, pagesFolder: null, clock });
  }

  async close(): Promise<void> {
    await this.app.close();
    await this.logbook.close();
  }

  async restart(): Promise<void> {
    await this.close();
    await this.open();
  }

  async end(): Promise<void> {
    await this.close();
    rmSync(this.folder, { recursive: true, force: true });
  }

  async get(url: string): Promise<Reply> {
    return this.send('GET', url);
  }

  async post(url: string, body?: unknown, headers: Record<string, string> = {}): Promise<Reply> {
    keys += 1;
    return this.send('POST', url, body, { 'idempotency-key': `test-key-${keys}`, ...headers });
  }

  async patch(url: string, version: number, body: unknown): Promise<Reply> {
    return this.send('PATCH', url, body, { 'if-match': `"${version}"` });
  }

  async send(
    method: 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE',
    url: string,
    body?: unknown,
    headers: Record<string, string> = {},
  ): Promise<Reply> {
    const withBody = body === undefined ? {} : { payload: JSON.stringify(body) };
    const type: Record<string, string> = body === undefined ? {} : { 'content-type': 'application/json' };
    const response = await this.app.inject({ method, url, headers: { ...type, ...headers }, ...withBody });
    return {
      status: response.statusCode,
      body: response.body === '' ? {} : (response.json() as Reply['body']),
      headers: response.headers,
    };
  }
}

/** A 100 mL flask of ISO 1042:1998 class A; invented. */
export const FLASK = {
  tag: 'F-0317',
  kind: 'volumetric-flask',
  nominalVolumeMl: '100',
  basis: 'contain',
  tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
  material: 'borosilicate-3.3',
  referenceTemperatureC: '20',
};

export const CONDITIONS = {
  airTemperatureC: '21.8',
  airPressureHpa: '992.5',
  relativeHumidityPercent: '48',
  inspected: true,
};

export const CALIBRATION = { points: ['100'], plannedTrials: 3, conditions: CONDITIONS };

export const TRIAL = { pointMl: '100', emptyG: '61.2034', filledG: '160.8371', waterTemperatureC: '21.3' };
