/** A delivery from its list to its labels: thirty flasks in one grid, by keyboard alone, with the server gone twice. */
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import type { Round } from '../../server/lots/contract-round.ts';
import type { LotWithVessels } from '../../server/lots/contract.ts';
import { entryText } from '../../web/messages/en-bench.ts';
import { conflictText } from '../../web/messages/en-conflict.ts';
import { labelsText } from '../../web/messages/en-labels.ts';
import { correctLotText, lotDecisionText } from '../../web/messages/en-lot-decisions.ts';
import { acceptanceText, distributionText } from '../../web/messages/en-over-time.ts';
import { startText } from '../../web/messages/en-start.ts';
import { decisionText } from '../../web/messages/en-today.ts';
import { text } from '../../web/messages/en.ts';
import { gridText, lotText, newLotText, roundText } from '../../web/messages/en-lots.ts';
import { vesselFormText } from '../../web/messages/en-glassware.ts';
import { FLASK } from './at-the-bench.ts';
import { goTo, it, PATIENT, settled } from './browser-test.ts';
import { barriers, barriersButContrast, sidewaysPx } from './looks.ts';
import { openedSheet } from './printed.ts';
import type { ServedLogbook } from './served-logbook.ts';

const CONDITIONS = { airTemperatureC: '21.8', airPressureHpa: '992.5', relativeHumidityPercent: '48' };
const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });

const emptyOf = (row: number, slot: number): string => (61.2 + 0.311 * row + 0.0001 * slot).toFixed(4);
const filledOf = (row: number, slot: number): string => (160.837 + 0.311 * row + 0.0021 * (slot % 2)).toFixed(4);

/** What the instrument in question shows when the cursor stands there. */
const readingFor = (cell: string): string => {
  if (cell === 'round-water') return '21.3';
  if (cell === 'round-zero') return '0.0000';
  const [, row = '', slot = '', field] = cell.split('-');
  return (field === 'emptyG' ? emptyOf : filledOf)(Number(row), Number(slot));
};

const everyReading = (): string[] =>
  Array.from({ length: 90 }, (_, index) => [Math.floor(index / 3), index % 3] as const).flatMap(([row, slot]) => [
    emptyOf(row, slot),
    filledOf(row, slot),
  ]);

const TAGS = Array.from({ length: 30 }, (_, row) => `T-${String(row + 1).padStart(2, '0')}`);

const cursor = (page: Page): Promise<string> => page.evaluate(() => document.activeElement?.id ?? '');

/** So many readings come in key by key; the rest at one go, all the same to the page: key by key all 180 take a minute more. */
const KEY_BY_KEY = 12;

/** Types what belongs where the cursor stands, and Enter. @returns where the cursor went, and the keys it took */
async function typeOne(page: Page, from: string, isWhole: boolean): Promise<{ to: string; keys: number }> {
  const reading = readingFor(from);
  // The last digit is always a key: two Enters with no key between them count as the end of one line of a balance.
  if (isWhole) await page.keyboard.insertText(reading.slice(0, -1));
  await page.keyboard.type(isWhole ? reading.slice(-1) : reading);
  await page.keyboard.press('Enter');
  let to = from;
  await expect.poll(async () => (to = await cursor(page)), PATIENT).not.toBe(from);
  return { to, keys: reading.length + 1 };
}

const roundOf = (logbook: ServedLogbook, lot: string): Promise<Round> =>
  logbook.get<Round>(`/api/lots/${lot}/rounds/1`);

async function begunLot(logbook: ServedLogbook, name: string, count: number, round: object): Promise<string> {
  const body = { name, receivedOn: '2026-01-05', ware: FLASK, numbering: { pattern: `${name}-##`, first: 1, count } };
  const { id } = await logbook.post('/api/lots', body);
  await logbook.post(`/api/lots/${String(id)}/rounds`, { plannedTrials: 3, conditions: CONDITIONS, ...round });
  return String(id);
}

