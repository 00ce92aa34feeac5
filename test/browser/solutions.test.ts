/** A solution from its formula to the day it is discarded, at one desk. */
import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import type { Preparation, PreparationListItem } from '../../server/solutions/contract-record.ts';
import { benchSheetText } from '../../web/messages/en-bench-sheet.ts';
import { chooseText, seriesText } from '../../web/messages/en-choose.ts';
import { text } from '../../web/messages/en.ts';
import { recordText } from '../../web/messages/en-solution-record.ts';
import {
  dilutionText,
  keepText,
  resultText,
  shelfText,
  solidText,
  standardisationText as words,
  substanceText,
} from '../../web/messages/en-solutions.ts';
import { expectRefused, newVessel } from './at-the-bench.ts';
import { goTo, it, PATIENT, settled } from './browser-test.ts';
import { barriers, barriersButContrast, sidewaysPx } from './looks.ts';

const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
const numberIn = (shown: string): number => Number(/\d+\.\d+/.exec(shown)?.[0]);

/** CRC Handbook of Chemistry and Physics, copper(II) sulfate pentahydrate; from memory. */
const MOLAR_MASS_G_PER_MOL = 249.685;
/** The last digit printed there has moved with the atomic weights since. */
const MOLAR_MASS_WITHIN = 0.005;
/** 0.0200 mol/L · 0.250 L · 249.685 g/mol = 1.248 g. */
const TO_WEIGH_G = 1.248;

