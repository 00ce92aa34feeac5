/** An auditor's way through the records, and a calibration signed until its certificate stands. */
import { describe, expect } from 'vitest';
import type { VesselListItem } from '../../server/glassware/contract.ts';
import type { JournalCheck } from '../../server/journal/contract.ts';
import { benchText } from '../../web/messages/en-bench.ts';
import { recordsText, signingText } from '../../web/messages/en-records.ts';
import { goTo, it as browserTest, PATIENT } from './browser-test.ts';
import { barriers, barriersButContrast } from './looks.ts';
import { SETUP_CODE, type ServedLogbook } from './served-logbook.ts';

const it = browserTest.extend('demonstration', { scope: 'file' }, () => true);
const PASSPHRASE = 'seven wet funnels';
const words = recordsText;

/** What the server found, once it is over. */
async function settledCheck(logbook: ServedLogbook) {
  const ask = () => logbook.get<JournalCheck>('/api/journal/check');
  await expect.poll(async () => (await ask()).state, PATIENT).toBe('finished');
  const check = await ask();
  if (check.state !== 'finished' || check.fault !== null) throw new Error(JSON.stringify(check));
  return check;
}

describe('the auditor', () => {
  it('comes from the overview to a typed reading and its entry in three clicks', async ({ visit, logbook }) => {
    const page = await visit('/records');
    const rows = page.getByRole('region', { name: words.sample.title }).getByRole('row');
    await page.waitForURL(/seed=\d+/);
    const drawn = await rows.allInnerTexts();
    const address = page.url();
    const row = page
      .getByRole('row')
      .filter({ hasText: /2026-\d{5}/ })
      .first();
    const filled = (await row.getByRole('cell').nth(4).innerText()).trim();
    const number = (await row.getByRole('rowheader').innerText()).trim();
    await row.getByRole('link', { name: number }).click();
    await page.getByRole('heading', { level: 1, name: words.certificate.title(number) }).waitFor();
    await page.getByRole('link', { name: words.certificate.calibration }).click();
    await page.getByText(filled, { exact: true }).first().waitFor();
    await page.getByRole('link', { name: words.entries.link }).click();
    await page.getByRole('heading', { level: 1, name: words.journal }).waitFor();
    await page
      .getByRole('row')
      .filter({ hasText: words.entries.acts['trial-recorded'] ?? '' })
      .first()
      .waitFor();
    expect(page.url()).toBe(`${logbook.address}/records/journal?object=calibration/${page.url().split('/').at(-1)}`);

    await goTo(page, logbook, address.replace(logbook.address, ''));
    await expect.poll(() => rows.allInnerTexts(), PATIENT).toEqual(drawn);
    await page.getByRole('textbox', { name: words.sample.seedLabel }).fill('1e3');
    await page.keyboard.press('Enter');
    await page.getByText(words.sample.badSeed).waitFor();
    await page.getByRole('textbox', { name: words.sample.seedLabel }).fill('7');
    await page.keyboard.press('Enter');
    await page.waitForURL(/seed=7$/);

    // A beaker of two marks opens at the one whose reading was drawn.
    const { items } = await logbook.get<{ items: VesselListItem[] }>('/api/vessels?search=BK-0600-01');
    const latest = items[0]?.latest;
    for (const { pointMl } of latest?.points ?? []) {
      await goTo(page, logbook, `/bench/${latest?.id ?? ''}?point=${pointMl}`);
      await page.getByText(benchText.trialsCaption(pointMl)).waitFor({ state: 'attached' });
    }
    expect(latest?.points.length).toBe(2);
  });

  it('has the whole journal checked, and is shown its head', async ({ visit, logbook }) => {
    const page = await visit('/records');
    await page.getByText(words.check.idle).waitFor();
    await page.getByRole('button', { name: words.check.begin }).click();
    const { entries, head } = await settledCheck(logbook);
    await page.getByText(`all is well in ${entries} entries`).filter({ hasText: head?.hash }).waitFor();
  });

  it('is told by a replaced certificate which one replaced it and why', async ({ visit }) => {
    const page = await visit('/records/certificates?state=replaced');
    await page.getByRole('rowheader').getByRole('link').click();
    const stamp = page.getByRole('note');
    await expect.poll(() => stamp.innerText(), PATIENT).toMatch(/replaced by 2026-\d{5}.*drop left above the mark/s);
    await stamp.getByRole('link').click();
    await expect.poll(() => page.getByText(/It replaces 2026-\d{5}/).count(), PATIENT).toBe(1);
  });

  it('searches the journal, and is told at the field what is no day', async ({ visit }) => {
    const page = await visit('/records/journal');
    await page.getByLabel(words.entries.search).fill('Splashed');
    await expect.poll(() => page.locator('tbody tr').count(), PATIENT).toBe(1);
    await page.locator('tbody').getByRole('button').click();
    await expect
      .poll(() => page.locator('pre').last().innerText(), PATIENT)
      .toContain('Splashed on the way to the balance');
    await page.getByLabel(words.entries.from).fill('last week');
    await page.getByText(words.entries.badDay).waitFor();
  });

  it.for([320, 820, 1440])('finds every page of the records in order at %i px', async (width, { visit, logbook }) => {
    const page = await visit('/records', { width });
    const addresses = ['/records', '/records/certificates', '/records/journal', '/records/certificates/2026-00001'];
    for (const address of addresses) {
      const year = new Date().getFullYear();
      await goTo(page, logbook, address.replace('2026-', `${year}-`));
      const sideways = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect({ address, sideways }).toEqual({ address, sideways: 0 });
      // Colours are the same at every width, and take as long as all other rules together.
      expect(await (width === 820 ? barriers(page) : barriersButContrast(page))).toEqual([]);
    }
  });
});

