/** What was typed survives a reload, a server that goes away, and a second tab; it is recorded once. */
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { benchText, entryText } from '../../web/messages/en-bench.ts';
import { text } from '../../web/messages/en.ts';
import { entryOf, newCalibration, recordTrial, saveTrial, trialsOf, typeTrial } from './at-the-bench.ts';
import { it, PATIENT, settled } from './browser-test.ts';

const unsent = (page: Page, count: number) => page.getByRole('button', { name: text.shell.unsent(count) });
const waitingRow = (page: Page) =>
  page.getByRole('row').filter({ has: page.getByText(benchText.states.waiting, { exact: true }) });
const sendNow = (page: Page) => page.getByRole('button', { name: text.shell.sendNow }).first();

describe('half a trial', () => {
  it('is there after a reload, to the last key, and marked as not saved', async ({ logbook, visit }) => {
    const id = await newCalibration(logbook, 'H-1');
    const page = await visit(`/bench/${id}`);
    await entryOf(page).empty.fill('61.2030');
    await entryOf(page).filled.focus();
    await page.keyboard.type('160.8');
    await page.reload();
    await settled(page);
    await expect.poll(() => entryOf(page).empty.inputValue(), PATIENT).toBe('61.2030');
    expect(await entryOf(page).filled.inputValue()).toBe('160.8');
    await page.getByText(entryText.asTyped).waitFor();
    expect(await trialsOf(logbook, id)).toEqual([]);
  });

  it('is there after the tab was closed, from the room of the bench', async ({ logbook, visit }) => {
    const page = await visit(`/bench/${await newCalibration(logbook, 'H-2')}`);
    await typeTrial(page, '61.2030', '', '21.3');
    const again = await visit('/bench', { beside: page });
    await page.close();
    await again.getByRole('link', { name: /H-2/ }).last().click();
    await expect.poll(() => entryOf(again).empty.inputValue(), PATIENT).toBe('61.2030');
    expect(await entryOf(again).water.inputValue()).toBe('21.3');
  });
});

describe('a page that is left before the browser has written', () => {
  /** Holds the browser's database busy until the page is left: what is put in meanwhile waits and is then taken back. */
  const holdDatabase = (page: Page): Promise<void> =>
    page.evaluate(
      () =>
        new Promise<void>((resolve, reject) => {
          const opening = indexedDB.open('tarebook');
          opening.onerror = () => reject(new Error('The database does not open.'));
          opening.onsuccess = () => {
            const entries = opening.result.transaction('entries', 'readwrite').objectStore('entries');
            const again = () => {
              entries.count().onsuccess = again;
              resolve();
            };
            again();
          };
        }),
    );

  it('keeps the keys struck last, and does not bring them back once the trial is recorded', async ({
    logbook,
    visit,
  }) => {
    const id = await newCalibration(logbook, 'H-3');
    const page = await visit(`/bench/${id}`);
    await entryOf(page).empty.fill('61.2030');
    await holdDatabase(page);
    await entryOf(page).filled.focus();
    await page.keyboard.type('160.8');
    await page.reload();
    await settled(page);
    await expect.poll(() => entryOf(page).filled.inputValue(), PATIENT).toBe('160.8');
    expect(await entryOf(page).empty.inputValue()).toBe('61.2030');
    await typeTrial(page, '61.2030', '160.8370');
    await entryOf(page).save.click();
    await expect.poll(async () => (await trialsOf(logbook, id)).length, PATIENT).toBe(1);
    await page.reload();
    await settled(page);
    expect(await entryOf(page).filled.inputValue()).toBe('');
    expect(await page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes('ahead')))).toEqual([]);
  });
});