describe('a solution', () => {
  it('is planned, weighed, kept and discarded', async ({ logbook, visit }) => {
    visit.mayBeRefused(422);
    await newVessel(logbook, 'F-0250', { nominalVolumeMl: '250' });
    const page = await visit('/solutions', { width: 1180, height: 820 });
    await page.getByText(shelfText.emptyTitle).waitFor();
    await page.getByRole('link', { name: shelfText.acts.solid, exact: true }).first().click();

    await page.getByLabel(substanceText.formula, { exact: true }).fill('CuSO4·5H2O');
    const molar = page.getByRole('status').filter({ hasText: substanceText.molarMass });
    await molar.getByText('copper(II) sulfate pentahydrate').waitFor();
    expect(Math.abs(numberIn(await molar.locator('strong').innerText()) - MOLAR_MASS_G_PER_MOL)).toBeLessThan(
      MOLAR_MASS_WITHIN,
    );
    await page.getByLabel(solidText.target, { exact: true }).fill('0.0200');
    await page.getByLabel(solidText.flask, { exact: true }).fill('F-0250');
    const work = page.getByRole('region', { name: solidText.work });
    const weigh = work.getByRole('status').first();
    await expect.poll(async () => numberIn(await weigh.innerText()), PATIENT).toBeCloseTo(TO_WEIGH_G, 3);

    // Without a mass there is nothing to keep; the field says so.
    await button(page, keepText.keep).click();
    await page.getByRole('alert').getByText(solidText.notWeighed).waitFor();
    await page.getByLabel(solidText.weighed, { exact: true }).fill('1.2487');
    // Put right, it is no longer told of.
    await page.getByRole('alert').waitFor({ state: 'detached' });
    await page.getByLabel(keepText.expiresOn).fill('2099-13-01');
    // What is typed outlives a reload.
    await page.reload();
    await settled(page);
    const achieved = page.getByRole('region', { name: solidText.achieved });
    // 1.2487 g / (249.685 g/mol · 0.250 L) = 0.0200 mol/L; two digits, since the salt is no primary standard.
    await expect.poll(async () => achieved.innerText(), PATIENT).toContain(`${resultText.about}0.020`);
    await achieved.getByText(resultText.approximate).waitFor();
    expect(await barriersButContrast(page)).toEqual([]);

    await button(page, keepText.keep).click();
    await page.getByRole('alert').getByRole('link').first().waitFor();
    expect(await page.getByLabel(solidText.weighed, { exact: true }).inputValue()).toBe('1.2487');
    await page.getByLabel(keepText.expiresOn).fill('2099-12-01');
    await button(page, keepText.keep).click();
    await page.getByRole('heading', { level: 1, name: 'copper(II) sulfate pentahydrate 0.0200 mol/L' }).waitFor();
    await settled(page);
    expect(await barriersButContrast(page)).toEqual([]);
    expect(await sidewaysPx(page)).toBe(0);
    await page.getByRole('link', { name: 'F-0250' }).waitFor();

    await page.getByRole('link', { name: recordText.standardise, exact: true }).click();
    const titrant = page.getByLabel(words.titrantName, { exact: true });
    await expect.poll(async () => titrant.inputValue(), PATIENT).toBe('copper(II) sulfate pentahydrate 0.0200 mol/L');
    await page.goBack();
    await button(page, recordText.end).click();
    await page.getByRole('radio', { name: recordText.endingChoices.discarded }).check();
    await page.getByLabel(text.form.reason).fill('Turbid after a week');
    await button(page, recordText.endAct).click();
    await page.getByText('Turbid after a week').waitFor();
    const id = page.url().split('/').at(-1) ?? '';
    expect((await logbook.get<Preparation>(`/api/preparations/${id}`)).end?.ending).toBe('discarded');

    await goTo(page, logbook, '/solutions?shelf=all');
    await page.getByRole('link', { name: 'S-0001' }).waitFor();
    await page.getByText(shelfText.endings.discarded, { exact: true }).waitFor();
    await page.setViewportSize({ width: 360, height: 740 });
    expect(await sidewaysPx(page)).toBe(0);
  });

  it('is made to a mass instead of a mark, on a phone', async ({ logbook, visit }) => {
    visit.mayBeRefused(422);
    const page = await visit('/solutions/solid', { width: 390, height: 844 });
    await page.getByLabel(substanceText.formula, { exact: true }).fill('NaCl');
    await page.getByLabel(solidText.target, { exact: true }).fill('9000');
    await page.getByLabel(solidText.targetUnit, { exact: true }).selectOption('mg/kg');
    const solution = page.getByLabel(solidText.solutionG, { exact: true });
    await solution.fill('half a kilo');
    await button(page, keepText.keep).click();
    await expectRefused(solution, /more than a number/, 'half a kilo');
    await solution.fill('500');
    const weigh = page.getByRole('region', { name: solidText.work }).getByRole('status').first();
    // 9000 mg/kg of 500 g is 4.5 g; air lifts solid and solution differently, by less than a thousandth.
    await expect.poll(async () => numberIn(await weigh.innerText()) / 4.5, PATIENT).toBeCloseTo(1, 2);
    await page.getByLabel(solidText.weighed, { exact: true }).fill('4.5021');
    expect([await barriersButContrast(page), await sidewaysPx(page)]).toEqual([[], 0]);
    await button(page, keepText.keep).click();
    await page.getByRole('heading', { level: 1, name: 'sodium chloride 9000 mg/kg' }).waitFor();
    const { items } = await logbook.get<{ items: PreparationListItem[] }>('/api/preparations?search=sodium');
    expect((items[0]?.value ?? 0) / 9004.2).toBeCloseTo(1, 2);
  });

  it('is made from the plan of a series, with the vessels that were chosen for it', async ({ logbook, visit }) => {
    visit.mayBeRefused(422);
    const pipette = { kind: 'single-volume-pipette', nominalVolumeMl: '10', basis: 'deliver' };
    await newVessel(logbook, 'P-0010', { ...pipette, tolerance: { markedMl: '0.02' } });
    await newVessel(logbook, 'F-0100', { nominalVolumeMl: '100' });
    const page = await visit('/solutions/choose', { width: 390, height: 844 });
    const volume = page.getByLabel(chooseText.volume, { exact: true });
    await volume.fill('0');
    await expectRefused(volume, /above/, '0');
    await volume.fill('10');
    const first = page.getByRole('row').filter({ hasText: 'P-0010' });
    await first.getByText(chooseText.take).waitFor();
    await page.getByText(chooseText.notForThis).click();
    await page.getByText(chooseText.reasons['holds-does-not-deliver']).waitFor();
    expect([await barriers(page), await sidewaysPx(page)]).toEqual([[], 0]);

    await goTo(page, logbook, '/solutions/series');
    await page.getByLabel(seriesText.stockName, { exact: true }).fill('Iron');
    await page.getByLabel(seriesText.stockValue, { exact: true }).fill('100');
    const targets = page.getByLabel(seriesText.targets, { exact: true });
    await targets.fill('10 200');
    await button(page, seriesText.plan).click();
    await expectRefused(targets, /not below the stock/, '10 200');
    await targets.fill('10');
    await page.keyboard.press('Enter');
    await page.getByText('10 mL (P-0010)').waitFor();
    expect([await barriers(page), await sidewaysPx(page)]).toEqual([[], 0]);
    // Whoever is faster than the register waits for it, and is not sent back to a field where nothing is wrong.
    await page.route('**/api/vessels?*', async (route) => {
      await new Promise((resolve) => setTimeout(resolve, 1_000));
      await route.continue();
    });
    await button(page, seriesText.carryOver).click();

    await page.getByRole('heading', { level: 1, name: dilutionText.title }).waitFor();
    await button(page, keepText.keep).click();
    await page.getByRole('heading', { level: 1, name: 'Iron 10 mg/L' }).waitFor();
    const steps = page.getByRole('region', { name: recordText.steps.title });
    expect(await steps.getByRole('row').nth(1).innerText()).toMatch(
      /the stock\s+10\smL with P-0010\s+100\smL in F-0100/,
    );
    const { items } = await logbook.get<{ items: PreparationListItem[] }>('/api/preparations?search=Iron');
    // 100 mg/L, 10 mL in 100 mL.
    expect(items[0]?.value).toBeCloseTo(10, 1);
  });

  it('is a titrant set against a primary standard, its readings typed by keyboard alone', async ({
    logbook,
    visit,
  }) => {
    visit.mayBeRefused(422);
    const burette = { kind: 'burette', nominalVolumeMl: '25', basis: 'deliver', divisionMl: '0.05' };
    await newVessel(logbook, 'B-0025', { ...burette, tolerance: { markedMl: '0.03' } });
    const page = await visit('/solutions/standardisation', { width: 820, height: 1180 });
    await page.getByLabel(words.titrantFormula).fill('NaOH');
    await page.getByLabel(substanceText.formula, { exact: true }).fill('KHC8H4O4');
    await page.getByText('potassium hydrogen phthalate').first().waitFor();
    await page.getByLabel(words.burette, { exact: true }).fill('B-0025');
    await page.getByText('25 mL burette').filter({ visible: true }).waitFor();
    // Before anything is weighed: what is missing stands at its field, then the sheet comes.
    await button(page, benchSheetText.print).click();
    await page.getByRole('alert').getByText(words.titrantMissing).waitFor();
    await page.getByLabel(words.titrantName, { exact: true }).fill('Sodium hydroxide');
    const [sheet] = await Promise.all([page.waitForEvent('download'), button(page, benchSheetText.print).click()]);
    expect((await readFile(await sheet.path())).subarray(0, 5).toString('latin1')).toBe('%PDF-');
    await button(page, keepText.keep).click();
    await page.getByRole('alert').getByText(words.noTitration).waitFor();

    await page.getByLabel(words.cell.massG(1), { exact: true }).focus();
    for (const typed of ['0.3888', '0.00', '26.00', '0.3890', '0.00', '18.65', '0.3886', '0.00', '18.63']) {
      await page.keyboard.type(typed);
      if (typed !== '18.63') await page.keyboard.press('Enter');
    }
    const beyond = page.getByLabel(words.cell.buretteToMl(1), { exact: true });
    await page.getByText('The scale of B-0025 ends at 25 mL.').first().waitFor();
    expect(await beyond.getAttribute('aria-invalid')).toBe('true');
    await beyond.fill('18.64');
    const result = page.getByRole('region', { name: words.result });
    // A row that cannot be read says so at its cell; the others go on counting.
    const third = page.getByLabel(words.cell.buretteToMl(3), { exact: true });
    await third.fill('18,,6');
    await result.getByText(words.leftOut([3])).waitFor();
    await expect.poll(async () => third.getAttribute('aria-invalid'), PATIENT).toBe('true');
    await third.fill('18.63');
    // Enter on the button of a row does what the button says.
    await button(page, words.add).click();
    await page.getByRole('button', { name: words.remove(4) }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: words.remove(4) }).waitFor({ state: 'detached' });
    // What was taken away comes back.
    await page.getByRole('button', { name: words.remove(2) }).click();
    await page.getByText(words.removed(2)).waitFor();
    await button(page, keepText.undo).click();
    await button(page, keepText.startAgain).click();
    await page.getByText(keepText.emptied).waitFor();
    await button(page, keepText.undo).click();
    // Eurachem CG 4, A2: 0.3888 g by 18.64 mL, 0.1021 mol/L; the other two are invented beside it.
    await expect.poll(async () => result.innerText(), PATIENT).toContain('0.102');
    await page
      .getByRole('button', { name: /^0\.102/ })
      .first()
      .click();
    await page.getByText('result of titration 1').first().waitFor();
    expect(await barriersButContrast(page)).toEqual([]);
    expect(await sidewaysPx(page)).toBe(0);

    await button(page, keepText.keep).click();
    await page.getByRole('heading', { level: 1, name: words.proposedTitle('Sodium hydroxide') }).waitFor();
    const done = page.getByRole('region', { name: recordText.titrations.title });
    expect(await done.getByRole('row').nth(1).innerText()).toMatch(/0\.3888\s+0\.00\s+18\.64\s+18\.64\s+0\.102/);
    const { items } = await logbook.get<{ items: PreparationListItem[] }>('/api/preparations?search=hydroxide');
    expect(items[0]?.value).toBeCloseTo(0.1021, 3);
  });
});
