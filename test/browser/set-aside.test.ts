/** From invented data to a logbook of one's own. */
import { expect } from 'vitest';
import { backupsText } from '../../web/messages/en-backups.ts';
import { todayText } from '../../web/messages/en-today.ts';
import { text } from '../../web/messages/en.ts';
import { it as browserTest } from './browser-test.ts';

const it = browserTest.extend('demonstration', { scope: 'file' }, () => true);

it('the demonstration is set aside, and an empty logbook opens in its place', async ({ visit }) => {
  visit.mayLoseServer();
  visit.mayBeRefused(503);
  const page = await visit('/');
  await page.getByText(text.shell.demonstration).waitFor();
  await page.getByRole('button', { name: backupsText.aside.act }).click();
  const dialog = page.getByRole('dialog', { name: backupsText.aside.dialogTitle });
  await dialog.getByRole('textbox', { name: text.form.reason }).fill('seen enough');
  await dialog.getByRole('button', { name: backupsText.aside.dialogAct, exact: true }).click();
  await page.getByRole('heading', { name: todayText.emptyTitle }).waitFor();
  expect(await page.getByText(text.shell.demonstration).count()).toBe(0);
});
