/** A class on its phones: coming in, foreseeing, weighing, slips, lost connections. */
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { text } from '../../web/messages/en.ts';
import {
  actText,
  assistText,
  benchText,
  cautionText,
  entryText,
  foreseeText,
  foundText,
  joinText,
  welcomeText,
} from '../../web/messages/en-class.ts';
import { cellsOf, expectRefused, pressEnter } from './at-the-bench.ts';
import { it, PATIENT, settled } from './browser-test.ts';
import {
  comeIn,
  dataOf,
  enterTrials,
  fieldsOf,
  foresee,
  openLesson,
  phoneAt,
  said,
  tickCautions,
  trialLine,
  weigh,
} from './class-room.ts';
import { barriers, movingParts, sidewaysPx, smallTargets } from './looks.ts';

const FLASK = /Volumetric flask/;

describe('a phone that comes in', () => {
  it('types the code as it likes, gets a name and a word, and ticks the cautions off before anything else', async ({
    logbook,
    visit,
  }) => {
    const { code } = await openLesson(logbook);
    const page = await visit(`${logbook.classAddress}/`, { width: 320, height: 640 });
    await page.getByRole('button', { name: joinText.join }).click();
    const field = page.getByRole('textbox', { name: joinText.code });
    await expectRefused(field, joinText.codeMissing, '');
    await field.fill(` ${code.slice(0, 3).toUpperCase()} ${code.slice(3)} `);
    await page.getByRole('button', { name: joinText.join }).click();
    await page.getByText(welcomeText.why).waitFor();
    // A reload before the word is written down does not lose it.
    await page.reload();
    await page.getByRole('button', { name: welcomeText.written }).click();
    await page.getByText('Broken glass goes into the blue bin by the door.').waitFor();
    await page.getByRole('button', { name: cautionText.done }).click();
    await page.getByText(cautionText.missing).waitFor();
    await tickCautions(page);
    await page.getByRole('heading', { name: foreseeText.title }).waitFor();
  });

  it('hears the same of a wrong code and of one that ended', async ({ logbook, visit }) => {
    const lesson = await openLesson(logbook);
    await logbook.post(`/api/experiments/${lesson.id}/closing`, {});
    const page = await visit(`${logbook.classAddress}/join`, { width: 320 });
    visit.mayBeRefused(403);
    const sentences: string[] = [];
    for (const code of ['zzzzzz', lesson.code]) {
      await page.getByRole('textbox', { name: joinText.code }).fill(code);
      const answer = page.waitForResponse('**/api/class/join');
      await page.getByRole('button', { name: joinText.join }).click();
      await (await answer).finished();
      sentences.push(await page.getByRole('alert').innerText());
    }
    expect(sentences[1]).toBe(sentences[0]);
  });

  it('leaves no code in its address, and is not made another group by coming by again', async ({ logbook, visit }) => {
    const lesson = await openLesson(logbook);
    const { page, name } = await comeIn(visit, lesson);
    await page.getByRole('button', { name: welcomeText.written }).click();
    await page.goto(lesson.address);
    await page.getByRole('button', { name: joinText.goOn }).waitFor();
    expect(page.url()).toBe(`${logbook.classAddress}/join`);
    await page.getByRole('button', { name: joinText.goOn }).click();
    await page.getByText(name, { exact: true }).waitFor();
    expect((await dataOf(logbook, lesson)).groups).toHaveLength(1);
  });
});

