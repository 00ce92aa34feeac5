/** What is done to trials and calibrations afterwards: nothing disappears, everything says why. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { benchText } from '../../web/messages/en-bench.ts';
import { conflictText } from '../../web/messages/en-conflict.ts';
import { explanationText } from '../../web/messages/en-explanation.ts';
import { vesselText } from '../../web/messages/en-glassware.ts';
import { unfoldText } from '../../web/messages/en-unfold.ts';
import { startText } from '../../web/messages/en-start.ts';
import { text } from '../../web/messages/en.ts';
import { ruleText } from '../../web/messages/en-uncertainty.ts';
import {
  calibrationOf,
  cellsOf,
  entryOf,
  expectRefused,
  newCalibration,
  recordTrial,
  trialRow,
} from './at-the-bench.ts';
import { it, PATIENT, settled } from './browser-test.ts';
import type { ServedLogbook } from './served-logbook.ts';

/** A calibration with three trials; the third holds 0.2 mL more than the others. */
async function threeTrials(logbook: ServedLogbook, tag: string): Promise<string> {
  const id = await newCalibration(logbook, tag);
  await recordTrial(logbook, id, '61.2030', '160.8370');
  await recordTrial(logbook, id, '61.2031', '160.8390');
  await recordTrial(logbook, id, '61.2029', '161.0380');
  return id;
}

const openTrial = (page: Page, number: number): Promise<void> =>
  page.getByRole('button', { name: benchText.openTrial(number) }).click();
const button = (page: Page | Locator, name: string): Locator => page.getByRole('button', { name, exact: true });
const give = (dialog: Locator, reason: string): Promise<void> =>
  dialog.getByRole('textbox', { name: text.form.reason }).fill(reason);

/** Value of a figure under the strip, by its name. */
const figure = (page: Page, name: string): Promise<string> =>
  page
    .getByRole('region', { name: benchText.strip('100') })
    .getByRole('term')
    .filter({ hasText: new RegExp(`^${name}$`) })
    .locator('xpath=following-sibling::dd[1]')
    .innerText();

describe('a trial', () => {
  it('is excluded with cause and reason, both verdicts in sight, and taken back', async ({ logbook, visit }) => {
    const id = await threeTrials(logbook, 'A-1');
    const page = await visit(`/bench/${id}`);
    await openTrial(page, 3);
    await button(page, benchText.exclude).click();
    const dialog = page.getByRole('dialog', { name: benchText.excludeTitle(3) });
    await give(dialog, 'drops ran down the neck');
    await button(dialog, benchText.doExclude).click();
    await dialog.getByText(benchText.causeMissing).first().waitFor();
    await dialog.getByRole('radio', { name: text.words.exclusionCauses['drop-left'] }).check();
    await button(dialog, benchText.doExclude).click();
    await dialog.waitFor({ state: 'detached' });
    const said = benchText.excludedBecause(text.words.exclusionCauses['drop-left'], 'drops ran down the neck');
    await page.getByText(said).waitFor();
    expect((await cellsOf(trialRow(page, 3))).join(' ')).toContain(benchText.states.excluded);
    await expect.poll(() => figure(page, vesselText.figures.trials), PATIENT).toContain(vesselText.trialsOf(2, 3));
    const [point] = (await calibrationOf(logbook, id)).points;
    expect(point?.verdictWithExcluded).not.toBe(point?.verdict);
    const words: Record<string, string> = text.words.verdicts;
    const result = page.getByRole('region', { name: benchText.strip('100') });
    await result.getByText(`${words[point?.verdict ?? ''] ?? ''} ${text.strip.soFar}`, { exact: true }).waitFor();
    await result.getByText(unfoldText.excludedWord(words[point?.verdictWithExcluded ?? ''] ?? '')).waitFor();
    await result.getByRole('img', { name: new RegExp(text.strip.excluded(1)) }).waitFor();

    await button(page, benchText.include).click();
    const back = page.getByRole('dialog', { name: benchText.includeTitle(3) });
    await give(back, 'an odd number is no cause');
    await button(back, benchText.doInclude).click();
    await expect.poll(() => figure(page, vesselText.figures.trials), PATIENT).toMatch(/^3\b/);
    expect((await cellsOf(trialRow(page, 3))).join(' ')).not.toContain(benchText.states.excluded);
  });

  it('corrected for a slip shows the old value beside the new one', async ({ logbook, visit }) => {
    const page = await visit(`/bench/${await threeTrials(logbook, 'A-2')}`);
    await openTrial(page, 3);
    await button(page, benchText.correct).click();
    const dialog = page.getByRole('dialog', { name: benchText.correctTitle(3) });
    await dialog.getByRole('combobox', { name: benchText.correctField }).selectOption('filledG');
    await dialog.getByText(benchText.correctNow('161.0380')).waitFor();
    await dialog.getByRole('textbox', { name: benchText.correctValue }).fill('160,8380');
    await give(dialog, 'two digits swapped');
    await button(dialog, benchText.doCorrect).click();
    await dialog.waitFor({ state: 'detached' });
    await page.getByText(benchText.correctedTo('filled reading', '161.0380', '160.8380')).waitFor();
    await expect.poll(async () => (await cellsOf(trialRow(page, 3)))[1], PATIENT).toMatch(/160\.8380.*161\.0380/);
    expect(await trialRow(page, 3).getByRole('deletion').innerText()).toBe('161.0380');
    expect(await trialRow(page, 3).getByRole('insertion').innerText()).toBe('160.8380');
  });

  it('unfolds to the digits that were typed, and so does the mean', async ({ logbook, visit }) => {
    const page = await visit(`/bench/${await threeTrials(logbook, 'A-3')}`);
    await openTrial(page, 1);
    const row = page.getByRole('row').filter({ has: page.getByRole('button', { name: benchText.correct }) });
    await unfoldTo(row, `160.8370 g`);
    const result = page.getByRole('region', { name: benchText.strip('100') });
    await result.getByTitle(unfoldText.hint).first().click();
    await unfoldTo(result, '161.0380 g');
  });
});