/** Thirty pieces from a list in which one tag stands twice, put right; @returns the id of the delivery */
async function register(page: Page, logbook: ServedLogbook): Promise<string> {
  await page.getByRole('link', { name: lotText.add }).first().click();
  await page.getByRole('radio', { name: text.words.vesselKinds['volumetric-flask'] }).check();
  await page.getByLabel(newLotText.name).fill('Thirty flasks');
  await page.getByLabel(newLotText.interval).fill('24');
  await page.getByLabel(vesselFormText.nominal).fill('100');
  await page.getByLabel(vesselFormText.standard).selectOption('ISO 1042|1998');
  await page.getByLabel(vesselFormText.class, { exact: true }).selectOption('A');
  await page.getByRole('radio', { name: newLotText.listed }).check();
  const list = ['tag,serial', ...TAGS.map((tag, row) => `${tag},00${row}`)];
  await page.getByLabel(newLotText.list).fill([...list.slice(0, -1), 't-01,0029'].join('\n'));
  await button(page, newLotText.preview).click();
  await page.getByText('The tag t-01 stands in line 2 already.').waitFor();
  expect(await barriers(page)).toEqual([]);
  await page.getByLabel(newLotText.list).fill(list.join('\n'));
  await button(page, newLotText.preview).click();
  await button(page, newLotText.save(30)).click();
  await page.getByRole('heading', { level: 1, name: 'Thirty flasks' }).waitFor();
  const { items } = await logbook.get<{ items: { id: string }[] }>('/api/lots');
  return items[0]?.id ?? '';
}

async function beginRound(page: Page): Promise<void> {
  await page.getByRole('link', { name: lotText.startRound }).click();
  await page.getByRole('radio', { name: '3', exact: true }).check();
  await page.getByRole('textbox', { name: startText.airTemperature }).fill(CONDITIONS.airTemperatureC);
  await page.getByRole('textbox', { name: startText.humidity }).fill(CONDITIONS.relativeHumidityPercent);
  await page.getByRole('textbox', { name: startText.pressure }).fill(CONDITIONS.airPressureHpa);
  await button(page, roundText.begin).click();
  await page.getByLabel(gridText.cell.emptyG('T-01', 1)).click();
}

/** Every reading of the round by keyboard alone, the server killed twice on the way, the page left once. */
async function weighAll(page: Page, logbook: ServedLogbook): Promise<{ typed: number; keys: number; zeroes: number }> {
  let at = await cursor(page);
  const counted = { typed: 0, keys: 0, zeroes: 0 };
  while (at !== 'finish-round') {
    if (at === 'round-zero') counted.zeroes += 1;
    if (counted.typed === 40 || counted.typed === 120) await logbook.stop('SIGKILL');
    if (counted.typed === 52 || counted.typed === 132) await logbook.start();
    if (counted.typed === 132) {
      page.once('dialog', (dialog) => void dialog.accept());
      await page.reload();
      await settled(page);
      await page.locator(`#${at}`).click();
    }
    const one = await typeOne(page, at, counted.typed >= KEY_BY_KEY);
    counted.keys += one.keys;
    counted.typed += 1;
    at = one.to;
  }
  return counted;
}

/** The lasting record of what was typed, once all of it has arrived. */
async function expectKept(logbook: ServedLogbook, lot: string, zeroes: number): Promise<void> {
  const arrived = async () => (await roundOf(logbook, lot)).rows.reduce((sum, row) => sum + row.trials.length, 0);
  await expect.poll(arrived, PATIENT).toBe(90);
  await expect.poll(async () => (await roundOf(logbook, lot)).zeroChecks.length, PATIENT).toBe(zeroes);
  const { rows, zeroChecks } = await roundOf(logbook, lot);
  for (const [row, { trials }] of rows.entries())
    expect(trials.map(({ emptyG, filledG }) => [emptyG, filledG])).toEqual(
      [0, 1, 2].map((slot) => [emptyOf(row, slot), filledOf(row, slot)]),
    );
  const sources = rows.flatMap(({ trials }) => trials.map((trial) => trial.waterTemperatureSource ?? 'read'));
  expect(sources.filter((source) => source === 'read')).toEqual(['read']);
  expect(zeroChecks[0]).toMatchObject({ readingG: '0.0000', afterVessels: 10 });
}

