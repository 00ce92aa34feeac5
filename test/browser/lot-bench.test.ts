/** A delivery from its list to its results: thirty flasks in one grid, by keyboard alone, with the server gone twice. */
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import type { Round } from '../../server/lots/contract-round.ts';
import type { LotWithVessels } from '../../server/lots/contract.ts';
import { text } from '../../web/messages/en.ts';
import { gridText, lotText, newLotText, roundText } from '../../web/messages/en-lots.ts';
import { vesselFormText } from '../../web/messages/en-glassware.ts';
import { FLASK } from './at-the-bench.ts';
import { goTo, it, PATIENT, settled } from './browser-test.ts';
import { barriers, barriersButContrast, sidewaysPx } from './looks.ts';
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

const cursor = (page: Page): Promise<string> => page.evaluate(() => document.activeElement?.id ?? '');

/** Types what belongs where the cursor stands, and one key. @returns where the cursor went, and the keys it took */
async function typeOne(page: Page): Promise<{ to: string; keys: number }> {
  const from = await cursor(page);
  const reading = readingFor(from);
  await page.keyboard.type(reading);
  await page.keyboard.press('Enter');
  await expect.poll(() => cursor(page), PATIENT).not.toBe(from);
  return { to: await cursor(page), keys: reading.length + 1 };
}

const roundOf = (logbook: ServedLogbook, lot: string): Promise<Round> =>
  logbook.get<Round>(`/api/lots/${lot}/rounds/1`);

async function begunLot(logbook: ServedLogbook, name: string, count: number, round: object): Promise<string> {
  const body = { name, receivedOn: '2026-01-05', ware: FLASK, numbering: { pattern: `${name}-##`, first: 1, count } };
  const { id } = await logbook.post('/api/lots', body);
  await logbook.post(`/api/lots/${String(id)}/rounds`, { plannedTrials: 3, conditions: CONDITIONS, ...round });
  return String(id);
}

describe('a delivery', () => {
  it('is registered from a pasted list once its problems are put right, and begins a round', async ({
    logbook,
    visit,
  }) => {
    const page = await visit('/lots', { width: 1180, height: 820 });
    await page.getByRole('link', { name: lotText.add }).first().click();
    await page.getByRole('radio', { name: text.words.vesselKinds['volumetric-flask'] }).check();
    await page.getByLabel(newLotText.name).fill('Two flasks');
    await page.getByLabel(vesselFormText.nominal).fill('100');
    await page.getByLabel(vesselFormText.standard).selectOption('ISO 1042|1998');
    await page.getByLabel(vesselFormText.class, { exact: true }).selectOption('A');
    await page.getByRole('radio', { name: newLotText.listed }).check();
    await page.getByLabel(newLotText.list).fill('tag,serial\nP-1,0071\np-1,0072');
    await button(page, newLotText.preview).click();
    await page.getByText('The tag p-1 stands in line 2 already.').waitFor();
    expect(await barriers(page)).toEqual([]);
    await page.getByLabel(newLotText.list).fill('tag,serial\nP-1,0071\nP-2,0072');
    await button(page, newLotText.preview).click();
    await button(page, newLotText.save(2)).click();
    await page.getByRole('heading', { level: 1, name: 'Two flasks' }).waitFor();
    await page.getByRole('link', { name: 'P-2' }).waitFor();
    expect(await barriersButContrast(page)).toEqual([]);
    await page.getByRole('link', { name: lotText.startRound }).click();
    await page.getByRole('radio', { name: new RegExp(roundText.ways['reuse-dry']) }).check();
    await button(page, roundText.begin).click();
    await page.getByLabel(gridText.cell.filledG('P-2', 3)).waitFor();
    const lots = await logbook.get<{ items: { id: string }[] }>('/api/lots');
    const lot = await logbook.get<LotWithVessels>(`/api/lots/${lots.items[0]?.id ?? ''}`);
    expect(lot.vessels.map(({ tag, serial }) => [tag, serial])).toEqual([
      ['P-1', '0071'],
      ['P-2', '0072'],
    ]);
  });
});

describe('thirty flasks, three trials each', () => {
  it(
    'take the typed numbers and one key each, lose nothing with the server gone twice, and finish together',
    { timeout: 400_000 },
    async ({ logbook, visit }) => {
      const lot = await begunLot(logbook, 'T', 30, { wayOfWorking: 'empties-first', repeatability: 'pooled' });
      const page = await visit(`/lots/${lot}/bench`, { width: 1180, height: 820 });
      visit.mayLoseServer();
      await page.getByLabel(gridText.cell.emptyG('T-01', 1)).click();
      let at = await cursor(page);
      let keys = 0;
      let typed = 0;
      let zeroes = 0;
      while (at !== 'finish-round') {
        if (at === 'round-zero') zeroes += 1;
        if (typed === 40 || typed === 120) await logbook.stop('SIGKILL');
        if (typed === 52 || typed === 132) await logbook.start();
        if (typed === 132) {
          page.once('dialog', (dialog) => void dialog.accept());
          await page.reload();
          await settled(page);
          await page.locator(`#${at}`).click();
        }
        const one = await typeOne(page);
        keys += one.keys;
        typed += 1;
        at = one.to;
      }
      // Two readings a trial, one water temperature, and a look at the zero after every ten vessels.
      expect(typed).toBe(180 + 1 + zeroes);
      const digits = everyReading().join('').length + '21.3'.length + zeroes * '0.0000'.length;
      expect(keys).toBe(digits + typed);
      await expect
        .poll(async () => (await roundOf(logbook, lot)).rows.reduce((sum, row) => sum + row.trials.length, 0), PATIENT)
        .toBe(90);
      const { rows, zeroChecks } = await roundOf(logbook, lot);
      for (const [row, { trials }] of rows.entries())
        expect(trials.map(({ emptyG, filledG }) => [emptyG, filledG])).toEqual(
          [0, 1, 2].map((slot) => [emptyOf(row, slot), filledOf(row, slot)]),
        );
      const sources = rows.flatMap(({ trials }) => trials.map((trial) => trial.waterTemperatureSource ?? 'read'));
      expect(sources.filter((source) => source === 'read')).toEqual(['read']);
      await expect.poll(async () => (await roundOf(logbook, lot)).zeroChecks.length, PATIENT).toBe(zeroes);
      expect(zeroChecks[0]).toMatchObject({ readingG: '0.0000', afterVessels: 10 });
      await button(page, gridText.finish(30)).click();
      await page.getByRole('dialog').getByRole('button', { name: text.form.save }).click();
      await expect
        .poll(
          async () => (await roundOf(logbook, lot)).rows.filter(({ state }) => state === 'measured').length,
          PATIENT,
        )
        .toBe(30);
    },
  );
});

describe('the grid', () => {
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
