/** A solution from its formula to the day it is discarded, at one desk. */
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import type { Preparation, PreparationListItem } from '../../server/solutions/contract-record.ts';
import { chooseText, seriesText } from '../../web/messages/en-choose.ts';
import { text } from '../../web/messages/en.ts';
import {
  dilutionText,
  keepText,
  recordText,
  resultText,
  shelfText,
  solidText,
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
    await button(page, seriesText.carryOver).click();

    await page.getByRole('heading', { level: 1, name: dilutionText.title }).waitFor();
    await button(page, keepText.keep).click();
    await page.getByRole('heading', { level: 1, name: 'Iron 10 mg/L' }).waitFor();
    const { items } = await logbook.get<{ items: PreparationListItem[] }>('/api/preparations?search=Iron');
    // 100 mg/L, 10 mL in 100 mL.
    expect(items[0]?.value).toBeCloseTo(10, 1);
  });
});
