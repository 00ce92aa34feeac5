/** Whoever teaches: from a template to a class that weighed, what its numbers say, and the end. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { actText, foreseeText, foundText } from '../../web/messages/en-class.ts';
import { enterText, planText, runText, teachingText } from '../../web/messages/en-teaching.ts';
import { numbersText } from '../../web/messages/en-numbers.ts';
import { text } from '../../web/messages/en.ts';
import { it, PATIENT } from './browser-test.ts';

const button = (page: Page | Locator, name: string): Locator => page.getByRole('button', { name, exact: true });
const heading = (page: Page, name: string): Promise<void> => page.getByRole('heading', { level: 1, name }).waitFor();

describe('a plan', () => {
  it('says when it is too long for the lesson, and takes fewer trials', async ({ visit }) => {
    const page = await visit('/class/new/four-ways');
    await page.getByText(planText.weighings(192)).waitFor();
    await page.getByLabel(planText.expectedGroups).fill('24');
    await page.getByText(planText.tooLong).waitFor();
    await button(page, planText.takeProposal).click();
    await page.getByText(planText.tooLong).waitFor({ state: 'detached' });
    const trials = page.getByLabel(planText.trials);
    expect(await trials.evaluateAll((all) => all.map((one) => (one as HTMLInputElement).value))).toEqual(
      // 24 groups × 2 trials × 4 rows × 2 weighings × 30 s ÷ 4 balances is 48 min; one trial each is 24 min.
      ['1', '1', '1', '1'],
    );
  });

  it('keeps what was typed where a number cannot be read or a tag is not in the register', async ({ visit }) => {
    const page = await visit('/class/new/one-flask-many-hands');
    await page.getByLabel(planText.nominal).fill('hundred');
    await page.getByText(planText.more).click();
    await page.getByRole('textbox', { name: planText.vessels }).fill('NO-SUCH-1');
    await button(page, planText.save).click();
    await page.getByRole('alert').waitFor();
    await page.getByText(planText.vesselUnknown('NO-SUCH-1')).first().waitFor();
    expect(await page.getByLabel(planText.nominal).inputValue()).toBe('hundred');
    // A time would be that of another plan.
    await page.getByText(planText.foresightWaiting).waitFor();
    // Of several rows the summary says which; it grows shorter while its fields are put right.
    const lines = page.getByRole('alert').getByRole('listitem');
    const flask = await page.getByLabel(planText.label).inputValue();
    await lines.filter({ hasText: `${planText.ofRow(planText.nominal, flask)}: ` }).waitFor();
    const before = await lines.count();
    await page.getByLabel(planText.nominal).fill('50');
    await expect.poll(() => lines.count(), PATIENT).toBe(before - 1);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('rows/0/nominalVolumeMl');

    // The draft is there after a reload and after a look elsewhere, until the template is asked for.
    await page.reload();
    await page.getByText(planText.draftBack).waitFor();
    expect(await page.getByLabel(planText.nominal).inputValue()).toBe('50');
    await page.getByRole('link', { name: teachingText.within }).first().click();
    await page.getByRole('link', { name: /^One flask, many hands/ }).click();
    await page.getByText(planText.draftBack).waitFor();
    await button(page, planText.backToTemplate).click();
    expect(await page.getByLabel(planText.nominal).inputValue()).toBe('100');
    await page.reload();
    await heading(page, planText.newTitle);
    expect(await page.getByText(planText.draftBack).count()).toBe(0);
  });
});

describe('an experiment', () => {
  it('is opened, weighed for all at one balance, read, ended and erased', async ({ logbook, visit }) => {
    visit.mayBeRefused(404);
    const page = await visit('/class');
    await page.getByRole('link', { name: /^One flask, many hands/ }).click();
    await heading(page, planText.newTitle);
    await button(page, planText.save).click();
    await heading(page, 'One flask, many hands');
    await button(page, runText.open).click();
    await button(page.getByRole('dialog', { name: runText.openTitle }), runText.open).click();
    await page.getByText(runText.code, { exact: true }).waitFor();
    await page.getByText(runText.addGroups).click();
    await page.getByLabel(runText.addGroupsCount).fill('2');
    await button(page, runText.addGroupsAct).click();
    await expect.poll(() => page.getByRole('row').filter({ hasText: runText.newWord }).count(), PATIENT).toBe(2);

    await page.getByRole('link', { name: runText.enter }).click();
    // The table below comes late; whoever types on is not called back for it.
    await page.route('**/api/experiments/*/groups/*', async (route) => {
      await new Promise((resolve) => setTimeout(resolve, 500));
      await route.continue();
    });
    const field = (name: string) => page.getByRole('textbox', { name: new RegExp(`^${name}`) });
    // The second group, with its prediction from the sheet.
    const second = await page.getByLabel(enterText.group).locator('option').nth(1).getAttribute('value');
    await page.getByLabel(enterText.group).selectOption(second ?? '');
    await page.getByRole('textbox', { name: foreseeText.volume }).fill('100,1');
    const within = page.getByRole('textbox', { name: foreseeText.within });
    if ((await within.count()) > 0) await within.fill('0,2');
    const sure = page.getByRole('radio', { name: 'Fairly sure' });
    if ((await sure.count()) > 0) await sure.check();
    await button(page, foreseeText.save).click();
    await page.getByText(enterText.expected).waitFor();
    for (const [index, filled] of ['160,84', '160.86', '160.83'].entries()) {
      await field(enterText.empty).fill('61.20');
      await field(enterText.filled).fill(filled);
      await field(enterText.water).fill('21.3');
      await page.keyboard.press('Enter');
      await page.getByText(new RegExp(`^Trial ${index + 1} saved`)).waitFor();
      await field(enterText.filled).focus();
      await expect.poll(() => page.getByRole('row').count(), PATIENT).toBe(index + 2);
      await page.waitForTimeout(100);
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('filledG');
    }
    // A reading that cannot be so is asked about at its field, and nothing says any more that a trial was saved.
    visit.mayBeRefused(422);
    await field(enterText.empty).fill('61.20');
    await field(enterText.filled).fill('260.8');
    await button(page, enterText.save).click();
    await page.getByRole('alert').waitFor();
    await expect.poll(() => page.evaluate(() => document.activeElement?.id), PATIENT).toBe('filledG');
    expect(await page.getByText(/^Trial \d saved/).count()).toBe(0);
    await field(enterText.filled).fill('160.9');
    await expect.poll(() => page.getByRole('alert').count(), PATIENT).toBe(0);
    // A reload forgets neither the group nor what is half typed.
    await page.reload();
    await heading(page, enterText.title);
    expect(await page.getByLabel(enterText.group).inputValue()).toBe(second);
    expect(await field(enterText.filled).inputValue()).toBe('160.9');
    await button(page, enterText.changeTrial(3)).click();
    await button(page, foundText.correct).click();
    const slip = page.getByRole('dialog', { name: actText.correctTitle(3) });
    await slip.getByLabel(actText.value).fill('160.85');
    await slip.getByLabel(actText.reason).fill('a 3 for a 5');
    await button(slip, actText.correct).click();
    await page.getByText(/160\.83 became 160\.85/).waitFor();
    await button(page, foundText.leaveOut).click();
    const leftOut = page.getByRole('dialog', { name: actText.leaveOutTitle(3) });
    await leftOut.getByRole('radio', { name: actText.causes.spill }).check();
    await button(leftOut, actText.leaveOut).click();
    await page.getByText(enterText.excluded, { exact: true }).waitFor();
    await button(page, foundText.countAgain).click();
    await page.getByText(enterText.excluded, { exact: true }).waitFor({ state: 'detached' });

    await page.getByRole('link', { name: 'One flask, many hands' }).click();
    await page.getByRole('link', { name: runText.numbers }).click();
    await heading(page, numbersText.title);
    await page.getByRole('heading', { name: numbersText.limits }).waitFor();
    await page.getByRole('definition').filter({ hasText: numbersText.biasSub }).getByRole('button').click();
    await page.getByText('bias, the measure of trueness').first().waitFor();

    await page.getByRole('link', { name: 'One flask, many hands' }).click();
    await button(page, runText.end).click();
    const end = page.getByRole('dialog', { name: runText.endTitle });
    await end.getByText(/3 trials/).waitFor();
    await button(end, runText.endAct).click();
    await page.getByText(runText.hashHolds).waitFor();
    await button(page, runText.erase).click();
    await button(page.getByRole('dialog', { name: runText.eraseTitle }), runText.eraseAct).click();
    await heading(page, teachingText.title);
    const { items } = await logbook.get<{ items: unknown[] }>('/api/experiments');
    expect(items).toEqual([]);
    expect(await page.getByText(text.shell.failedTitle).count()).toBe(0);
  });
});
