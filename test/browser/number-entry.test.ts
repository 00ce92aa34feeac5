/** Numbers as hands, clipboards and balances bring them: every digit kept, nothing guessed, nothing sent half. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { benchText } from '../../web/messages/en-bench.ts';
import { text } from '../../web/messages/en.ts';
import {
  cellsOf,
  entryOf,
  expectRefused,
  newCalibration,
  pressEnter,
  saidTo,
  saveTrial,
  trialRow,
  trialsOf,
} from './at-the-bench.ts';
import { it, PATIENT } from './browser-test.ts';

const saved = (page: Page, number: number) =>
  page.getByRole('status').getByText(benchText.announce.saved(number)).waitFor({ state: 'attached' });

/**
 * A balance that types ends its line with CR and LF; both arrive before the page has dealt with the first. When the keys
 * were struck is said with them: a busy machine may take its time to hand them over.
 */
async function sendLine(page: Page, line: string): Promise<void> {
  await page.keyboard.type(line, { delay: 5 });
  const browser = await page.context().newCDPSession(page);
  const key = { key: 'Enter', code: 'Enter', windowsVirtualKeyCode: 13 };
  const struckS = Date.now() / 1000;
  const strike = (timestamp: number) => [
    browser.send('Input.dispatchKeyEvent', { type: 'keyDown', ...key, text: '\r', timestamp }),
    browser.send('Input.dispatchKeyEvent', { type: 'keyUp', ...key, timestamp }),
  ];
  await Promise.all([...strike(struckS), ...strike(struckS + 0.005)]);
  await browser.detach();
}

const hasFocus = (field: Locator): Promise<boolean> => field.evaluate((element) => element === document.activeElement);

/** Counts what the page sends as a trial. */
function sentTrials(page: Page): { count: number } {
  const sent = { count: 0 };
  page.on('request', (request) => {
    if (request.method() === 'POST' && request.url().endsWith('/trials')) sent.count += 1;
  });
  return sent;
}

describe('a reading', () => {
  it('may be typed with a comma, and keeps its zeros', async ({ logbook, visit }) => {
    const id = await newCalibration(logbook, 'N-1');
    const page = await visit(`/bench/${id}`);
    await saveTrial(page, 1, '61,2030', '160,8400');
    expect((await cellsOf(trialRow(page, 1))).slice(0, 2)).toEqual(['61.2030', '160.8400']);
    expect(await trialsOf(logbook, id)).toMatchObject([{ emptyG: '61.2030', filledG: '160.8400' }]);
  });

  it('comes from a balance that types 5 ms a key and ends its line with CR and LF', async ({ logbook, visit }) => {
    const id = await newCalibration(logbook, 'N-2');
    const page = await visit(`/bench/${id}`);
    const { empty, filled, water } = entryOf(page);
    await empty.focus();
    await sendLine(page, 'ST,+ 49.9876 g');
    expect(await empty.inputValue()).toBe('49.9876');
    await expect.poll(() => hasFocus(filled), PATIENT).toBe(true);
    await sendLine(page, 'ST,+149.6120 g');
    expect(await filled.inputValue()).toBe('149.6120');
    await expect.poll(() => hasFocus(water), PATIENT).toBe(true);
    await sendLine(page, '21.3');
    await saved(page, 1);
    // The water stands from the trial before; a line of the balance must not save what nobody looked at.
    await sendLine(page, 'ST,+ 49.9870 g');
    await sendLine(page, 'ST,+149.6130 g');
    expect(await water.inputValue()).toBe('21.3');
    await expect.poll(() => hasFocus(water), PATIENT).toBe(true);
    expect(await trialsOf(logbook, id)).toMatchObject([{ emptyG: '49.9876', filledG: '149.6120' }]);
    await pressEnter(page);
    await saved(page, 2);
  });

  it('is pasted with sign, spaces and unit', async ({ logbook, visit }) => {
    const page = await visit(`/bench/${await newCalibration(logbook, 'N-3')}`);
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await page.evaluate(() => navigator.clipboard.writeText('  +49.9876 g'));
    const { empty } = entryOf(page);
    await empty.focus();
    await page.keyboard.press('Control+V');
    await expect.poll(() => empty.inputValue(), PATIENT).toBe('49.9876');
  });

  it('in milligrams is converted in sight, digit for digit', async ({ logbook, visit }) => {
    const page = await visit(`/bench/${await newCalibration(logbook, 'N-4')}`);
    const { empty, filled } = entryOf(page);
    await empty.fill('49987.60 mg');
    await filled.focus();
    await expect.poll(() => empty.inputValue(), PATIENT).toBe('49.98760');
    expect(await saidTo(empty)).toBe(text.number.converted('49987.60', 'mg'));
    await page.getByText(text.number.converted('49987.60', 'mg')).waitFor();
  });
});

