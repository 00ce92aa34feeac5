/** Recording sheets: printed blank from the register, and typed in by keyboard alone, for one vessel and for a delivery. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import type { Round } from '../../server/lots/contract-round.ts';
import { benchRoomText } from '../../web/messages/en-bench.ts';
import { deliveryText } from '../../web/messages/en-delivery.ts';
import { gridText, roundText } from '../../web/messages/en-lots.ts';
import { recordingSheetText } from '../../web/messages/en-recording-sheets.ts';
import { startText } from '../../web/messages/en-start.ts';
import { text } from '../../web/messages/en.ts';
import { calibrationOf, expectRefused, FLASK, pressEnter } from './at-the-bench.ts';
import { goTo, it, PATIENT, settled } from './browser-test.ts';
import { barriersButContrast, sidewaysPx } from './looks.ts';
import { openedSheet } from './printed.ts';

const DAY = '2026-01-06';
const cursor = (page: Page): Promise<string> => page.evaluate(() => document.activeElement?.id ?? '');

/** Types what stands in a cell of the sheet, and Enter. @returns where the cursor went */
async function typeCell(page: Page, typed: string): Promise<string> {
  const from = await cursor(page);
  await page.keyboard.type(typed);
  await pressEnter(page);
  await expect.poll(() => cursor(page), PATIENT).not.toBe(from);
  return cursor(page);
}

it('the sheets of a delivery are printed, and typed in by keyboard as they are read', async ({ logbook, visit }) => {
  const numbering = { pattern: 'S-#', first: 1, count: 2 };
  const { id } = await logbook.post('/api/lots', { name: 'Spring', receivedOn: '2026-01-05', ware: FLASK, numbering });
  const lot = String(id);
  const page = await visit(`/lots/${lot}`, { width: 1180, height: 820 });
  await page.getByRole('link', { name: recordingSheetText.title }).click();
  await page.getByText('S-2', { exact: true }).waitFor();
  await page.getByRole('radio', { name: new RegExp(recordingSheetText.forms.compact) }).check();
  const trials = page.getByLabel(recordingSheetText.trials);
  await trials.fill('31');
  await expectRefused(trials, recordingSheetText.trialsWhole, '31');
  await trials.fill('2');
  expect([await barriersButContrast(page), await sidewaysPx(page)]).toEqual([[], 0]);
  const address = await openedSheet(page, () => page.getByRole('button', { name: recordingSheetText.print }).click());
  expect([address.pathname, address.searchParams.get('form')]).toEqual(['/api/recording-sheets.pdf', 'compact']);

  await goTo(page, logbook, `/lots/${lot}`);
  await page.getByRole('link', { name: recordingSheetText.type }).click();
  await page.getByRole('heading', { level: 1, name: roundText.sheetTitle('Spring') }).waitFor();
  await page.getByLabel(startText.weighedByField).fill('Ada Example');
  await page.getByRole('radio', { name: startText.plannedOther }).check();
  await page.getByLabel(startText.plannedNumber).fill('2');
  await page.getByRole('button', { name: startText.beginSheet }).click();
  const day = page.getByRole('textbox', { name: startText.sheetDay });
  await expectRefused(day, startText.dayMissing, '');
  await day.fill(DAY);
  await page.reload();
  await settled(page);
  expect([await day.inputValue(), await page.getByLabel(startText.weighedByField).inputValue()]).toEqual([
    DAY,
    'Ada Example',
  ]);
  await page.getByRole('button', { name: startText.beginSheet }).click();
  await page.getByLabel(gridText.cell.emptyG('S-1', 1)).click();
  const round = () => logbook.get<Round>(`/api/lots/${lot}/rounds/1`);
  await typeCell(page, '61.2034');
  expect(await typeCell(page, '160.8371')).toBe('cell-0-0-waterTemperatureC');
  expect((await round()).rows[0]?.trials).toEqual([]);
  // Half a row outlives a reload.
  page.once('dialog', (dialog) => void dialog.accept());
  await page.reload();
  await settled(page);
  const water = page.getByLabel(gridText.cell.waterTemperatureC('S-1', 1));
  await water.click();
  await page.keyboard.type('213');
  await pressEnter(page);
  await expectRefused(water, gridText.waterRange, '213');
  await page.keyboard.type('21.3');
  await pressEnter(page);
  await expect.poll(() => cursor(page), PATIENT).toBe('cell-0-1-emptyG');
  const rest = ['61.2031', '160.8401', '21.4', '61.5144', '161.1482', '21.4', '61.5146', '161.1503', '21.5'];
  let at = '';
  for (const typed of rest) at = await typeCell(page, typed);
  expect(at).toBe('finish-round');
  await expect.poll(async () => (await round()).rows.flatMap((row) => row.trials).length, PATIENT).toBe(4);
  const { rows, performedOn, note, origin } = await round();
  expect({ performedOn, note, origin }).toEqual({
    ...{ performedOn: DAY, origin: 'sheet' },
    note: startText.weighedBy('Ada Example'),
  });
  expect(rows.flatMap((row) => row.trials.map((trial) => trial.waterTemperatureC))).toEqual([
    ...['21.3', '21.4'],
    ...['21.4', '21.5'],
  ]);
  expect([await barriersButContrast(page), await sidewaysPx(page)]).toEqual([[], 0]);
  await page.setViewportSize({ width: 360, height: 740 });
  expect(await sidewaysPx(page)).toBe(0);
  await goTo(page, logbook, `/glassware/${rows[0]?.vessel.id ?? ''}`);
  await page.getByText(text.words.origins.sheet).first().waitFor();
});

