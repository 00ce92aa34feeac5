/** On paper stands the result, and nothing that can only be pressed. */
import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { benchText } from '../../web/messages/en-bench.ts';
import { vesselText } from '../../web/messages/en-glassware.ts';
import { text } from '../../web/messages/en.ts';
import { calibrationOf, entryOf, newCalibration, recordTrial } from './at-the-bench.ts';
import { it } from './browser-test.ts';
import type { ServedLogbook } from './served-logbook.ts';
import { faintColours } from './looks.ts';

async function finished(logbook: ServedLogbook, tag: string): Promise<string> {
  const id = await newCalibration(logbook, tag);
  await recordTrial(logbook, id, '61.2030', '160.8370');
  await recordTrial(logbook, id, '61.2031', '160.8390');
  await recordTrial(logbook, id, '61.2029', '160.8380');
  return id;
}

/** A4 with its margins, in CSS pixels: what the page has to fit in. */
const PAPER = { width: 690, height: 1000 };

async function expectOnPaper(page: Page, shown: readonly Locator[], left: readonly Locator[]): Promise<void> {
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize(PAPER);
  for (const one of shown) expect(await one.isVisible(), one.toString()).toBe(true);
  for (const one of left) expect(await one.filter({ visible: true }).count(), one.toString()).toBe(0);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(wide).toBe(0);
  const colours = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  expect(['rgba(0, 0, 0, 0)', 'rgb(255, 255, 255)']).toContain(colours);
  expect((await page.pdf({ format: 'A4' })).subarray(0, 5).toString()).toBe('%PDF-');
}

const rooms = (page: Page): Locator => page.getByRole('navigation', { name: text.shell.navigation });
const passes = (page: Page): Locator => page.getByRole('img', { name: /: pass\.$/ });

it('the page of a vessel prints its strip, its figures and its history', async ({ logbook, visit }) => {
  const { vessel } = await calibrationOf(logbook, await finished(logbook, 'P-1'));
  const page = await visit(`/glassware/${vessel.id}`, { colorScheme: 'dark' });
  await expectOnPaper(
    page,
    [passes(page).first(), page.getByText(vesselText.figures.mean, { exact: true }), page.getByRole('table')],
    [
      rooms(page),
      page.getByRole('link', { name: vesselText.start }),
      page.getByRole('link', { name: vesselText.correct }),
    ],
  );
  expect(await faintColours(page)).toEqual([]);
});

it('the bench prints strip, verdict and trials, without fields and acts', async ({ logbook, visit }) => {
  const page = await visit(`/bench/${await finished(logbook, 'P-2')}`);
  const { empty, save } = entryOf(page);
  const acts = [benchText.finish, benchText.abandon, benchText.changePlan, benchText.readAgain];
  await expectOnPaper(
    page,
    [passes(page).first(), page.getByRole('cell', { name: '160.8370' }), page.getByText(benchText.findings)],
    [rooms(page), empty, save, ...acts.map((name) => page.getByRole('button', { name }))],
  );
});
