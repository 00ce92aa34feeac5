/** The bench under a technician's hands: what a balance types, slips, refusals, a lost server, exclusions, small screens. */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startBrowser } from './chromium.ts';
import { openPage, PATIENT, Rooms, rowTexts, seen } from './bench-rooms.ts';

const rooms = new Rooms();
let browser: Browser;
beforeAll(async () => {
  await rooms.open();
  browser = await startBrowser();
});
afterAll(async () => {
  await browser.close();
  await rooms.end();
});

const field = (page: Page, label: RegExp) => page.getByLabel(label).first();
const EMPTY = /^Empty/;
const FILLED = /^Filled/;
const WATER = /^Water/;

const atBench = async (tag: string, size?: { width: number; height: number }) => {
  const calibration = await rooms.calibration(tag);
  const opened = await openPage(browser, size);
  await opened.page.goto(`${rooms.base}/bench/${calibration}`);
  await field(opened.page, EMPTY).waitFor();
  return { ...opened, calibration };
};

const save = async (page: Page, empty: string, filled: string): Promise<void> => {
  await field(page, EMPTY).fill(empty);
  await field(page, FILLED).fill(filled);
  await field(page, WATER).fill('21.3');
  await page.getByRole('button', { name: /^Save trial/ }).click();
};

const trialsOf = async (calibration: string) =>
  (await rooms.api('GET', `/api/calibrations/${calibration}`))['trials'] as Record<string, unknown>[];

describe('what a balance types', () => {
  it('goes from field to field as fast as a keyboard wedge sends it, and keeps its zeros', async () => {
    const { page, context, calibration } = await atBench('W-1');
    await field(page, EMPTY).focus();
    await page.keyboard.type('ST,+ 61.2030 g', { delay: 5 });
    await page.keyboard.press('Enter');
    await page.keyboard.type('  +160.8370 g', { delay: 5 });
    await page.keyboard.press('Enter');
    await page.keyboard.type('21,3');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await trialsOf(calibration)).length, PATIENT).toBe(1);
    const [trial] = await trialsOf(calibration);
    expect(trial).toMatchObject({ emptyG: '61.2030', filledG: '160.8370', waterTemperatureC: '21.3' });
    await context.close();
  }, 90_000);

  it.each(['1,234.5', '61.20.30', '12 lb', 'abc', '1e3'])(
    'asks about %s and keeps it in the field',
    async (typed) => {
      const { page, context, calibration } = await atBench(`W-${typed}`);
      await field(page, EMPTY).fill(typed);
      await field(page, FILLED).fill('160.8370');
      await field(page, WATER).fill('21.3');
      await page.getByRole('button', { name: /^Save trial/ }).click();
      await expect.poll(() => field(page, EMPTY).getAttribute('aria-invalid'), PATIENT).toBe('true');
      expect(await field(page, EMPTY).inputValue()).toBe(typed);
      expect(await trialsOf(calibration)).toEqual([]);
      await context.close();
    },
    90_000,
  );
});

describe('refusals', () => {
  it('say at the field that filled is lighter than empty, with everything still there', async () => {
    const { page, context, calibration } = await atBench('R-1');
    await save(page, '160.8370', '61.2030');
    await seen(page, /swapped/);
    expect(await field(page, FILLED).inputValue()).toBe('61.2030');
    expect(await trialsOf(calibration)).toEqual([]);
    await context.close();
  }, 90_000);
});

describe('nothing is lost', () => {
  it('keeps half a trial through a reload', async () => {
    const { page, context } = await atBench('L-1');
    await field(page, EMPTY).fill('61.2030');
    await seen(page, /typed/);
    await page.waitForTimeout(500);
    await page.reload();
    await expect.poll(() => field(page, EMPTY).inputValue(), PATIENT).toBe('61.2030');
    await context.close();
  }, 90_000);

  it('keeps a trial typed while the server is away, and sends it once when it is back', async () => {
    const { page, context, calibration } = await atBench('L-2');
    await rooms.close();
    await save(page, '61.2030', '160.8370');
    await seen(page, /not sent yet|kept here/);
    await rooms.open();
    await page.evaluate(() => window.dispatchEvent(new Event('online')));
    await expect.poll(async () => (await trialsOf(calibration)).length, { timeout: 60_000 }).toBe(1);
    await page.reload();
    await expect.poll(async () => (await rowTexts(page)).join('|'), PATIENT).toContain('160.8370');
    expect((await trialsOf(calibration)).length).toBe(1);
    await context.close();
  }, 120_000);
});

describe('every width', () => {
  it.each([
    { width: 320, height: 568 },
    { width: 568, height: 320 },
    { width: 1440, height: 900 },
  ])(
    'has no sideways scroll and no barrier at $width px',
    async (size) => {
      const { page, context, complaints } = await atBench(`S-${size.width}`, size);
      await save(page, '61.2030', '160.8370');
      await expect.poll(async () => (await rowTexts(page)).join('|'), PATIENT).toContain('160.8370');
      const sideways = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(sideways).toBe(0);
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual([]);
      for (const label of [EMPTY, FILLED, WATER]) {
        const box = await field(page, label).boundingBox();
        expect(box?.height ?? 0).toBeGreaterThanOrEqual(48);
      }
      expect(await page.locator('input[type=number]').count()).toBe(0);
      expect(complaints).toEqual([]);
      await context.close();
    },
    90_000,
  );
});