describe('two groups side by side', () => {
  it('foresee and weigh, each its own; the readings arrive as typed, a comma as a point', async ({
    logbook,
    visit,
  }) => {
    const lesson = await openLesson(logbook);
    const [first, second] = [await phoneAt(visit, lesson, FLASK), await phoneAt(visit, lesson, FLASK)];
    await foresee(first, '25,0', '0,1');
    await foresee(second, '24.9', '0.05');
    // What was said goes, and the cursor is where the first reading belongs.
    await expect.poll(() => first.evaluate(() => document.activeElement?.id), PATIENT).toBe('emptyG');
    await first.keyboard.type('61,2034');
    await pressEnter(first);
    await first.keyboard.type('86.0871');
    await pressEnter(first);
    await first.keyboard.type('21.3');
    await pressEnter(first);
    await said(first, 1);
    await weigh(second, '61.2034', '86.1123');
    await said(second, 1);

    const data = await dataOf(logbook, lesson);
    const byGroup = (a: { group: number }, b: { group: number }) => a.group - b.group;
    const [predictions, trials] = [data.predictions.toSorted(byGroup), data.trials.toSorted(byGroup)];
    expect(predictions.map(({ group, volumeMl, withinMl }) => [group, volumeMl, withinMl])).toEqual([
      [1, '25.0', '0.1'],
      [2, '24.9', '0.05'],
    ]);
    expect(
      trials.map(({ group, row, emptyG, filledG, waterTemperatureC, entered }) => ({
        ...{ group, row, emptyG, filledG, waterTemperatureC, entered },
      })),
    ).toEqual([
      { group: 1, row: 'flask', emptyG: '61.2034', filledG: '86.0871', waterTemperatureC: '21.3', entered: 'phone' },
      { group: 2, row: 'flask', emptyG: '61.2034', filledG: '86.1123', waterTemperatureC: '21.3', entered: 'phone' },
    ]);
    // Simple is grams taken for millilitres: 86.0871 − 61.2034.
    expect((await cellsOf(trialLine(first, 1)))[0]).toBe('24.8837');
    expect((await cellsOf(trialLine(second, 1)))[0]).toBe('24.9089');
    await first.getByText('(25.0 ± 0.1) mL').waitFor();
    expect(await first.getByText(foundText.needsTwo).count()).toBe(1);
    expect(await first.getByRole('row').count()).toBe(2);
  });

  it('answer a question at its field, correct a slip, leave a trial out and take it back', async ({
    logbook,
    visit,
  }) => {
    const lesson = await openLesson(logbook);
    const page = await phoneAt(visit, lesson, FLASK);
    await foresee(page, '25', '0.1');
    visit.mayBeRefused(422);
    await weigh(page, '61.2034', '96.0871');
    await page.getByRole('checkbox', { name: entryText.really }).check();
    expect((await dataOf(logbook, lesson)).trials).toEqual([]);
    await fieldsOf(page).save.click();
    await said(page, 1);

    await page.getByRole('button', { name: foundText.open(1) }).click();
    await page.getByRole('button', { name: foundText.correct }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('button', { name: actText.correct }).click();
    await dialog.getByRole('link', { name: text.number.empty }).waitFor();
    await dialog.getByRole('textbox', { name: actText.value }).fill('86,0871');
    await dialog.getByRole('textbox', { name: actText.reason }).fill('a 9 for an 8');
    await dialog.getByRole('button', { name: actText.correct }).click();
    await page.getByText(/96\.0871 became 86\.0871/).waitFor();
    expect((await cellsOf(trialLine(page, 1)))[0]).toBe('24.8837');

    await page.getByRole('button', { name: foundText.leaveOut, exact: true }).click();
    await dialog.getByRole('radio', { name: actText.causes.spill }).check();
    await dialog.getByRole('button', { name: actText.leaveOut }).click();
    await page.getByRole('button', { name: foundText.countAgain }).waitFor();
    expect((await dataOf(logbook, lesson)).trials[0]?.excluded).toEqual({ cause: 'spill', reason: null });
    await page.getByRole('button', { name: foundText.countAgain }).click();
    await page.getByRole('button', { name: foundText.leaveOut, exact: true }).waitFor();
    expect((await dataOf(logbook, lesson)).trials[0]).toMatchObject({ filledG: '86.0871', excluded: null });
  });

  it('are refused at the field what cannot be a reading, and offered to swap two', async ({ logbook, visit }) => {
    const page = await phoneAt(visit, await openLesson(logbook), FLASK);
    await foresee(page, '25', '0.1');
    visit.mayBeRefused(422);
    const { empty, filled, water, save } = fieldsOf(page);
    await empty.fill('1.234,5');
    await save.click();
    await expectRefused(empty, text.number.bothMarks('1.234,5'), '1.234,5');
    await weigh(page, '86.0871', '61.2034', '');
    await expectRefused(water, entryText.waterMissing, '');
    await weigh(page, '86.0871', '61.2034');
    await page.getByRole('button', { name: entryText.swap }).click();
    expect([await empty.inputValue(), await filled.inputValue()]).toEqual(['61.2034', '86.0871']);
    await save.click();
    await said(page, 1);
  });
});

describe('nothing typed is lost', () => {
  it('by a reload', async ({ logbook, visit }) => {
    const lesson = await openLesson(logbook);
    const page = await phoneAt(visit, lesson, FLASK);
    await page.getByRole('textbox', { name: foreseeText.volume }).fill('24.9');
    await page.reload();
    await settled(page);
    expect(await page.getByRole('textbox', { name: foreseeText.volume }).inputValue()).toBe('24.9');
    await foresee(page, '24.9', '0.1');
    await fieldsOf(page).empty.fill('61.2034');
    await fieldsOf(page).filled.fill('86.0');
    await page.reload();
    await settled(page);
    expect(await fieldsOf(page).empty.inputValue()).toBe('61.2034');
    expect(await fieldsOf(page).filled.inputValue()).toBe('86.0');
    expect((await dataOf(logbook, lesson)).trials).toEqual([]);
  });

  it('by a server that goes away: it waits in sight, through a reload too, and is recorded once', async ({
    logbook,
    visit,
  }) => {
    const lesson = await openLesson(logbook);
    const page = await phoneAt(visit, lesson, FLASK);
    await foresee(page, '25', '0.1');
    await fieldsOf(page).empty.waitFor();
    visit.mayLoseServer();
    await logbook.stop('SIGKILL');
    await weigh(page, '61.2034', '86.0871');
    await page.getByText(benchText.unsent(1)).waitFor();
    await page.getByText(benchText.offline).waitFor();
    await weigh(page, '61.2034', '86.0872');
    await page.getByText(benchText.unsent(2)).waitFor();
    await logbook.start();
    await page.reload();
    await settled(page);
    await expect.poll(() => page.getByText(/not sent yet/).count(), PATIENT).toBe(0);
    const { trials } = await dataOf(logbook, lesson);
    expect(trials.map(({ number, filledG }) => [number, filledG])).toEqual([
      [1, '86.0871'],
      [2, '86.0872'],
    ]);
  });

  it('nor recorded twice, where the server had it and its answer was lost', async ({ logbook, visit }) => {
    const lesson = await openLesson(logbook);
    const page = await phoneAt(visit, lesson, FLASK);
    await foresee(page, '25', '0.1');
    await fieldsOf(page).empty.waitFor();
    visit.mayLoseServer();
    await page.route('**/trials', async (route) => {
      await route.fetch();
      await route.abort('connectionreset');
    });
    await weigh(page, '61.2034', '86.0871');
    await page.getByText(benchText.unsent(1)).waitFor();
    await page.unroute('**/trials');
    await expect.poll(() => page.getByText(/not sent yet/).count(), PATIENT).toBe(0);
    expect((await dataOf(logbook, lesson)).trials).toHaveLength(1);
    await trialLine(page, 1).waitFor();
  });
});

it('an assistant enters for one group after another; nothing typed for one lands in another, nothing is lost', async ({
  logbook,
  visit,
}) => {
  const lesson = await openLesson(logbook);
  await enterTrials(logbook, lesson, 'flask', ['86.0871']);
  const page = await visit(`${logbook.classAddress}/assist`, { width: 820, height: 1180, hasTouch: true });
  const toList = () => page.getByRole('button', { name: assistText.allGroups }).first().click();
  const groups = page.getByRole('button', { name: /of 12 trials/ });
  await page.getByRole('textbox', { name: assistText.code }).fill(lesson.assistantCode.toUpperCase());
  await page.getByRole('button', { name: assistText.comeIn }).click();
  await tickCautions(page);
  await groups.filter({ hasText: '1 of 12' }).waitFor();
  await page.getByRole('button', { name: assistText.newGroup }).click();
  await page.getByRole('button', { name: FLASK }).click();
  await foresee(page, '25', '0.1');
  await fieldsOf(page).empty.fill('61.2034');
  await toList();
  await groups.filter({ hasText: assistText.begun }).waitFor();
  await groups.filter({ hasText: '1 of 12' }).click();
  await page.getByRole('button', { name: FLASK }).click();
  expect(await fieldsOf(page).empty.inputValue()).toBe('');
  await weigh(page, '61.2034', '86.0872');
  await said(page, 2);
  await fieldsOf(page).filled.fill('86.08');
  await page.reload();
  await settled(page);
  expect(await fieldsOf(page).filled.inputValue()).toBe('86.08');
  await page.goBack();
  await groups.filter({ hasText: '0 of 12' }).click();
  expect(await fieldsOf(page).empty.inputValue()).toBe('61.2034');

  visit.mayLoseServer();
  await logbook.stop('SIGKILL');
  await weigh(page, '61.2034', '86.0873');
  await page.getByText(entryText.kept).waitFor();
  await toList();
  await groups.filter({ hasText: benchText.unsent(1) }).waitFor();
  await logbook.start();
  await expect.poll(() => page.getByText(/not sent yet/).count(), PATIENT).toBe(0);
  const { trials } = await dataOf(logbook, lesson);
  const byGroup = trials.toSorted((a, b) => a.group - b.group).map(({ group, filledG }) => [group, filledG]);
  expect(byGroup).toEqual([
    [1, '86.0871'],
    [1, '86.0872'],
    [2, '86.0873'],
  ]);
});

describe('on a phone of 320 px', () => {
  const look = async (page: Page): Promise<void> => {
    expect(await barriers(page)).toEqual([]);
    expect(await sidewaysPx(page)).toBe(0);
    expect(await smallTargets(page, 24)).toEqual([]);
    expect(await movingParts(page)).toEqual([]);
  };

  it.for(['light', 'dark'] as const)(
    'every screen is without barriers, sideways scroll and motion: %s',
    async (scheme, { logbook, visit }) => {
      const lesson = await openLesson(logbook);
      const page = await visit(lesson.address, {
        width: 320,
        height: 640,
        colorScheme: scheme,
        reducedMotion: 'reduce',
      });
      await look(page);
      await page.getByRole('button', { name: joinText.join }).click();
      await page.getByRole('button', { name: welcomeText.written }).waitFor();
      await look(page);
      await page.getByRole('button', { name: welcomeText.written }).click();
      await page.getByRole('button', { name: cautionText.done }).waitFor();
      await look(page);
      await tickCautions(page);
      await page.getByRole('button', { name: FLASK }).click();
      await look(page);
      await foresee(page, '25', '0.1');
      await weigh(page, '61.2034', '86.0871');
      await said(page, 1);
      await weigh(page, '61.2034', '86.0861');
      await said(page, 2);
      await page.getByRole('button', { name: foundText.open(1) }).click();
      await page.getByText(benchText.reading.title).click();
      await look(page);
      await page.getByRole('button', { name: foundText.correct }).click();
      await look(page);
    },
  );
});
