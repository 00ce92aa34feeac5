/** Reference, Instruments and Settings in a real browser: readable by everybody, usable by keyboard, nothing lost. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp, type App } from '../../server/app.ts';
import { openLogbook, type Logbook } from '../../server/db/logbook.ts';
import { startBrowser } from './chromium.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-rooms-'));
const pagesFolder = fileURLToPath(new URL('../../.dist/web', import.meta.url));
let logbook: Logbook;
let app: App;
let browser: Browser;
let base = '';

beforeAll(async () => {
  logbook = await openLogbook(folder);
  app = await buildApp({ logbook, pagesFolder });
  base = await app.listen({ host: '127.0.0.1', port: 0 });
  browser = await startBrowser();
});
afterAll(async () => {
  await browser.close();
  await app.close();
  await logbook.close();
  rmSync(folder, { recursive: true, force: true });
});

/** A busy machine takes its time. */
const PATIENT = { timeout: 30_000 };

interface Look {
  width: number;
  colorScheme: 'light' | 'dark';
}

/** A page of its own that must not complain in its console. */
async function open(address: string, { width, colorScheme }: Look = { width: 1000, colorScheme: 'light' }) {
  const context = await browser.newContext({ viewport: { width, height: 900 }, colorScheme });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(base + address);
  await page.locator('h1').waitFor();
  await expect.poll(() => page.locator('.loading').count(), PATIENT).toBe(0);
  return { page, complaints, close: () => context.close() };
}