it('sheets of pipettes are found by their codes and typed one after another, with their times', async ({
  logbook,
  visit,
}) => {
  const pipette = {
    ...{ kind: 'single-volume-pipette', nominalVolumeMl: '25', basis: 'deliver' },
    ...{ tolerance: { markedMl: '0.03' }, material: 'soda-lime', referenceTemperatureC: '20' },
  };
  for (const tag of ['P-7', 'P-8']) await logbook.post('/api/vessels', { ...pipette, tag });
  const page = await visit('/bench', { width: 820, height: 1180 });
  await page.getByRole('textbox', { name: benchRoomText.sheetTag }).fill('p-7');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { level: 1, name: startText.sheetTitle('P-7') }).waitFor();
  expect([await barriersButContrast(page), await sidewaysPx(page)]).toEqual([[], 0]);
  // The cursor stands in the first field already.
  await expect.poll(() => cursor(page), PATIENT).toBe('performedOn');
  await page.keyboard.type(DAY);
  await page.getByRole('radio', { name: startText.plannedOther }).check();
  await page.getByLabel(startText.plannedNumber).fill('2');
  await page.getByRole('button', { name: startText.beginSheet }).click();
  const delivery = page.getByRole('textbox', { name: deliveryText.deliveryTime });
  await delivery.waitFor();
  const id = new URL(page.url()).pathname.split('/').at(-1) ?? '';
  await expect.poll(() => cursor(page), PATIENT).toBe('emptyG');
  for (const typed of ['50.1000', '75.0000', '20.0', '28']) await typeCell(page, typed);
  expect(await typeCell(page, '15')).toBe('emptyG');
  await expect.poll(async () => (await calibrationOf(logbook, id)).trials.length, PATIENT).toBe(1);
  const { origin, performedOn, trials } = await calibrationOf(logbook, id);
  expect({ origin, performedOn }).toEqual({ origin: 'sheet', performedOn: DAY });
  expect(trials[0]).toMatchObject({ emptyG: '50.1000', deliveryTimeS: '28', waitingTimeS: '15' });
  // The next row of a sheet has its own water temperature.
  expect(await page.locator('#waterTemperatureC').inputValue()).toBe('');
  // After its last trial the tag of the next sheet, and from there to that vessel.
  for (const typed of ['50.1003', '75.0004', '20.1', '28']) await typeCell(page, typed);
  expect(await typeCell(page, '15')).toBe('tag');
  await page.keyboard.type('p-8');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { level: 1, name: startText.sheetTitle('P-8') }).waitFor();
  await expect.poll(() => cursor(page), PATIENT).toBe('performedOn');
  expect(new URL(page.url()).searchParams.get('from')).toBe('sheet');
  await expect.poll(async () => (await calibrationOf(logbook, id)).trials.length, PATIENT).toBe(2);
});