describe('a signature', () => {
  it('is given with the passphrase, from measured to the certificate', async ({ visit, logbook }) => {
    const { items } = await logbook.get<{ items: { id: string; tag: string }[] }>(
      '/api/calibrations?state=measured&limit=1',
    );
    const [calibration] = items;
    const page = await visit(`/bench/${calibration?.id}`);
    visit.mayBeRefused(403);
    await page.getByText(signingText.needsPeople).waitFor();
    const setUp = { code: SETUP_CODE, name: 'Ada Keeper', password: PASSPHRASE };
    expect((await page.context().request.post(`${logbook.address}/api/setup`, { data: setUp })).status()).toBe(201);
    await page.reload();
    await page.getByRole('button', { name: signingText.check }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel(signingText.passphrase).fill('not this one');
    await dialog.getByRole('button', { name: signingText.check }).click();
    await dialog.getByRole('alert').waitFor();
    await dialog.getByLabel(signingText.passphrase).fill(PASSPHRASE);
    await dialog.getByRole('button', { name: signingText.check }).click();
    await dialog.waitFor({ state: 'detached' });
    await page.getByRole('button', { name: signingText.issue }).click();
    await dialog.getByLabel(signingText.passphrase).fill(PASSPHRASE);
    await page.keyboard.press('Enter');
    await dialog.waitFor({ state: 'detached' });
    await page.getByText(benchText.stateNow('issued')).waitFor();
    await page.getByRole('link', { name: /^Certificate \d{4}-\d{5}, valid$/ }).click();
    await page.getByRole('heading', { level: 1, name: /^Certificate/ }).waitFor();
    await page.getByText(words.certificate.same).waitFor();
    const [pdf] = await Promise.all([
      page.context().request.get(`${logbook.address}/api/certificates/${page.url().split('/').at(-1)}/pdf`),
    ]);
    expect(pdf.headers()['content-type']).toBe('application/pdf');
    expect((await pdf.body()).subarray(0, 4).toString('latin1')).toBe('%PDF');
  });
});
