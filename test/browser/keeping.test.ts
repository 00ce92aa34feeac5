/** What a keeper does for the logbook as a whole: copies, the way back to one, taking it away. */
import { readFile } from 'node:fs/promises';
import type { Locator, Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { backupsText } from '../../web/messages/en-backups.ts';
import { takeAwayText } from '../../web/messages/en-take-away.ts';
import { text } from '../../web/messages/en.ts';
import { newCalibration, recordTrial, trialsOf } from './at-the-bench.ts';
import { it, PATIENT } from './browser-test.ts';

const button = (page: Page | Locator, name: string): Locator => page.getByRole('button', { name, exact: true });
const said = (page: Page, what: string | RegExp): Promise<void> => page.getByRole('status').getByText(what).waitFor();
const entryNumber = async (page: Page): Promise<number> =>
  Number(/Entry (\d+)/.exec(await page.locator('code', { hasText: 'Entry' }).last().innerText())?.[1]);

const FIRST_BYTES_OF_ZIP = 'PK';

describe('a logbook', () => {
  it('leaves as one zip, and the page says up to which entry', async ({ logbook, visit }) => {
    await recordTrial(logbook, await newCalibration(logbook, 'T-1'), '61.2030', '160.8370');
    const page = await visit('/records/take-away');
    await page.getByText(takeAwayText.counts['trial'] ?? '', { exact: true }).waitFor();
    const head = await entryNumber(page);
    await page.getByLabel(takeAwayText.workbook).check();
    const [download] = await Promise.all([page.waitForEvent('download'), button(page, takeAwayText.take).click()]);
    const zip = await readFile(await download.path());
    expect(zip.subarray(0, 2).toString('latin1')).toBe(FIRST_BYTES_OF_ZIP);
    expect(zip.includes('workbook.xlsx')).toBe(true);
    await said(page, takeAwayText.finished);
    expect(await entryNumber(page)).toBe(head);
  });

  it('asks for the days or the tag before it counts, and says at the field what is no day', async ({ visit }) => {
    const page = await visit('/records/take-away');
    await page.getByRole('radio', { name: takeAwayText.vessel }).check();
    await page.getByText(takeAwayText.tagMissing).waitFor();
    await page.getByRole('radio', { name: takeAwayText.lot }).check();
    await page.getByText(takeAwayText.lotMissing).waitFor();
    await page.getByRole('radio', { name: takeAwayText.range }).check();
    await page.getByText(takeAwayText.dayMissing).waitFor();
    await page.getByLabel(takeAwayText.from, { exact: true }).fill('14.09.2026');
    await page.getByText(takeAwayText.dayWrong).waitFor();
    await page.getByLabel(takeAwayText.from, { exact: true }).fill('2026-01-01');
    await button(page, takeAwayText.take).waitFor();
  });

  it('is copied when asked and by a schedule, and goes back to a copy', async ({ logbook, visit }) => {
    visit.mayLoseServer();
    visit.mayBeRefused(422, 503);
    const id = await newCalibration(logbook, 'B-1');
    await recordTrial(logbook, id, '61.2030', '160.8370');
    const page = await visit('/settings');
    await page.getByText(backupsText.none).waitFor();
    await button(page, backupsText.now).click();
    await said(page, /^Made and checked: /);
    const rows = page.getByRole('table', { name: /^Backups in / }).getByRole('row');
    await expect.poll(() => rows.count(), PATIENT).toBe(2);

    await page.getByLabel(backupsText.schedule.automatic).check();
    await page.getByLabel(backupsText.schedule.everyHours).fill('0');
    await button(page, backupsText.schedule.save).click();
    await page.getByText(backupsText.schedule.hoursRange).first().waitFor();
    expect(await page.getByLabel(backupsText.schedule.kept).inputValue()).toBe('14');
    await page.getByLabel(backupsText.schedule.everyHours).fill('12');
    await button(page, backupsText.schedule.save).click();
    await said(page, backupsText.schedule.saved);

    await recordTrial(logbook, id, '61.2031', '160.8371');
    await page
      .getByRole('button', { name: /^Put back the backup of / })
      .last()
      .click();
    const dialog = page.getByRole('dialog', { name: /^Put back the backup of / });
    await button(dialog, backupsText.restoreAct).click();
    await dialog
      .getByText(/^Say why/)
      .first()
      .waitFor();
    await dialog.getByRole('textbox', { name: text.form.reason }).fill('the second trial was a test');
    await button(dialog, backupsText.restoreAct).click();
    await expect
      .poll(async () => (await trialsOf(logbook, id).catch(() => [])).map(({ filledG }) => filledG), PATIENT)
      .toEqual(['160.8370']);
    await dialog.waitFor({ state: 'detached' });
    await page.getByRole('heading', { level: 1, name: text.shell.rooms.settings }).waitFor();
  });
});
