/** Over time, in a real browser: a drifting flask, a balance out of control, ware of a maker, a sample of a delivery. */
import { expect } from 'vitest';
import {
  acceptanceText,
  distributionText,
  instrumentTimeText,
  makersText,
  overTimeText,
} from '../../web/messages/en-over-time.ts';
import { newVessel, recordTrial } from './at-the-bench.ts';
import { goTo, it, PATIENT } from './browser-test.ts';
import { barriers, sidewaysPx, smallTargets } from './looks.ts';
import type { ServedLogbook } from './served-logbook.ts';

const SMALLEST_TARGET_PX = 24;

/** Three trials on one day, 1 mg apart. */
async function calibrated(
  logbook: ServedLogbook,
  vessel: string,
  performedOn: string,
  massMg: number,
  balanceId: string,
) {
  const { id } = await logbook.post(`/api/vessels/${vessel}/calibrations`, {
    points: ['100'],
    plannedTrials: 3,
    performedOn,
    conditions: { airTemperatureC: '21.8', airPressureHpa: '992.5', relativeHumidityPercent: '48', inspected: true },
    instruments: { balanceId },
  });
  for (const off of [0, 1, -1])
    await recordTrial(logbook, String(id), '60.0000', (60 + (massMg + off) / 1000).toFixed(4));
  await logbook.post(`/api/calibrations/${String(id)}/measured`, {});
}

it('one walk: drift and next calibration, control chart and what depended on it, errors by maker, a sample', async ({
  visit,
  logbook,
}) => {
  const balance = {
    kind: 'balance',
    tag: 'BAL-9',
    resolutionG: '0.0001',
    certificateNumber: 'K-9',
    certificateOn: '2021-01-04',
  };
  const balanceId = String((await logbook.post('/api/instruments', balance))['id']);
  const drifting = await newVessel(logbook, 'F-0901', { maker: 'Glashof' });
  for (const [index, year] of [2021, 2022, 2023, 2024, 2025].entries())
    await calibrated(logbook, drifting, `${year}-03-01`, 99_650 + 10 * index, balanceId);
  await calibrated(logbook, await newVessel(logbook, 'F-0902', { maker: 'Glashof' }), '2025-03-02', 99_500, balanceId);
  for (const reading of ['100.0001', '100.0002', '100.0000', '100.0001', '100.0040'])
    await logbook.post(`/api/instruments/${balanceId}/checks`, { referenceValue: '100.0000', reading });

  const page = await visit(`/glassware/${drifting}`, { width: 820 });
  await page.getByRole('img', { name: overTimeText.sentence(5, '100') }).waitFor();
  await page.getByText(/It drifts: \+0\.0100\d* ± 0\.\d+ mL a year .* from 20\d\d-\d\d-\d\d on/).waitFor();
  await page.getByText(overTimeText.interval.weakness).waitFor();
  // The same numbers as a table: newest first, each with its change.
  await page.getByText('The numbers', { exact: true }).click();
  const rows = page.getByRole('region', { name: overTimeText.sentence(5, '100') }).getByRole('row');
  await expect.poll(() => rows.nth(1).innerText(), PATIENT).toMatch(/2025-03-01\s.*\+0\.010/s);
  // E_n of the last mean with itself is 0.
  await page.getByText(overTimeText.outside.title).click();
  const mean = (await rows.nth(1).getByRole('cell').first().innerText()).trim();
  await page.getByRole('textbox', { name: overTimeText.outside.mean }).fill(mean);
  await page.getByRole('textbox', { name: overTimeText.outside.uncertainty }).fill('0.02');
  await page.getByText(overTimeText.outside.result('0.00', true)).waitFor();
  expect(await barriers(page)).toEqual([]);
  expect(await sidewaysPx(page)).toBe(0);
  expect(await smallTargets(page, SMALLEST_TARGET_PX)).toEqual([]);

  await goTo(page, logbook, `/instruments/${balanceId}`);
  await page.getByRole('img', { name: /5 checks; 1 outside the limits/ }).waitFor();
  await page.getByText(instrumentTimeText.outsideWhat).waitFor();
  await page.getByText(instrumentTimeText.dependentsOpen).click();
  await page.getByText('6 calibrations.').waitFor();
  await page.getByLabel(instrumentTimeText.to).fill('2022-12-31');
  await page.getByText('2 calibrations.').waitFor();
  await page.getByLabel(instrumentTimeText.from).fill('soon');
  await page.getByText(instrumentTimeText.badDay).waitFor();
  expect(await barriers(page)).toEqual([]);

  await goTo(page, logbook, '/glassware/makers');
  await page.getByRole('heading', { level: 1, name: makersText.title }).waitFor();
  await page.getByText(distributionText.counted(2, 2)).waitFor();
  await page.getByRole('row', { name: /^A\b.*1 of 2/ }).waitFor();
  // One of thirty fails: it is among eight with the probability 8/30, by hand 27 %.
  await page.getByText(acceptanceText.producers('27', 1)).waitFor();
  await page.getByRole('textbox', { name: acceptanceText.sample }).fill('15');
  await page.getByText(acceptanceText.producers('50', 1)).waitFor();
  await page.getByRole('textbox', { name: acceptanceText.sample }).fill('31');
  await page.getByText(acceptanceText.notMore).waitFor();
  expect(await barriers(page)).toEqual([]);
  expect(await sidewaysPx(page)).toBe(0);
});
