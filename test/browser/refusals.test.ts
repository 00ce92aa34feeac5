/** What is refused or asked about is said at its field, can be reached from the summary, and costs nothing typed. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import type { VesselWithHistory } from '../../server/glassware/contract.ts';
import { entryText } from '../../web/messages/en-bench.ts';
import { conflictText } from '../../web/messages/en-conflict.ts';
import { vesselFormText, vesselText } from '../../web/messages/en-glassware.ts';
import { startText } from '../../web/messages/en-start.ts';
import { text } from '../../web/messages/en.ts';
import {
  calibrationOf,
  entryOf,
  expectRefused,
  newCalibration,
  newVessel,
  saidTo,
  trialRow,
  trialsOf,
  typeTrial,
} from './at-the-bench.ts';
import { it, PATIENT } from './browser-test.ts';

const box = (page: Page, name: string, exact = true): Locator => page.getByRole('textbox', { name, exact });

/** The summary has the focus, and its line for a field leads there. */
async function followSummary(page: Page, title: string, line: string | RegExp, field: Locator): Promise<void> {
  const summary = page.getByRole('alert').filter({ has: page.getByRole('heading', { name: title }) });
  await expect.poll(() => summary.evaluate((element) => element === document.activeElement), PATIENT).toBe(true);
  await summary.getByRole('link', { name: line }).click();
  expect(await field.evaluate((element) => element === document.activeElement)).toBe(true);
}

/** Answers a question with yes, and says why. */
async function confirm(page: Page, why: string): Promise<void> {
  await page.getByRole('checkbox', { name: text.form.reallySo }).check();
  await box(page, text.form.confirmNote).fill(why);
}

describe('at the bench', () => {
  it('filled lighter than empty: said there, swapped with one tap', async ({ logbook, visit }) => {
    const id = await newCalibration(logbook, 'R-1');
    const page = await visit(`/bench/${id}`);
    const { empty, filled, save } = entryOf(page);
    await typeTrial(page, '160.8370', '61.2030');
    await save.click();
    await expectRefused(filled, /Filled is lighter than empty \(160\.8370 g\)/, '61.2030');
    expect(await empty.inputValue()).toBe('160.8370');
    expect(await trialsOf(logbook, id)).toEqual([]);
    await page.getByRole('button', { name: entryText.swap }).click();
    expect([await empty.inputValue(), await filled.inputValue()]).toEqual(['61.2030', '160.8370']);
    await save.click();
    await trialRow(page, 1).waitFor();
  });

  it('a volume far off is asked about, and kept with a yes and a note', async ({ logbook, visit }) => {
    const id = await newCalibration(logbook, 'R-2');
    const page = await visit(`/bench/${id}`);
    const { filled, save } = entryOf(page);
    await typeTrial(page, '61.2030', '166.8370');
    await save.click();
    await page
      .getByRole('alert')
      .getByText(/above 100 mL\. Stopper on or off both times\?/)
      .waitFor();
    await page.getByRole('checkbox', { name: text.form.reallySo }).check();
    await save.click();
    await page.getByRole('checkbox', { name: text.form.reallySo }).waitFor();
    expect(await trialsOf(logbook, id)).toEqual([]);
    await confirm(page, 'filled to the upper ring on purpose');
    expect(await filled.inputValue()).toBe('166.8370');
    await save.click();
    await trialRow(page, 1).waitFor();
    expect(await trialsOf(logbook, id)).toMatchObject([
      { filledG: '166.8370', note: 'filled to the upper ring on purpose' },
    ]);
  });
});

async function fillFlask(page: Page, tag: string): Promise<void> {
  await page.getByRole('radio', { name: text.words.vesselKinds['volumetric-flask'] }).check();
  await box(page, vesselFormText.tag).fill(tag);
  await box(page, vesselFormText.nominal).fill('100');
  await page.getByRole('combobox', { name: vesselFormText.standard }).selectOption({ label: 'ISO 1042:1998' });
  await page.getByRole('combobox', { name: vesselFormText.class, exact: true }).selectOption('A');
  await box(page, vesselFormText.place, false).fill('shelf 2');
}

