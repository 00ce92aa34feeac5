/** A whole server on a logbook of its own in a temporary folder, spoken to without sockets. */
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { buildApp, type App } from '../../server/app.ts';
import type { Calibration } from '../../server/calibrations/contract.ts';
import { openLogbook, type Logbook } from '../../server/db/logbook.ts';
import type { VesselWithHistory } from '../../server/glassware/contract.ts';

// What day it is depends on the zone; the expected days are those of Greenwich.
process.env['TZ'] = 'UTC';

export interface Reply {
  status: number;
  body: Record<string, unknown>;
  headers: Record<string, unknown>;
}

let keys = 0;
let tags = 0;

/** A tag that no other vessel or instrument of this run bears. */
export const freshTag = (): string => `T-${(tags += 1)}`;
export const freshKey = (): string => `test-key-${(keys += 1)}`;

const START = '2026-09-14T08:30:00.000Z';
let template: Promise<string> | null = null;

/** A logbook nobody has written in, made once and copied: making it takes longer than most tests. */
const emptyLogbook = (): Promise<string> =>
  (template ??= (async () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-empty-'));
    process.once('exit', () => rmSync(folder, { recursive: true, force: true }));
    await (await openLogbook(folder, () => new Date(START))).close();
    return folder;
  })());

export const SETUP_CODE = 'abcd-efgh-jkmn-pqrs';

export class TestServer {
  readonly folder: string;
  app!: App;
  logbook!: Logbook;
  now = new Date(START);
  /** Lines of the security log. */
  readonly security: string[] = [];

  private constructor(folder: string) {
    this.folder = folder;
  }

  static async start(): Promise<TestServer> {
    const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-test-'));
    cpSync(await emptyLogbook(), folder, { recursive: true });
    return TestServer.on(folder);
  }

  /** On a folder that is there already. */
  static async on(folder: string): Promise<TestServer> {
    const server = new TestServer(folder);
    await server.open();
    return server;
  }

  async open(): Promise<void> {
    const clock = () => this.now;
    this.logbook = await openLogbook(this.folder, clock);
    this.app = await buildApp({
      logbook: this.logbook,
      pagesFolder: null,
      clock,
      setupCode: SETUP_CODE,
      securityLog: (line) => this.security.push(line),
    });
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
    return this.send('POST', url, body, { 'idempotency-key': freshKey(), ...headers });
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
    if (body === undefined) return this.sendText(method, url, undefined, headers);
    return this.sendText(method, url, JSON.stringify(body), { 'content-type': 'application/json', ...headers });
  }

  /** A body exactly as given, JSON or not. */
  async sendText(
    method: 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE',
    url: string,
    payload: string | Buffer | undefined,
    headers: Record<string, string> = {},
  ): Promise<Reply> {
    const response = await this.app.inject({ method, url, headers, ...(payload === undefined ? {} : { payload }) });
    return {
      status: response.statusCode,
      body: response.body === '' ? {} : response.json<Reply['body']>(),
      headers: response.headers,
    };
  }

  /** Registers a vessel, the 100 mL flask unless told otherwise. @returns its id */
  async vessel(facts: object = {}): Promise<string> {
    return idOf(await this.post('/api/vessels', { ...FLASK, tag: freshTag(), ...facts }));
  }

  /** Begins a calibration, of a new flask unless told otherwise. @returns its id */
  async calibration(facts: object = {}, vesselId?: string): Promise<string> {
    const vessel = vesselId ?? (await this.vessel());
    return idOf(await this.post(`/api/vessels/${vessel}/calibrations`, { ...CALIBRATION, ...facts }));
  }

  /** Records one trial. @returns its number */
  async trial(calibrationId: string, facts: object = {}): Promise<number> {
    const reply = await this.post(`/api/calibrations/${calibrationId}/trials`, { ...TRIAL, ...facts });
    if (reply.status !== 201) throw new Error(`${reply.status} ${JSON.stringify(reply.body)}`);
    return Number(reply.body['number']);
  }

  async calibrationPage(id: string): Promise<Calibration> {
    return found(await this.get(`/api/calibrations/${id}`)) as unknown as Calibration;
  }

  async vesselPage(id: string): Promise<VesselWithHistory> {
    return found(await this.get(`/api/vessels/${id}`)) as unknown as VesselWithHistory;
  }
}

const found = (reply: Reply): Reply['body'] => {
  if (reply.status !== 200) throw new Error(`${reply.status} ${JSON.stringify(reply.body)}`);
  return reply.body;
};

export const idOf = (reply: Reply): string => {
  if (reply.status !== 201) throw new Error(`${reply.status} ${JSON.stringify(reply.body)}`);
  return String(reply.body['id']);
};

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
