/** From an empty logbook to a verdict, by keyboard alone; and everything is there again after a restart. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
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

const type = async (page: Page, label: string, text: string): Promise<void> => {
  await page.getByLabel(label, { exact: false }).first().focus();
  await page.keyboard.type(text);
};
const press = async (page: Page, name: RegExp, key = 'Enter'): Promise<void> => {
  await page.getByRole('button', { name }).first().focus();
  await page.keyboard.press(key);
};

/** Focus stands in the empty reading when a trial begins, and comes back there after it. */
const trial = async (page: Page, empty: string, filled: string): Promise<void> => {
  await page.keyboard.type(empty);
  await page.keyboard.press('Enter');
  await page.keyboard.type(filled);
  await page.keyboard.press('Enter');
};

it('takes a new user from an empty logbook to a verdict without a mouse', async () => {
  const { page, context, complaints } = await openPage(browser);
  await page.goto(`${rooms.base}/`);
  await seen(page, /Add the first vessel/);
  await page.goto(`${rooms.base}/glassware/new`);
  await page.getByRole('radio', { name: 'volumetric flask' }).focus();
  await page.keyboard.press('Space');
  await type(page, 'Tag', 'F-0317');
  await type(page, 'Nominal volume', '100');
  await page.getByLabel('Standard and edition').selectOption({ label: 'ISO 1042:1998' });
  await page
    .getByLabel('Class', { exact: true })
    .selectOption({ label: 'A' })
    .catch(async () => {
      await page.getByRole('radio', { name: /^A$/ }).check();
    });
  await seen(page, /±0\.100? mL/);
  await press(page, /Add this vessel/);
  await page.waitForURL(/\/glassware\/[a-z0-9]+$/, PATIENT);
  await seen(page, /it does not deliver/);

  await page
    .getByRole('link', { name: /Start a calibration/ })
    .first()
    .focus();
  await page.keyboard.press('Enter');
  await seen(page, /chips, cracks/);
  await page.getByLabel(/Looked at: no chips/).focus();
  await page.keyboard.press('Space');
  await page.getByRole('radio', { name: '3', exact: true }).focus();
  await page.keyboard.press('Space');
  await type(page, 'Air temperature', '21.8');
  await press(page, /Go to the bench/);
  await page.waitForURL(/\/bench\/[a-z0-9]+$/, PATIENT);

  await page
    .getByLabel(/^Empty/)
    .first()
    .focus();
  await page.keyboard.type('61.2030');
  await page.keyboard.press('Enter');
  await page.keyboard.type('160.8370');
  await page.keyboard.press('Enter');
  await page.keyboard.type('21.3');
  const live = page.locator('output').first();
  await expect.poll(() => live.innerText(), PATIENT).toMatch(/^99\.9\d+$/);
  const shown = await live.innerText();
  await page.keyboard.press('Enter');
  await expect.poll(async () => (await rowTexts(page)).join('|'), PATIENT).toContain('61.2030');
  expect((await rowTexts(page)).join('|')).toContain(shown);
  await expect.poll(() => page.evaluate(() => document.activeElement?.id ?? ''), PATIENT).toMatch(/empty/i);
  await trial(page, '61.2031', '160.8360');
  await page.keyboard.press('Enter');
  await seen(page, /2\s*of 3 planned/);
  await trial(page, '61.2030', '160.8380');
  await page.keyboard.press('Enter');
  await seen(page, /3\s*of 3 planned/);
  await seen(page, /\bpass\b/);
  const address = page.url();
  expect(complaints).toEqual([]);
  await context.close();

  await rooms.close();
  await rooms.open();
  const again = await openPage(browser);
  await again.page.goto(address);
  await seen(again.page, /3\s*of 3 planned/);
  const rows = (await rowTexts(again.page)).join('|');
  for (const reading of ['61.2030', '160.8370', '61.2031', '160.8360', '160.8380']) expect(rows).toContain(reading);
  await again.context.close();
}, 180_000);