describe('a new vessel', () => {
  it('with a tag that is taken keeps the rest of the form', async ({ logbook, visit }) => {
    visit.mayBeRefused(409);
    await newVessel(logbook, 'D-1');
    const page = await visit('/glassware/new');
    await fillFlask(page, 'd-1');
    const tag = box(page, vesselFormText.tag);
    const save = page.getByRole('button', { name: vesselFormText.save });
    await save.click();
    await followSummary(page, 'That mark is already taken', /d-1/, tag);
    await expectRefused(tag, /d-1/, 'd-1');
    expect(await box(page, vesselFormText.nominal).inputValue()).toBe('100');
    expect(await box(page, vesselFormText.place, false).inputValue()).toBe('shelf 2');
    await tag.fill('D-2');
    await save.click();
    await page.getByRole('heading', { level: 1, name: 'D-2', exact: true }).waitFor();
  });

  // ISO 1042:1998, table 1: 0.10 mL for 100 mL of class A.
  it('with a marked tolerance far from its class is asked about, and kept with a note', async ({ logbook, visit }) => {
    visit.mayBeRefused(422);
    const page = await visit('/glassware/new');
    await fillFlask(page, 'D-3');
    await box(page, vesselFormText.marked, false).fill('0,8');
    const save = page.getByRole('button', { name: vesselFormText.save });
    await save.click();
    const marked = box(page, vesselFormText.marked, false);
    await followSummary(page, text.form.questionTitle, /0\.8 mL/, marked);
    await confirm(page, 'printed so on the flask');
    expect(await marked.inputValue()).toBe('0,8');
    await save.click();
    await page.getByRole('heading', { level: 1, name: 'D-3', exact: true }).waitFor();
    const [vessel] = (await logbook.get<{ items: VesselWithHistory[] }>('/api/vessels?search=D-3')).items;
    expect(vessel).toMatchObject({ toleranceMl: 0.8, note: 'printed so on the flask' });
  });
});

describe('the air pressure', () => {
  it('in kPa is refused at its field, far from usual it is asked about', async ({ logbook, visit }) => {
    visit.mayBeRefused(422);
    const page = await visit(`/bench/new?vessel=${await newVessel(logbook, 'P-1')}`);
    await page.getByRole('checkbox', { name: startText.inspected }).check();
    await page.getByRole('radio', { name: '10', exact: true }).check();
    const pressure = box(page, startText.pressure);
    const begin = page.getByRole('button', { name: startText.begin });
    await pressure.fill('99.25 kPa');
    await begin.click();
    await expectRefused(pressure, text.number.unitWrong('kPa', 'hPa'), '99.25 kPa');
    await pressure.fill('99.25');
    await begin.click();
    await followSummary(page, 'Some fields need another look', /between 600 and 1100 hPa/, pressure);
    await expectRefused(pressure, /between 600 and 1100 hPa/, '99.25');
    await pressure.fill('805.0');
    await begin.click();
    await followSummary(page, text.form.questionTitle, /kPa or mmHg, or reduced to sea level\?/, pressure);
    await confirm(page, 'we are at 1900 m');
    await begin.click();
    await entryOf(page).empty.waitFor();
    const calibration = await calibrationOf(logbook, page.url().split('/').at(-1) ?? '');
    expect(calibration.conditions).toMatchObject({ airPressureHpa: '805.0', inspected: true });
  });
});

describe('an identity corrected by two at once', () => {
  it('shows the second one both versions and saves neither unseen', async ({ logbook, visit }) => {
    visit.mayBeRefused(412);
    const id = await newVessel(logbook, 'V-1', { location: 'shelf 1' });
    const [mine, theirs] = [await visit(`/glassware/${id}/correct`), await visit(`/glassware/${id}/correct`)];
    const correct = async (page: Page, field: string, typed: string) => {
      await box(page, field, false).fill(typed);
      await box(page, vesselFormText.reason).fill('moved and looked at');
      await page.getByRole('button', { name: vesselFormText.saveCorrection }).click();
    };
    await correct(theirs, vesselFormText.serial, 'S-77');
    await theirs.getByRole('heading', { level: 1, name: 'V-1', exact: true }).waitFor();
    await correct(mine, vesselFormText.place, 'shelf 9');
    await mine.getByRole('heading', { level: 1, name: vesselFormText.staleTitle }).waitFor();
    const rowOf = async (field: string): Promise<string[]> =>
      mine
        .getByRole('row')
        .filter({ has: mine.getByRole('rowheader', { name: field }) })
        .getByRole('cell')
        .allInnerTexts();
    expect(await rowOf(vesselText.facts['location'] ?? '')).toEqual(['shelf 1', 'shelf 9', 'shelf 1']);
    expect(await rowOf(vesselText.facts['serial'] ?? '')).toEqual([conflictText.nothing, conflictText.nothing, 'S-77']);
    await mine.getByRole('button', { name: conflictText.merge }).click();
    await mine.getByRole('heading', { level: 1, name: 'V-1', exact: true }).waitFor();
    const vessel = await logbook.get<VesselWithHistory>(`/api/vessels/${id}`);
    expect(vessel).toMatchObject({ location: 'shelf 9', serial: 'S-77' });
  });
});

it('a reason that is missing is asked for where it belongs', async ({ logbook, visit }) => {
  visit.mayBeRefused(422);
  const page = await visit(`/glassware/${await newVessel(logbook, 'V-2')}/correct`);
  await box(page, vesselFormText.place, false).fill('shelf 3');
  await page.getByRole('button', { name: vesselFormText.saveCorrection }).click();
  const reason = box(page, vesselFormText.reason);
  await expect.poll(() => reason.getAttribute('aria-invalid'), PATIENT).toBe('true');
  expect(await saidTo(reason)).not.toBe('');
  expect(await box(page, vesselFormText.place, false).inputValue()).toBe('shelf 3');
});