describe('thirty flasks on a tablet', () => {
  it(
    'go from delivery to labels by the typed numbers and one key each, and lose nothing with the server gone twice',
    { timeout: 400_000 },
    async ({ logbook, visit }) => {
      const page = await visit('/lots', { width: 820, height: 1180, hasTouch: true });
      const lot = await register(page, logbook);
      await beginRound(page);
      visit.mayLoseServer();
      const { typed, keys, zeroes } = await weighAll(page, logbook);
      // Two readings a trial, one water temperature, and a look at the zero after every ten vessels.
      expect(typed).toBe(180 + 1 + zeroes);
      const digits = everyReading().join('').length + '21.3'.length + zeroes * '0.0000'.length;
      expect(keys).toBe(digits + typed);
      await expectKept(logbook, lot, zeroes);
      await button(page, gridText.finish(30)).click();
      await page
        .getByRole('dialog')
        .getByRole('button', { name: gridText.finish(30) })
        .click();
      await page.getByText(gridText.ended.measured).nth(29).waitFor();

      await page.getByRole('link', { name: lotText.title }).first().click();
      await page.getByText(distributionText.within(30, 30)).first().waitFor();
      expect([await barriersButContrast(page), await sidewaysPx(page)]).toEqual([[], 0]);
      const { vessels } = await logbook.get<LotWithVessels>(`/api/lots/${lot}`);
      expect(vessels.map(({ tag, serial }) => [tag, serial])).toEqual(TAGS.map((tag, row) => [tag, `00${row}`]));
      expect(new Set(vessels.map(({ latest }) => latest?.verdict))).toEqual(new Set(['pass']));
      await page.getByRole('link', { name: labelsText.title, exact: true }).click();
      await page.getByRole('button', { name: `${labelsText.takeOut} T-30` }).waitFor();
      const sheet = await openedSheet(page, () => page.getByRole('button', { name: labelsText.print }).click());
      const reply = await fetch(sheet);
      expect([reply.status, reply.headers.get('content-type')]).toEqual([200, 'application/pdf']);
    },
  );
});

describe('the page of a delivery', () => {
  it('takes a correction beside somebody else’s, and one decision for all that do not pass', async ({
    logbook,
    visit,
  }) => {
    const lot = await begunLot(logbook, 'R', 3, { wayOfWorking: 'vessel-by-vessel', plannedTrials: 1 });
    const { rows } = await roundOf(logbook, lot);
    // 1 g of water is 1 mL: far outside ±0.1 mL of ISO 1042:1998, class A.
    for (const [row, { calibrationId }] of rows.slice(0, 2).entries()) {
      const filledG = (Number(filledOf(row, 0)) + 1).toFixed(4);
      const readings = { pointMl: '100', emptyG: emptyOf(row, 0), filledG, waterTemperatureC: '21.3' };
      await logbook.post(`/api/calibrations/${calibrationId}/trials`, readings);
    }
    await logbook.post(`/api/lots/${lot}/rounds/1/measured`, {});
    const page = await visit(`/lots/${lot}`, { width: 820, height: 1180 });
    await button(page, lotDecisionText.decideVessels(2)).click();
    const dialog = page.getByRole('dialog');
    expect(await barriers(page)).toEqual([]);
    await dialog.getByRole('radio', { name: decisionText.choices['send-back'] }).check();
    await dialog.getByLabel(text.form.reason).fill('beyond class B');
    await dialog.getByRole('button', { name: decisionText.save }).click();
    await page.getByText(decisionText.done['send-back'], { exact: true }).nth(1).waitFor();
    await page.getByText(lotDecisionText.sample).click();
    await page.getByText(acceptanceText.found(2, 2, 'refuses')).waitFor();
    expect([await barriers(page), await sidewaysPx(page)]).toEqual([[], 0]);
    await button(page, lotDecisionText.byPlan).click();
    await dialog.getByRole('radio', { name: lotDecisionText.choices.reject }).check();
    await dialog.getByText(lotDecisionText.leaving(1)).waitFor();
    await dialog.getByLabel(text.form.reason).fill('both of the sample fail');
    await dialog.getByRole('button', { name: lotDecisionText.save }).click();
    await page.getByText(lotText.progress({ vessels: 3, outOfUse: 3 })).waitFor();

    visit.mayBeRefused(412);
    await page.getByRole('link', { name: correctLotText.open }).click();
    await page.getByLabel(newLotText.supplier).fill('The Glass Cart');
    await page.getByLabel(correctLotText.reason).fill('stands on the slip');
    await logbook.send('PATCH', `/api/lots/${lot}`, { note: 'one box', reason: 'was missing' }, 1);
    await button(page, correctLotText.save).click();
    await button(page, conflictText.merge).click();
    await page.getByText('one box').waitFor();
    await page.getByText(lotText.supplier('The Glass Cart')).waitFor();
  });
});