/** Opens what is still closed, level by level, until a reading stands there as it was typed. */
async function unfoldTo(within: Locator, reading: string): Promise<void> {
  const digits = reading.replace(' g', '');
  const typed = within.getByRole('listitem').filter({ hasText: digits }).filter({ hasText: explanationText.typed });
  const closed = within.locator('details:not([open]) > summary');
  for (let level = 0; level < 12 && (await typed.count()) === 0; level += 1) {
    await expect.poll(async () => (await closed.count()) + (await typed.count()), PATIENT).toBeGreaterThan(0);
    if ((await closed.count()) > 0) await closed.last().click();
  }
  await typed.last().waitFor();
}

describe('a calibration', () => {
  it('ended before its plan asks why, and opens again with a reason', async ({ logbook, visit }) => {
    visit.mayBeRefused(422);
    const id = await newCalibration(logbook, 'C-1');
    await recordTrial(logbook, id, '61.2030', '160.8370');
    const page = await visit(`/bench/${id}`);
    await button(page, benchText.finishEarly).click();
    const dialog = page.getByRole('dialog', { name: benchText.finishTitle });
    await dialog.getByText(benchText.finishEarlyWhat(1, 3)).waitFor();
    await button(dialog, benchText.finishEarly).click();
    await expectRefused(dialog.getByRole('textbox', { name: text.form.reason }), /./, '');
    await give(dialog, 'the balance is needed elsewhere');
    await button(dialog, benchText.finishEarly).click();
    await page.getByText(benchText.stateNow(text.words.states.measured)).waitFor();
    await page.getByText('the balance is needed elsewhere').waitFor();
    expect(await entryOf(page).save.count()).toBe(0);

    await button(page, benchText.reopen).click();
    const again = page.getByRole('dialog', { name: benchText.reopenTitle });
    await give(again, 'free again');
    await button(again, benchText.reopen).click();
    await entryOf(page).empty.waitFor();
    expect(await entryOf(page).save.innerText()).toMatch(/2$/);
  });

  it('whose plan two people change shows both versions, and keeps both changes', async ({ logbook, visit }) => {
    visit.mayBeRefused(412);
    const id = await newCalibration(logbook, 'C-4');
    const page = await visit(`/bench/${id}`);
    await button(page, benchText.changePlan).click();
    const dialog = page.getByRole('dialog', { name: benchText.changePlanTitle });
    await dialog.getByLabel(ruleText.simple.name).check();
    await give(dialog, 'as the customer asked');
    const url = `/api/calibrations/${id}`;
    const { version } = (await logbook.send('GET', url)).body as { version: number };
    const other = { plannedTrials: 7, reason: 'more of them' };
    expect((await logbook.send('PATCH', url, other, version)).status).toBe(200);
    await button(dialog, text.form.save).click();
    const row = dialog.getByRole('row').filter({ hasText: startText.planned });
    await expect.poll(() => row.innerText(), PATIENT).toMatch(/3\s+3\s+7$/);
    await button(dialog, conflictText.merge).click();
    await dialog.waitFor({ state: 'detached' });
    expect((await logbook.send('GET', url)).body).toMatchObject({ plannedTrials: 7, decisionRule: 'simple' });
  });

  it('with its plan done ends without a question', async ({ logbook, visit }) => {
    const page = await visit(`/bench/${await threeTrials(logbook, 'C-2')}`);
    await button(page, benchText.finish).click();
    await button(page.getByRole('dialog', { name: benchText.finishTitle }), benchText.finish).click();
    await page.getByText(benchText.stateNow(text.words.states.measured)).waitFor();
  });

  it('abandoned keeps its trials and its reason', async ({ logbook, visit }) => {
    const id = await threeTrials(logbook, 'C-3');
    const page = await visit(`/bench/${id}`);
    await button(page, benchText.abandon).click();
    const dialog = page.getByRole('dialog', { name: benchText.abandonTitle });
    await dialog.getByText(benchText.abandonWhat(3)).waitFor();
    await give(dialog, 'it was another flask');
    await button(dialog, benchText.abandon).click();
    await page.getByText(benchText.stateNow(text.words.states.abandoned)).waitFor();
    await page.reload();
    await settled(page);
    expect((await cellsOf(trialRow(page, 1))).slice(0, 2)).toEqual(['61.2030', '160.8370']);
    await page.getByText('it was another flask').waitFor();
    expect(await entryOf(page).save.count()).toBe(0);
  });
});
