/** From an empty logbook to a verdict by keyboard alone; and everything is there again afterwards. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { benchText, entryText } from '../../web/messages/en-bench.ts';
import { vesselFormText, vesselText } from '../../web/messages/en-glassware.ts';
import { startText } from '../../web/messages/en-start.ts';
import { todayText } from '../../web/messages/en-today.ts';
import { text } from '../../web/messages/en.ts';
import { fixed } from '../../web/parts/rounding.ts';
import { cellsOf, entryOf, pressEnter, tabTo, trialRow, trialsOf } from './at-the-bench.ts';
import { it, PATIENT, settled } from './browser-test.ts';

/** Readings with the zeros a balance shows. */
const READINGS = [
  ['61.2030', '160.8370'],
  ['61.2031', '160.8400'],
  ['61.2000', '160.8360'],
] as const;

async function registerFlask(page: Page): Promise<void> {
  await tabTo(page, page.getByRole('link', { name: todayText.first }));
  await page.keyboard.press('Enter');
  await tabTo(page, page.getByRole('radio', { name: text.words.vesselKinds['volumetric-flask'] }));
  await page.keyboard.press('Space');
  await tabTo(page, page.getByRole('textbox', { name: vesselFormText.tag }));
  await page.keyboard.type('F-0317');
  await tabTo(page, page.getByRole('textbox', { name: vesselFormText.nominal }));
  await page.keyboard.type('100');
  await tabTo(page, page.getByRole('combobox', { name: vesselFormText.standard }));
  await page.keyboard.type('ISO 1042');
  await tabTo(page, page.getByRole('combobox', { name: vesselFormText.class, exact: true }));
  await page.keyboard.type('A');
  // ISO 1042:1998, table 1: 0.10 mL for 100 mL of class A.
  await page
    .getByRole('status')
    .filter({ hasText: vesselText.tolerance('0.100') })
    .waitFor();
  await tabTo(page, page.getByRole('button', { name: vesselFormText.save }));
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { level: 1, name: 'F-0317' }).waitFor();
}

async function beginCalibration(page: Page): Promise<void> {
  await tabTo(page, page.getByRole('link', { name: vesselText.start }));
  await page.keyboard.press('Enter');
  await tabTo(page, page.getByRole('checkbox', { name: startText.inspected }));
  await page.keyboard.press('Space');
  await tabTo(page, page.getByRole('radio', { name: '10', exact: true }));
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  expect(await page.getByRole('radio', { name: '3', exact: true }).isChecked()).toBe(true);
  for (const [name, typed] of [
    [startText.airTemperature, '21.8'],
    [startText.humidity, '48'],
    [startText.pressure, '992.5'],
  ] as const) {
    await tabTo(page, page.getByRole('textbox', { name, exact: true }));
    await page.keyboard.type(typed);
  }
  await tabTo(page, page.getByRole('button', { name: startText.begin }));
  await page.keyboard.press('Enter');
  await entryOf(page).empty.waitFor();
}

/** Types into the field that has the focus and goes on with Enter; two numbers a trial once the water is known. */
async function weigh(page: Page, [empty, filled]: (typeof READINGS)[number], water?: string): Promise<string> {
  await page.keyboard.type(empty);
  await pressEnter(page);
  await page.keyboard.type(filled);
  await pressEnter(page);
  if (water === undefined) expect(await entryOf(page).water.inputValue()).toBe('21.3');
  else await page.keyboard.type(water);
  await expect.poll(() => entryOf(page).volume.innerText(), PATIENT).toMatch(/^\d+\.\d{4}$/);
  const shown = await entryOf(page).volume.innerText();
  await pressEnter(page);
  return shown;
}

async function readings(page: Page): Promise<string[][]> {
  const rows = await Promise.all(READINGS.map((_, index) => cellsOf(trialRow(page, index + 1))));
  return rows.map((cells) => cells.slice(0, 4));
}

it('takes a new user from an empty logbook to a verdict that lasts', async ({ logbook, visit }) => {
  const page = await visit('/');
  await page.getByRole('heading', { name: todayText.emptyTitle }).waitFor();
  await registerFlask(page);
  await beginCalibration(page);
  await tabTo(page, entryOf(page).empty);
  const id = page.url().split('/').at(-1) ?? '';
  const live: string[] = [];
  for (const [index, pair] of READINGS.entries()) {
    live.push(await weigh(page, pair, index === 0 ? '21.3' : undefined));
    await page
      .getByRole('status')
      .getByText(benchText.announce.saved(index + 1))
      .waitFor({ state: 'attached' });
  }
  // What stood beside the fields before saving is what the server worked out.
  const trials = await trialsOf(logbook, id);
  expect(trials.map(({ volumeMl }) => fixed(volumeMl, 4))).toEqual(live);
  const kept = READINGS.map(([empty, filled], index) => [empty, filled, '21.3', live[index]]);
  await expect.poll(() => readings(page), PATIENT).toEqual(kept);
  const result = page.getByRole('region', { name: benchText.strip('100') });
  await result.getByText(text.words.verdicts.pass, { exact: true }).waitFor();
  const strip = result.getByRole('img', { name: /^Mean 99\.9\d+ mL, bias −0\.0\d+ mL, .+: pass\.$/ });
  await strip.waitFor();

  await page.reload();
  await settled(page);
  expect(await readings(page)).toEqual(kept);
  await logbook.stop();
  await logbook.start();
  const again = await visit(`/bench/${id}`);
  expect(await readings(again)).toEqual(kept);
  await again.getByRole('button', { name: benchText.finish }).waitFor();
  expect(await entryOf(again).save.innerText()).toBe(entryText.save(4));
});