describe('the grid in two tabs', () => {
  it('leaves readings refused for one trial with that trial, says why, and lets go of them', async ({
    logbook,
    visit,
  }) => {
    visit.mayBeRefused(422);
    const lot = await begunLot(logbook, 'W', 1, { wayOfWorking: 'vessel-by-vessel', plannedTrials: 2 });
    const filled = (page: Page, trial: number) => page.getByLabel(gridText.cell.filledG('W-01', trial));
    const first = await visit(`/lots/${lot}/bench`, { width: 820, height: 1180 });
    await first.getByLabel(gridText.cell.emptyG('W-01', 1)).click();
    for (const typed of [emptyOf(0, 0), '21.3']) {
      await first.keyboard.type(typed);
      await first.keyboard.press('Enter');
    }
    // A reading that is stopped gives way to the next one of the balance.
    await filled(first, 1).click();
    await first.keyboard.type('16O.837');
    await first.keyboard.press('Enter');
    await first.keyboard.type('160.9');
    expect(await filled(first, 1).inputValue()).toBe('160.9');
    const second = await visit(`/lots/${lot}/bench`, { beside: first });
    await filled(second, 1).fill(filledOf(0, 0));
    await filled(second, 1).press('Enter');
    const trials = async () => (await roundOf(logbook, lot)).rows[0]?.trials.map(({ filledG }) => filledG);
    await expect.poll(trials, PATIENT).toEqual([filledOf(0, 0)]);
    await filled(first, 1).press('Enter');
    await first.getByText(text.unsent.recordedElsewhere).first().waitFor();
    await first.reload();
    await settled(first);
    await first.getByText(gridText.notTaken(emptyOf(0, 0), '160.9')).waitFor();
    expect(await filled(first, 2).inputValue()).toBe('');
    await first.getByText(text.strip.soFar, { exact: true }).waitFor();
    expect([await barriers(first), await sidewaysPx(first)]).toEqual([[], 0]);
    await button(first, entryText.takeOut).click();
    await first.getByRole('dialog').getByRole('button', { name: entryText.takeOut }).click();
    await expect.poll(() => first.getByText(gridText.notTaken(emptyOf(0, 0), '160.9')).count(), PATIENT).toBe(0);
    expect(await trials()).toEqual([filledOf(0, 0)]);
  });
});