const UNCLEAR = [
  ['12.345 lb', text.number.unitRefused('lb', 'g')],
  ['1,234.5', text.number.bothMarks('1,234.5')],
  ['61.20.30', text.number.twoMarks('61.20.30')],
  ['61 203.0', text.number.grouped('61 203.0')],
  ['abc', text.number.letters('abc')],
  ['1e3', text.number.exponent('1e3')],
  ['SD 61.2030 g', text.number.unstable],
  ['OL', text.number.overload],
] as const;

it('asks about what is not clearly one number, and leaves it in the field', async ({ logbook, visit }) => {
  const page = await visit(`/bench/${await newCalibration(logbook, 'Q-1')}`);
  const sent = sentTrials(page);
  const { empty, filled, water, save } = entryOf(page);
  await filled.fill('160.8370');
  await water.fill('21.3');
  for (const [typed, sentence] of UNCLEAR) {
    await empty.fill(typed);
    await save.click();
    await expectRefused(empty, sentence, typed);
    expect(await hasFocus(empty)).toBe(true);
  }
  expect(sent.count).toBe(0);
});

it('Enter held down goes one field on, and nothing half is ever sent', async ({ logbook, visit }) => {
  const page = await visit(`/bench/${await newCalibration(logbook, 'E-1')}`);
  const sent = sentTrials(page);
  const { empty, filled, water } = entryOf(page);
  await empty.focus();
  await page.keyboard.type('61.2030');
  for (let repeats = 0; repeats < 5; repeats += 1) await page.keyboard.down('Enter');
  await page.keyboard.up('Enter');
  expect(await hasFocus(filled)).toBe(true);
  await water.focus();
  await page.keyboard.type('21.3');
  await page.keyboard.press('Enter');
  await expectRefused(filled, text.number.empty, '');
  expect(sent.count).toBe(0);
});

it('the focus follows the work over three trials, and the fields stay where they are', async ({ logbook, visit }) => {
  const page = await visit(`/bench/${await newCalibration(logbook, 'F-1')}`);
  const { empty } = entryOf(page);
  await page.evaluate(() => {
    const trace: string[] = [];
    Object.assign(window, { trace });
    window.addEventListener('focusin', (event) => trace.push((event.target as Element).id));
  });
  await empty.focus();
  const tops: number[] = [];
  for (const number of [1, 2, 3]) {
    tops.push(Math.round((await empty.boundingBox())?.y ?? -1));
    await page.keyboard.type(`61.203${number}`);
    await pressEnter(page);
    await page.keyboard.type(`160.837${number}`);
    await pressEnter(page);
    if (number === 1) await page.keyboard.type('21.3');
    await pressEnter(page);
    await saved(page, number);
  }
  const trace = await page.evaluate(() => (window as unknown as { trace: string[] }).trace);
  const trial = ['emptyG', 'filledG', 'waterTemperatureC'];
  expect(trace).toEqual([...trial, ...trial, ...trial, 'emptyG']);
  expect(tops[2]).toBe(tops[1]);
  expect(await page.evaluate(() => window.scrollY)).toBe(0);
});
