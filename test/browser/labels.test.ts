/** Labels from the register: chosen, added by a scanner, read by a camera, the sheet described once and remembered, the PDF made. */
import { expect } from 'vitest';
import { labelsText } from '../../web/messages/en-labels.ts';
import { vesselText } from '../../web/messages/en-glassware.ts';
import { scanText } from '../../web/messages/en-scan.ts';
import { expectRefused } from './at-the-bench.ts';
import { it, settled } from './browser-test.ts';
import { barriers, sidewaysPx } from './looks.ts';
import { openedSheet } from './printed.ts';

/** Invented. */
const FLASK = {
  ...{ kind: 'volumetric-flask', nominalVolumeMl: '100', basis: 'contain', tolerance: { markedMl: '0.1' } },
  ...{ material: 'borosilicate-3.3', referenceTemperatureC: '20' },
};

it('labels are chosen in the list and by scanner, and this browser remembers the sheet', async ({ logbook, visit }) => {
  for (const tag of ['L-1', 'L-2']) await logbook.post('/api/vessels', { ...FLASK, tag });
  const page = await visit(`${logbook.address}/glassware?search=L-1`, { width: 820, height: 1180 });
  await page.getByRole('link', { name: vesselText.labels }).click();
  await page.getByText('L-1', { exact: true }).first().waitFor();
  const tag = page.getByRole('textbox', { name: labelsText.tag });
  await tag.fill('L-3');
  await page.keyboard.press('Enter');
  await page.getByText(labelsText.tagUnknown('L-3')).first().waitFor();
  await expectRefused(tag, labelsText.tagUnknown('L-3'), 'L-3');
  // As a scanner types it: quickly, and Enter.
  await tag.fill('l-2');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: `${labelsText.takeOut} L-2` }).waitFor();
  expect(await tag.inputValue()).toBe('');
  const columns = page.getByRole('textbox', { name: labelsText.fields.columns });
  await columns.fill('9');
  await expectRefused(columns, /The labels need/, '9');
  await columns.fill('2');
  expect([await barriers(page), await sidewaysPx(page)]).toEqual([[], 0]);
  await page.reload();
  await settled(page);
  expect(await columns.inputValue()).toBe('2');
  await page.getByText(labelsText.count(2, 1)).waitFor();
  const address = await openedSheet(page, () => page.getByRole('button', { name: labelsText.print }).click());
  expect([address.pathname, address.searchParams.get('columns')]).toEqual(['/api/labels.pdf', '2']);

  await page.goto(`${logbook.address}/glassware`);
  await page.getByRole('textbox', { name: vesselText.search }).fill('L-2');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'L-2', level: 1 }).waitFor();

  await page.addInitScript(seeLabel, 'L-1');
  await page.goto(`${logbook.address}/glassware`);
  await page.getByRole('button', { name: scanText.open }).click();
  await page.getByRole('heading', { name: 'L-1', level: 1 }).waitFor();
});

/** A browser that reads codes, and a camera in front of a label: this one has neither. */
function seeLabel(tag: string): void {
  class Detector {
    static getSupportedFormats = () => Promise.resolve(['qr_code']);
    detect = () => Promise.resolve([{ rawValue: tag }]);
  }
  Object.assign(window, { BarcodeDetector: Detector });
  navigator.mediaDevices.getUserMedia = () => {
    const canvas = document.createElement('canvas');
    const brush = canvas.getContext('2d');
    setInterval(() => brush?.fillRect(0, 0, Math.random() * 9, 9), 50);
    return Promise.resolve(canvas.captureStream(10));
  };
}