describe('the grid', () => {
  it('leads from the last reading to the end of the round, though the server has none of it yet', async ({
    logbook,
    visit,
  }) => {
    const lot = await begunLot(logbook, 'P', 1, { wayOfWorking: 'vessel-by-vessel', plannedTrials: 1 });
    const page = await visit(`/lots/${lot}/bench`, { width: 820, height: 1180 });
    const letGo: (() => void)[] = [];
    await page.route('**/trials', (route) => void letGo.push(() => void route.continue()));
    await page.getByLabel(gridText.cell.emptyG('P-01', 1)).click();
    let from = 'cell-0-0-emptyG';
    for (const next of ['round-water', 'cell-0-0-filledG', 'finish-round']) {
      await page.keyboard.type(readingFor(from));
      await page.keyboard.press('Enter');
      await expect.poll(() => cursor(page), PATIENT).toBe(next);
      from = next;
    }
    // Nothing to finish yet, and that is said; nor does the key get lost that was meant for it.
    await page.keyboard.press('Enter');
    expect(await page.getByRole('dialog').count()).toBe(0);
    const finish = page.locator('#finish-round');
    await expect.poll(() => finish.getAttribute('aria-disabled'), PATIENT).toBe('true');
    await page.getByText(gridText.nothingToFinish).waitFor();
    expect(await barriers(page)).toEqual([]);
    await expect.poll(() => letGo.length, PATIENT).toBe(1);
    letGo[0]?.();
    await button(page, gridText.finish(1)).waitFor();
    expect(await cursor(page)).toBe('finish-round');
    await page.keyboard.press('Enter');
    await page
      .getByRole('dialog')
      .getByRole('button', { name: gridText.finish(1) })
      .click();
    await page.getByText(gridText.ended.measured).waitFor();
  });

  it('asks at the cell without losing the place, ends a damaged vessel, and fits a phone', async ({
    logbook,
    visit,
  }) => {
    const lot = await begunLot(logbook, 'Q', 3, { wayOfWorking: 'vessel-by-vessel' });
    const page = await visit(`/lots/${lot}/bench`, { width: 820, height: 1180 });
    expect(await barriers(page)).toEqual([]);
    expect(await sidewaysPx(page)).toBe(0);
    const cell = (tag: string, trial: number, field: 'emptyG' | 'filledG') =>
      page.getByLabel(gridText.cell[field](tag, trial));
    await cell('Q-01', 1, 'emptyG').click();
    await page.keyboard.type('61.2034');
    await page.keyboard.press('Enter');
    await page.keyboard.type('21.3');
    await page.keyboard.press('Enter');
    // A stopper left off: 4 g are missing.
    await page.keyboard.type('156.8371');
    await page.keyboard.press('Enter');
    await expect.poll(() => cursor(page), PATIENT).toMatch(/^why-/);
    await page.keyboard.type('weighed without its stopper');
    await page.keyboard.press('Enter');
    await expect.poll(() => cursor(page), PATIENT).toBe('cell-0-1-emptyG');
    await expect.poll(async () => (await roundOf(logbook, lot)).rows[0]?.trials.length, PATIENT).toBe(1);

    // The second flask full came from the jug by the window: its own water, by key, and none of it for the third.
    await page.keyboard.type(emptyOf(0, 1));
    await page.keyboard.press('w');
    await expect.poll(() => cursor(page), PATIENT).toBe('cell-0-1-waterTemperatureC');
    await page.keyboard.type('24.6');
    await page.keyboard.press('Enter');
    await expect.poll(() => cursor(page), PATIENT).toBe('cell-0-1-filledG');
    await page.getByText(gridText.ownWater).first().waitFor();
    expect([await barriers(page), await sidewaysPx(page)]).toEqual([[], 0]);
    for (const typed of [filledOf(0, 1), emptyOf(0, 2), filledOf(0, 2)]) {
      const from = await cursor(page);
      await page.keyboard.type(typed);
      await page.keyboard.press('Enter');
      await expect.poll(() => cursor(page), PATIENT).not.toBe(from);
    }
    const waters = async () =>
      (await roundOf(logbook, lot)).rows[0]?.trials.map((one) => [
        one.waterTemperatureC,
        one.waterTemperatureSource ?? 'read',
      ]);
    await expect.poll(waters, PATIENT).toEqual([
      ['21.3', 'read'],
      ['24.6', 'read'],
      ['21.3', 'carried'],
    ]);
    // Another tablet goes on with the water of the round, not with that of the one trial.
    const other = await visit(`/lots/${lot}/bench`, { width: 820, height: 1180 });
    expect(await other.locator('#round-water').inputValue()).toBe('21.3');
    await other.close();

    await page.getByLabel(gridText.lookedOverLabel('Q-02')).check();
    await page.getByRole('button', { name: gridText.damagedLabel('Q-03') }).click();
    await page.getByLabel(gridText.cracks, { exact: true }).check();
    await button(page, gridText.doDamaged).click();
    await page.getByText(gridText.ended.abandoned).waitFor();
    await expect
      .poll(async () => (await roundOf(logbook, lot)).rows.map((row) => row.inspection?.outcome ?? null), PATIENT)
      .toEqual([null, 'fit', 'damaged']);
    // Its cells are gone from the way: up and down pass over them.
    await cell('Q-02', 1, 'emptyG').focus();
    await page.keyboard.press('ArrowDown');
    expect(await cursor(page)).toBe('cell-1-0-emptyG');
    await page.keyboard.press('ArrowUp');
    await page.setViewportSize({ width: 360, height: 740 });
    expect(await sidewaysPx(page)).toBe(0);
    await goTo(page, logbook, `/lots/${lot}`);
    expect(await sidewaysPx(page)).toBe(0);
  });
});
