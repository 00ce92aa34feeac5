/** What a tablet, or a phone of a class, fetches before the first reading can be typed. */
import type { Page, Response } from 'playwright-core';
import { gzipSync } from 'node:zlib';
import { cautionText, joinText, welcomeText } from '../../web/messages/en-class.ts';
import { startBrowser } from '../browser/chromium.ts';
import { atMost, remark } from './measure.ts';
import type { Measure } from './measure.ts';
import { makeCalibration, makeVessel, openExperiment } from './records.ts';
import { startTarebook } from './server-process.ts';

const GZIP_LEVEL = 9;

export async function web(): Promise<Measure[]> {
  const server = await startTarebook();
  const browser = await startBrowser();
  try {
    const address = `http://127.0.0.1:${server.port}`;
    const vessel = await makeVessel(address, 'BENCH-1');
    const calibration = await makeCalibration(address, vessel, 10);
    const benchKb = await fetchedKb(await browser.newPage(), (page) => page.goto(`${address}/bench/${calibration}`));
    const code = await openExperiment(address);
    const groupKb = await fetchedKb(await browser.newPage(), (page) => comeIn(page, `${address}/join#${code}`));
    return [atMost('web.bench-page-kb', benchKb, 'kB', 150), atMost('web.group-page-kb', groupKb, 'kB', 150)];
  } finally {
    await browser.close();
    await server.stop();
  }
}

/** A group's way to its first reading: the code, its word, the cautions. */
async function comeIn(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await page.getByRole('button', { name: joinText.join }).click();
  await page.getByRole('button', { name: welcomeText.written }).click();
  await page.getByRole('button', { name: cautionText.done }).waitFor();
  for (const box of await page.getByRole('checkbox').all()) await box.check();
  await page.getByRole('button', { name: cautionText.done }).click();
}

/** Scripts and styles, each as gzip −9 would send it, until the first text box of a reading takes input; 1 kB = 1000 B. */
async function fetchedKb(page: Page, go: (page: Page) => Promise<unknown>): Promise<number> {
  const responses: Response[] = [];
  page.on('response', (response) => {
    if (['script', 'stylesheet'].includes(response.request().resourceType())) responses.push(response);
  });
  await go(page);
  const box = page.locator('input[name="emptyG"]:enabled');
  await box.fill('61.2345');
  if ((await box.inputValue()) !== '61.2345') throw new Error('The first reading could not be typed.');
  // Which were asked for by then; a body may still be on its way when the room's own code already runs.
  const asked = responses.slice();
  let bytes = 0;
  for (const response of asked) {
    const size = gzipSync(await response.body(), { level: GZIP_LEVEL }).length;
    remark(`${new URL(response.url()).pathname}: ${(size / 1000).toFixed(1)} kB`);
    bytes += size;
  }
  if (bytes === 0) throw new Error('The page fetched no script, so nothing was measured.');
  return bytes / 1000;
}
