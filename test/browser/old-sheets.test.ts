/** A list from older paper: chosen as a file, its columns named, a problem shown by its row, put right, taken over, marked. */
import { expect } from 'vitest';
import type { VesselWithHistory } from '../../server/glassware/contract.ts';
import { vesselText } from '../../web/messages/en-glassware.ts';
import { oldSheetsText as words } from '../../web/messages/en-old-sheets.ts';
import { text } from '../../web/messages/en.ts';
import { newVessel } from './at-the-bench.ts';
import { it, PATIENT, settled } from './browser-test.ts';
import { barriersButContrast, sidewaysPx } from './looks.ts';

/** Invented; in line 3 empty and filled are swapped. */
const LIST = [
  'flask;day;dry;full;water',
  'O-1;14.03.2019;61,2034;160,8371;21,3',
  'O-1;14.03.2019;160,8401;61,2031;21,3',
].join('\n');

it('a list is chosen, mapped, mended and taken over, and its mark stays', async ({ logbook, visit }) => {
  const vessel = await newVessel(logbook, 'O-1');
  const page = await visit('/glassware', { width: 820, height: 1180 });
  await page.getByRole('link', { name: vesselText.fromPaper }).click();
  await page.getByRole('heading', { level: 1, name: words.title }).waitFor();
  const file = { name: 'flasks.csv', mimeType: 'text/csv', buffer: Buffer.from(LIST) };
  await page.getByLabel(words.file, { exact: true }).setInputFiles(file);
  const list = page.getByRole('textbox', { name: words.list, exact: true });
  await expect.poll(() => list.inputValue(), PATIENT).toBe(LIST);
  const header = page.getByRole('checkbox', { name: words.hasHeader });
  if (!(await header.isChecked())) await header.check();
  const check = page.getByRole('button', { name: words.check });
  await check.click();
  const columns = ['tag', 'performedOn', 'emptyG', 'filledG', 'waterTemperatureC'] as const;
  for (const [index, field] of columns.entries())
    await page.getByRole('combobox', { name: words.fields[field], exact: true }).selectOption(String(index + 1));
  expect(await page.getByRole('combobox', { name: words.decimalMark }).inputValue()).toBe('comma');
  await check.click();
  await page.getByText(/^Line 3: /).waitFor();
  await page.getByRole('cell', { name: words.standings.refused }).waitFor();
  expect([await barriersButContrast(page), await sidewaysPx(page)]).toEqual([[], 0]);
  await page.setViewportSize({ width: 360, height: 740 });
  expect(await sidewaysPx(page)).toBe(0);
  await list.fill(LIST.replace('160,8401;61,2031', '61,2031;160,8401'));
  await check.click();
  await page.getByRole('cell', { name: words.standings.good }).waitFor();
  await page.getByRole('textbox', { name: words.rememberAs }).fill('Green book');
  await page.getByRole('button', { name: words.takeOver }).click();
  await page.getByRole('heading', { name: words.taken(1) }).waitFor();
  // The columns are offered again by their name.
  await expect
    .poll(() => page.getByRole('combobox', { name: words.kept }).getByRole('option').allInnerTexts(), PATIENT)
    .toContain('Green book');
  await page.getByRole('link', { name: 'O-1', exact: true }).click();
  await settled(page);
  await page.getByText(text.words.origins.paper).first().waitFor();
  const { calibrations } = await logbook.get<VesselWithHistory>(`/api/vessels/${vessel}`);
  expect(calibrations).toMatchObject([{ origin: 'paper', performedOn: '2019-03-14' }]);
});