const violations = async (page: Page): Promise<string[]> =>
  (await new AxeBuilder({ page }).analyze()).violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`,
  );
const sidewaysPx = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

const ADDRESSES = [
  '/reference',
  '/reference/formulas/air-density',
  '/reference/formulas/simple-volume',
  '/reference/formulas/expanded-uncertainty',
  '/reference/formulas/verdict',
  '/reference/assumptions',
  '/reference/tolerances?kind=piston-pipette',
  '/reference/materials',
  '/reference/meniscus',
  '/reference/vessels',
  '/reference/cautions',
  '/reference/findings',
  '/reference/refusals',
  '/reference/words',
  '/reference/sources',
  '/problems/stale-edit',
  '/instruments',
  '/instruments/new',
  '/settings',
];

/** Between them they show every colour these rooms use. */
const COLOURFUL = [
  '/reference/formulas/verdict',
  '/reference/tolerances?kind=volumetric-flask',
  '/reference/meniscus',
  '/reference/cautions',
  '/settings',
];

async function lookAt(address: string, look: Look): Promise<void> {
  const { page, complaints, close } = await open(address, look);
  expect(await violations(page)).toEqual([]);
  expect(await sidewaysPx(page)).toBe(0);
  expect(complaints).toEqual([]);
  await close();
}

describe('no barrier, no complaint and no sideways scroll', () => {
  it.each(ADDRESSES)('on the narrowest screen: %s', (address) => lookAt(address, { width: 320, colorScheme: 'light' }));

  it.each(COLOURFUL)('wide and dark: %s', (address) => lookAt(address, { width: 1440, colorScheme: 'dark' }));
});

describe('a formula', () => {
  // Tanaka et al. 2001: 998.2067 kg/m³ at 20 °C; the formula ends at 40 °C.
  it('unfolds by keyboard, computes while one types, and says where it ends', async () => {
    const { page, close } = await open('/reference/formulas');
    await page.locator('#water-density > summary').focus();
    await page.keyboard.press('Enter');
    const field = page.locator('#water-density-water');
    await field.fill('20,0');
    await expect.poll(() => page.locator('.calculated').textContent(), PATIENT).toContain('998.2067');
    await field.fill('40.1');
    await expect.poll(() => page.locator('.field-problem').textContent(), PATIENT).toContain('0 to 40 °C');
    expect(await field.inputValue()).toBe('40.1');
    await close();
  });

  // JCGM 100:2008, table G.2: t at 95.45 % and 10 degrees of freedom is 2.28.
  it('brings its quantiles only when they are needed', async () => {
    const { page, close } = await open('/reference/formulas/expanded-uncertainty');
    await page.locator('#expanded-uncertainty-degrees').fill('10');
    await expect.poll(() => page.locator('.calculated').textContent(), PATIENT).toMatch(/k2\.28/);
    await close();
  });
});

describe('the address of a refusal', () => {
  it('explains it, and one that does not exist leads to those that do', async () => {
    const known = await open('/problems/stale-edit');
    expect(await known.page.locator('h1').textContent()).toBe('Somebody changed this record meanwhile');
    await known.close();
    const unknown = await open('/problems/no-such-thing');
    expect(await unknown.page.getByRole('link', { name: 'Somebody changed this record meanwhile' }).count()).toBe(1);
    await unknown.close();
  });
});

describe('the register of instruments', () => {
  it('keeps what was typed when a field is refused, takes a pasted table, and merges a change made meanwhile', async () => {
    const { page, close } = await open('/instruments/new');
    await page.fill('#tag', 'B-01');
    await page.fill('#dueOn', '2020-02-30');
    await page.getByRole('button', { name: 'Register' }).click();
    await page.getByRole('link', { name: /Due again on/ }).click();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('dueOn');
    expect(await page.inputValue('#tag')).toBe('B-01');
    await page.fill('#dueOn', '2020-02-29');
    await page.evaluate(() => {
      const data = new DataTransfer();
      data.setData('text/plain', '0\t0\n100.0000\t-0,0002\n');
      const event = new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true });
      document.getElementById('corrections/0/at')?.dispatchEvent(event);
    });
    await page.getByRole('button', { name: 'Register' }).click();
    await page.getByRole('heading', { name: 'B-01', exact: true }).waitFor();
    expect(await page.locator('main').textContent()).toContain('overdue since 2020-02-29');
    expect(await page.locator('.corrections-shown').textContent()).toContain('−0.0002');
    expect(await violations(page)).toEqual([]);
    await changeMeanwhile(page);
    expect(await page.locator('main').textContent()).toContain('room 12');
    expect(await page.locator('main').textContent()).toContain('K-2');
    await close();
  });
});

/** I change the place while somebody else, by a request of their own, notes a new certificate. */
async function changeMeanwhile(page: Page): Promise<void> {
  const id = new URL(page.url()).pathname.split('/').at(-1) ?? '';
  await page.getByRole('link', { name: 'Change or new certificate' }).click();
  await page.fill('#location', 'room 12');
  const theirs = await fetch(`${base}/api/instruments/${id}`, {
    method: 'PATCH',
    headers: { 'content-type': 'application/json', 'if-match': '"1"' },
    body: JSON.stringify({ instrument: { kind: 'balance', tag: 'B-01', certificateNumber: 'K-2' }, reason: 'new one' }),
  });
  expect(theirs.status).toBe(200);
  await page.fill('#reason', 'moved');
  await page.getByRole('button', { name: 'Save the change' }).click();
  await page.getByRole('heading', { name: /meanwhile/ }).waitFor();
  expect(await violations(page)).toEqual([]);
  await page.getByRole('button', { name: 'Save my changes on top of it' }).click();
  await page.getByRole('heading', { name: 'B-01', exact: true }).waitFor();
}

describe('the settings', () => {
  // ISO 2533:1975: 898.746 hPa at 1000 m.
  it('show the pressure of a height while one types, refuse an impossible one, and are kept', async () => {
    const { page, close } = await open('/settings');
    await page.fill('#altitudeM', '1000');
    await expect.poll(() => page.locator('.figure').first().textContent(), PATIENT).toContain('898.7');
    await page.fill('#altitudeM', '9000');
    await page.getByRole('button', { name: 'Save' }).click();
    expect(await page.locator('.error-summary').textContent()).toContain('5000 m');
    await page.fill('#altitudeM', '1000');
    await page.fill('#name', 'Teaching laboratory');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Saved.').waitFor();
    const stored = (await (await fetch(`${base}/api/laboratory`)).json()) as Record<string, unknown>;
    expect(stored).toMatchObject({ name: 'Teaching laboratory', altitudeM: '1000' });
    await close();
  });
});
