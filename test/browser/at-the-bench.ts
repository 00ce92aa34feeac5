/** What the tests of the bench do again and again: a flask with an open calibration, its fields, its rows. */
import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import type { Calibration } from '../../server/calibrations/contract.ts';
import { benchText, entryText } from '../../web/messages/en-bench.ts';
import { PATIENT } from './browser-test.ts';
import type { ServedLogbook } from './served-logbook.ts';

/** A 100 mL flask of ISO 1042:1998 class A; invented. */
export const FLASK = {
  kind: 'volumetric-flask',
  nominalVolumeMl: '100',
  basis: 'contain',
  tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
  material: 'borosilicate-3.3',
  referenceTemperatureC: '20',
};

const CALIBRATION = {
  points: ['100'],
  plannedTrials: 3,
  conditions: { airTemperatureC: '21.8', airPressureHpa: '992.5', relativeHumidityPercent: '48', inspected: true },
};

export const newVessel = async (logbook: ServedLogbook, tag: string, facts: object = {}): Promise<string> =>
  String((await logbook.post('/api/vessels', { ...FLASK, tag, ...facts }))['id']);

/** @returns the id of an open calibration of a new flask */
export async function newCalibration(logbook: ServedLogbook, tag: string, facts: object = {}): Promise<string> {
  const vessel = await newVessel(logbook, tag);
  const { id } = await logbook.post(`/api/vessels/${vessel}/calibrations`, { ...CALIBRATION, ...facts });
  return String(id);
}

export const recordTrial = (logbook: ServedLogbook, calibration: string, emptyG: string, filledG: string) =>
  logbook.post(`/api/calibrations/${calibration}/trials`, {
    pointMl: '100',
    emptyG,
    filledG,
    waterTemperatureC: '21.3',
  });

export const calibrationOf = (logbook: ServedLogbook, id: string): Promise<Calibration> =>
  logbook.get<Calibration>(`/api/calibrations/${id}`);
export const trialsOf = async (logbook: ServedLogbook, id: string) => (await calibrationOf(logbook, id)).trials;

/** The three fields of the trial being typed, the volume beside them, and the button that saves. */
export const entryOf = (page: Page) => ({
  empty: page.getByRole('textbox', { name: `${entryText.empty} g` }),
  filled: page.getByRole('textbox', { name: `${entryText.filled} g` }),
  water: page.getByRole('textbox', { name: `${entryText.water} °C` }),
  volume: page.getByRole('region', { name: new RegExp(`^${entryText.form(0).replace('0', '')}`) }).getByRole('status'),
  save: page.getByRole('button', { name: new RegExp(`^${entryText.save(0).replace('0', '')}`) }),
});

export async function typeTrial(page: Page, empty: string, filled: string, water = '21.3'): Promise<void> {
  const entry = entryOf(page);
  await entry.empty.fill(empty);
  await entry.filled.fill(filled);
  await entry.water.fill(water);
}

/** Types a trial and saves it. @returns once the page shows it as saved under this number */
export async function saveTrial(page: Page, number: number, empty: string, filled: string): Promise<void> {
  await typeTrial(page, empty, filled);
  await entryOf(page).save.click();
  await trialRow(page, number).getByText(benchText.states.saved).waitFor({ state: 'attached' });
}

/** The row of a saved trial. */
export const trialRow = (page: Page, number: number): Locator =>
  page
    .getByRole('region', { name: benchText.trials })
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name: String(number), exact: true }) });

/** Cells of a row as somebody reads them. */
export const cellsOf = async (row: Locator): Promise<string[]> =>
  (await row.getByRole('cell').allInnerTexts()).map((cell) => cell.replaceAll(/\s+/g, ' ').trim());

/** Fingers leave more time between two Enters than a balance between CR and LF. */
export async function pressEnter(page: Page): Promise<void> {
  await page.waitForTimeout(110);
  await page.keyboard.press('Enter');
}

/** What is said to a field below it, as a screen reader says it after the name. */
export async function saidTo(field: Locator): Promise<string> {
  return field.evaluate((element) =>
    (element.getAttribute('aria-describedby') ?? '')
      .split(' ')
      .map((id) => document.getElementById(id)?.textContent ?? '')
      .join(' '),
  );
}

/** A refused field: marked as such, its sentence reachable, what was typed still in it. */
export async function expectRefused(field: Locator, sentence: string | RegExp, typed: string): Promise<void> {
  await expect.poll(() => field.getAttribute('aria-invalid'), PATIENT).toBe('true');
  expect(await saidTo(field)).toMatch(sentence);
  expect(await field.inputValue()).toBe(typed);
}

/** Moves the focus with the Tab key until it is there, as somebody without a mouse does. */
export async function tabTo(page: Page, target: Locator): Promise<void> {
  await target.waitFor({ state: 'attached' });
  for (let presses = 0; presses < 80; presses += 1) {
    await page.keyboard.press('Tab');
    if (await target.evaluate((element) => element === document.activeElement)) return;
  }
  throw new Error(`The Tab key does not lead to ${target.toString()}.`);
}
