/** Vessels that deliver, at the bench: a burette into a receiver that is not emptied, a piston pipette at three volumes. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { benchText, entryText } from '../../web/messages/en-bench.ts';
import { deliveryText } from '../../web/messages/en-delivery.ts';
import { startText } from '../../web/messages/en-start.ts';
import { TIMING_KEY } from '../../web/pages/bench/timing.ts';
import { cellsOf, newVessel, trialRow, trialsOf } from './at-the-bench.ts';
import { it, PATIENT } from './browser-test.ts';
import { barriersButContrast, sidewaysPx } from './looks.ts';

/** Invented; limits of ISO 385:2005 class AS and of ISO 8655-2:2002. */
const BURETTE = {
  kind: 'burette',
  nominalVolumeMl: '25',
  basis: 'deliver',
  tolerance: { standard: 'ISO 385', edition: '2005', class: 'AS' },
  divisionMl: '0.05',
};
const PISTON = {
  kind: 'piston-pipette',
  nominalVolumeMl: '1',
  basis: 'deliver',
  tolerance: { standard: 'ISO 8655-2', edition: '2002', class: '-' },
  channels: 8,
  material: 'polypropylene',
};

const field = (page: Page, name: string) => page.getByRole('textbox', { name });
const before = (page: Page) => field(page, `${deliveryText.before} g`);
const after = (page: Page) => field(page, `${deliveryText.after} g`);

/** Hands leave more time between two keys than a balance that types. */
async function pressTiming(page: Page): Promise<void> {
  await page.waitForTimeout(110);
  await page.keyboard.press(TIMING_KEY);
}

async function save(page: Page, number: number): Promise<void> {
  await page.getByRole('button', { name: entryText.save(number), exact: true }).click();
  await trialRow(page, number).getByText(benchText.states.saved).waitFor({ state: 'attached' });
}

async function begin(page: Page): Promise<string> {
  await page.getByRole('radio', { name: '3', exact: true }).check();
  await page.getByRole('button', { name: startText.begin }).click();
  await before(page).waitFor();
  return new URL(page.url()).pathname.split('/').at(-1) ?? '';
}

it('a burette is read into a receiver that is not emptied, both times by one key', async ({ logbook, visit }) => {
  const vessel = await newVessel(logbook, 'B-0007', BURETTE);
  const page = await visit(`/bench/new?vessel=${vessel}`, { width: 1180, height: 820 });
  expect(await page.getByText(startText.pointsGraduated).count()).toBe(1);
  const id = await begin(page);
  await page.getByRole('radio', { name: deliveryText.ways.cumulative }).check();
  await field(page, deliveryText.capacity).fill('100');
  await before(page).fill('60.1230');
  await field(page, `${entryText.water} °C`).fill('20.4');
  const timing = page.getByRole('group', { name: deliveryText.timing });
  await timing.getByRole('button', { name: deliveryText.start }).waitFor();
  // From within a field of readings, as somebody does who has a hand on the stopcock.
  await before(page).focus();
  await pressTiming(page);
  await timing.getByRole('button', { name: deliveryText.stop }).waitFor();
  expect(await before(page).inputValue()).toBe('60.1230');
  await pressTiming(page);
  await timing.getByRole('button', { name: deliveryText.stopWaiting }).waitFor();
  await pressTiming(page);
  await timing.getByRole('button', { name: deliveryText.startAgain }).waitFor();
  await expect.poll(() => after(page).evaluate((one) => one === document.activeElement), PATIENT).toBe(true);
  const delivered = await field(page, deliveryText.deliveryTime).inputValue();
  expect(delivered).toMatch(/^\d+\.\d$/);
  // What the key wrote can be typed over. ISO 385:2005 class AS: 30 s of waiting.
  await field(page, deliveryText.waitingTime).fill('31');
  await page.getByText(`31 s: ${deliveryText.standing.within}.`).waitFor();
  await page.getByRole('combobox', { name: deliveryText.position }).selectOption(deliveryText.positions[0] ?? '');
  await after(page).fill('85.0330');
  await save(page, 1);
  // The reading after is the next one before; the balance could not carry a third delivery.
  await expect.poll(() => before(page).inputValue(), PATIENT).toBe('85.0330');
  await page.getByText(deliveryText.tooHeavy('110', '100')).waitFor();
  await page.reload();
  await expect.poll(() => before(page).inputValue(), PATIENT).toBe('85.0330');
  await after(page).fill('109.9410');
  await save(page, 2);
  await expect
    .poll(async () => (await cellsOf(trialRow(page, 2)))[0], PATIENT)
    .toBe(`85.0330 ${benchText.taken.carried}`);
  const [first, second] = await trialsOf(logbook, id);
  expect(first).toMatchObject({
    deliveryTimeS: delivered,
    waitingTimeS: '31',
    drainPosition: deliveryText.positions[0],
  });
  expect(second).toMatchObject({
    emptySource: 'carried',
    emptyOf: 1,
    emptyG: '85.0330',
    drainPosition: deliveryText.positions[0],
  });
  expect(second?.findings.map(({ code }) => code)).toContain('waiting-time-not-recorded');
  expect(await barriersButContrast(page)).toEqual([]);
});

it('a piston pipette is tested at its three volumes, tip and channel kept', async ({ logbook, visit }) => {
  const vessel = await newVessel(logbook, 'M-1000', PISTON);
  const page = await visit(`/bench/new?vessel=${vessel}`, { width: 820, height: 1180 });
  for (const point of ['1', '0.5', '0.1'])
    expect(await page.getByRole('checkbox', { name: `${point} mL`, exact: true }).isChecked()).toBe(true);
  const id = await begin(page);
  await field(page, `${entryText.water} °C`).fill('21.0');
  await field(page, deliveryText.tip).fill('T-12');
  await field(page, deliveryText.channel).fill('9.5');
  await before(page).fill('12.3400');
  await after(page).fill('13.3340');
  await page.getByRole('button', { name: entryText.save(1), exact: true }).click();
  await page.getByText(deliveryText.channelWhole).waitFor();
  await field(page, deliveryText.channel).fill('3');
  await save(page, 1);
  expect(await field(page, deliveryText.channel).inputValue()).toBe('3');
  await before(page).fill('12.3402');
  await after(page).fill('13.3372');
  await save(page, 2);
  // ISO 8655-2:2002, 1000 µL: 8 µL systematic, 3 µL random.
  const limits = page.getByRole('region', { name: deliveryText.limits });
  await limits.getByText(/ of 0\.008 mL$/).waitFor();
  await limits.getByText(/ of 0\.003 mL$/).waitFor();
  await page.getByRole('button', { name: benchText.pointProgress('0.1', 0, 3) }).click();
  expect(await field(page, deliveryText.tip).inputValue()).toBe('T-12');
  await before(page).fill('12.3400');
  await after(page).fill('12.4395');
  await save(page, 3);
  const trials = await trialsOf(logbook, id);
  expect(trials.map(({ tip, channel, pointMl }) => [tip, channel, pointMl])).toEqual([
    ['T-12', 3, '1'],
    ['T-12', 3, '1'],
    ['T-12', 3, '0.1'],
  ]);
  expect(await sidewaysPx(page)).toBeLessThanOrEqual(0);
});