describe('a server that goes away', () => {
  it('before a trial was sent: it waits in sight, through a reload too, and is recorded once', async ({
    logbook,
    visit,
  }) => {
    const id = await newCalibration(logbook, 'S-1');
    const page = await visit(`/bench/${id}`);
    visit.mayLoseServer();
    await logbook.stop('SIGKILL');
    await typeTrial(page, '61.2030', '160.8370');
    await entryOf(page).save.click();
    await waitingRow(page).waitFor();
    await page.getByRole('status').getByText(benchText.announce.waiting).waitFor({ state: 'attached' });
    await unsent(page, 1).waitFor();
    await typeTrial(page, '61.2031', '160.8371');
    await entryOf(page).save.click();
    await unsent(page, 2).waitFor();
    expect(await waitingRow(page).count()).toBe(2);

    await logbook.start();
    page.once('dialog', (dialog) => void dialog.accept());
    await page.reload();
    await settled(page);
    await expect
      .poll(async () => (await trialsOf(logbook, id)).map(({ filledG }) => filledG), PATIENT)
      .toEqual(['160.8370', '160.8371']);
    await expect.poll(() => unsent(page, 1).or(unsent(page, 2)).count(), PATIENT).toBe(0);
  });

  it('after it recorded a trial and before it said so: asked again, it records nothing twice', async ({
    logbook,
    visit,
  }) => {
    const id = await newCalibration(logbook, 'S-2');
    const page = await visit(`/bench/${id}`);
    visit.mayLoseServer();
    await page.route('**/trials', async (route) => {
      await route.fetch();
      await logbook.stop('SIGKILL');
      await route.abort('connectionreset');
    });
    const unanswered = page.waitForEvent('requestfailed', (request) => request.url().endsWith('/trials'));
    await typeTrial(page, '61.2030', '160.8370');
    await entryOf(page).save.click();
    // A slow server shows the row as waiting long before it is killed.
    await unanswered;
    await waitingRow(page).waitFor();
    await page.unroute('**/trials');
    await logbook.start();
    await sendNow(page).click();
    await page.getByRole('status').getByText(benchText.announce.saved(1)).waitFor({ state: 'attached' });
    await expect.poll(() => unsent(page, 1).count(), PATIENT).toBe(0);
    expect(await trialsOf(logbook, id)).toMatchObject([{ number: 1, filledG: '160.8370' }]);
  });

  it('takes no page away: what cannot be fetched says so in its place, and comes when asked again', async ({
    logbook,
    visit,
  }) => {
    const id = await newCalibration(logbook, 'S-4');
    await recordTrial(logbook, id, '61.2030', '160.8370');
    const page = await visit(`/bench/${id}`);
    visit.mayLoseServer();
    await page.route('**/assets/*', (route) => route.abort('connectionrefused'));
    await page.getByRole('button', { name: benchText.openTrial(1) }).click();
    await page.getByText(text.shell.failedTitle).first().waitFor();
    await entryOf(page).empty.fill('61.2031');
    await page.getByRole('link', { name: text.shell.rooms.glassware, exact: true }).click();
    await page.getByText(text.shell.failedTitle).first().waitFor();
    await page.goBack();
    await expect.poll(() => entryOf(page).empty.inputValue(), PATIENT).toBe('61.2031');
    await page.unroute('**/assets/*');
    await page.getByRole('link', { name: text.shell.rooms.glassware, exact: true }).click();
    await page.getByRole('button', { name: text.shell.tryAgain }).click();
    await page.getByRole('heading', { level: 1, name: text.shell.rooms.glassware }).waitFor();
  });

  it('warns whoever leaves while something waits', async ({ logbook, visit }) => {
    const page = await visit(`/bench/${await newCalibration(logbook, 'S-3')}`);
    visit.mayLoseServer();
    await logbook.stop();
    await typeTrial(page, '61.2030', '160.8370');
    await entryOf(page).save.click();
    await unsent(page, 1).waitFor();
    const asked = page.waitForEvent('dialog');
    const leaving = page.goto('about:blank').catch(() => null);
    const dialog = await asked;
    expect(dialog.type()).toBe('beforeunload');
    await dialog.dismiss();
    await leaving;
    await unsent(page, 1).waitFor();
    await logbook.start();
  });
});

describe('two tabs of one browser', () => {
  it('both holding one waiting trial record it once', async ({ logbook, visit }) => {
    const id = await newCalibration(logbook, 'T-1');
    const first = await visit(`/bench/${id}`);
    const second = await visit(`/bench/${id}`, { beside: first });
    visit.mayLoseServer();
    await first.route('**/trials', (route) => route.abort('connectionrefused'));
    await typeTrial(first, '61.2030', '160.8370');
    await entryOf(first).save.click();
    await waitingRow(first).waitFor();
    await second.route('**/trials', (route) => route.abort('connectionrefused'));
    await second.reload();
    await settled(second);
    await waitingRow(second).waitFor();
    await second.unroute('**/trials');
    await first.unroute('**/trials');
    const networkIsBack = (page: Page) => page.evaluate(() => window.dispatchEvent(new Event('online')));
    await Promise.all([networkIsBack(first), networkIsBack(second)]);
    await expect.poll(async () => (await trialsOf(logbook, id)).length, PATIENT).toBe(1);
    for (const page of [first, second]) await expect.poll(() => unsent(page, 1).count(), PATIENT).toBe(0);
    expect((await trialsOf(logbook, id)).length).toBe(1);
  });

  it('typing different trials keep both, each its own through a reload', async ({ logbook, visit }) => {
    const id = await newCalibration(logbook, 'T-2');
    const first = await visit(`/bench/${id}`);
    const second = await visit(`/bench/${id}`, { beside: first });
    await typeTrial(first, '61.2030', '160.8370');
    await typeTrial(second, '61.2040', '160.8380');
    for (const [tab, empty] of [
      [second, '61.2040'],
      [first, '61.2030'],
    ] as const) {
      await tab.reload();
      await settled(tab);
      await expect.poll(() => entryOf(tab).empty.inputValue(), PATIENT).toBe(empty);
    }
    await saveTrial(second, 1, '61.2040', '160.8380');
    await entryOf(first).save.click();
    await first.getByRole('status').getByText(benchText.announce.saved(2)).waitFor({ state: 'attached' });
    expect((await trialsOf(logbook, id)).map(({ emptyG }) => emptyG)).toEqual(['61.2040', '61.2030']);
  });

  it('going on with one half trial lose neither version: the later one is asked about', async ({ logbook, visit }) => {
    visit.mayBeRefused(422);
    const id = await newCalibration(logbook, 'T-3');
    const first = await visit(`/bench/${id}`);
    await entryOf(first).empty.fill('61.2030');
    const second = await visit(`/bench/${id}`, { beside: first });
    await expect.poll(() => entryOf(second).empty.inputValue(), PATIENT).toBe('61.2030');
    await saveTrial(second, 1, '61.2030', '160.8370');
    await typeTrial(first, '61.2030', '160.9000');
    await entryOf(first).save.click();
    await first.getByText(text.unsent.recordedElsewhere, { exact: true }).waitFor();
    await first.getByRole('button', { name: entryText.change }).click();
    expect(await entryOf(first).filled.inputValue()).toBe('160.9000');
    await entryOf(first).save.click();
    await first.getByRole('status').getByText(benchText.announce.saved(2)).waitFor({ state: 'attached' });
    expect((await trialsOf(logbook, id)).map(({ filledG }) => filledG)).toEqual(['160.8370', '160.9000']);
  });
});
