/** A logbook of its own behind the real pages, and pages that must not complain in their console. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { expect } from 'vitest';
import { buildApp, type App } from '../../server/app.ts';
import { openLogbook, type Logbook } from '../../server/db/logbook.ts';

const pagesFolder = fileURLToPath(new URL('../../.dist/web', import.meta.url));

/** A busy machine takes its time. */
export const PATIENT = { timeout: 30_000 };

export class Rooms {
  readonly folder = mkdtempSync(path.join(tmpdir(), 'tarebook-bench-'));
  #app: App | null = null;
  #logbook: Logbook | null = null;
  #port = 0;

  get base(): string {
    return `http://127.0.0.1:${this.#port}`;
  }

  async open(): Promise<void> {
    this.#logbook = await openLogbook(this.folder);
    this.#app = await buildApp({ logbook: this.#logbook, pagesFolder });
    const address = await this.#app.listen({ host: '127.0.0.1', port: this.#port });
    this.#port = Number(new URL(address).port);
  }

  /** The server goes away; its address stays the same for when it comes back. */
  async close(): Promise<void> {
    await this.#app?.close();
    await this.#logbook?.close();
    this.#app = null;
    this.#logbook = null;
  }

  async end(): Promise<void> {
    await this.close();
    rmSync(this.folder, { recursive: true, force: true });
  }

  async api(method: string, address: string, body?: unknown): Promise<Record<string, unknown>> {
    const response = await fetch(this.base + address, {
      method,
      headers: { 'content-type': 'application/json', 'idempotency-key': `test-${Math.random()}` },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    return (await response.json()) as Record<string, unknown>;
  }

  /** An open calibration of a new 100 mL flask of ISO 1042 class A. */
  async calibration(tag: string, plannedTrials = 3): Promise<string> {
    const vessel = await this.api('POST', '/api/vessels', {
      tag,
      kind: 'volumetric-flask',
      nominalVolumeMl: '100',
      basis: 'contain',
      tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
      material: 'borosilicate-3.3',
      referenceTemperatureC: '20',
    });
    const begun = await this.api('POST', `/api/vessels/${String(vessel['id'])}/calibrations`, {
      points: ['100'],
      plannedTrials,
      conditions: { airTemperatureC: '21.8', airPressureHpa: '992.5', relativeHumidityPercent: '48', inspected: true },
    });
    return String(begun['id']);
  }
}

export interface OpenPage {
  page: Page;
  context: BrowserContext;
  complaints: string[];
}

export const openPage = async (browser: Browser, size = { width: 1024, height: 768 }): Promise<OpenPage> => {
  const context = await browser.newContext({ viewport: size });
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENT.timeout);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  return { page, context, complaints };
};

/** What of a trial's row the page shows, cells in order. */
export const rowTexts = async (page: Page): Promise<string[]> =>
  (await page.locator('table tbody tr').allInnerTexts()).map((text) => text.replaceAll(/\s+/g, ' ').trim());

export const seen = (page: Page, text: string | RegExp): Promise<void> =>
  expect.poll(async () => page.locator('body').innerText(), PATIENT).toMatch(text);
