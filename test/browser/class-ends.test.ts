/** A class on its phones: one that comes back on another phone, the end of the lesson, and the erasing of its data. */
import { expect } from 'vitest';
import { boardText } from '../../web/messages/en-board.ts';
import { assistText, endText, eraseText, joinText } from '../../web/messages/en-class.ts';
import { expectRefused } from './at-the-bench.ts';
import { it } from './browser-test.ts';
import {
  dataOf,
  fieldsOf,
  foresee,
  groupAt,
  openLesson,
  phoneAt,
  said,
  tickCautions,
  trialLine,
  weigh,
} from './class-room.ts';

const FLASK = /Volumetric flask/;

it('comes back on another phone with its word, and finds what it measured', async ({ logbook, visit }) => {
  const lesson = await openLesson(logbook);
  const { page, word, name } = await groupAt(visit, lesson, FLASK);
  await foresee(page, '25', '0.1');
  await weigh(page, '61.2034', '86.0871');
  await said(page, 1);

  const other = await visit(`${logbook.classAddress}/join`, { width: 320, height: 640 });
  await other.getByRole('button', { name: joinText.back }).click();
  await other.getByRole('textbox', { name: joinText.code }).fill(lesson.code);
  const field = other.getByRole('textbox', { name: joinText.word });
  visit.mayBeRefused(403);
  await field.fill('wrong');
  await other.getByRole('button', { name: joinText.comeBack }).click();
  await expectRefused(field, /No group of an open experiment/, 'wrong');
  await field.fill(` ${word.toUpperCase()}`);
  await other.getByRole('button', { name: joinText.comeBack }).click();
  await other.getByText(name, { exact: true }).first().waitFor();
  await tickCautions(other);
  await other.getByRole('button', { name: FLASK }).click();
  await trialLine(other, 1).waitFor();
  expect((await dataOf(logbook, lesson)).groups).toHaveLength(1);
});

it('says so when the lesson is closed, and shows what the group measured, also after a reload', async ({
  logbook,
  visit,
}) => {
  const lesson = await openLesson(logbook);
  const page = await phoneAt(visit, lesson, FLASK);
  await foresee(page, '25', '0.1');
  await weigh(page, '61.2034', '86.0871');
  await said(page, 1);
  visit.mayBeRefused(401);
  await logbook.post(`/api/experiments/${lesson.id}/closing`, {});
  await page.getByRole('heading', { name: endText.title }).waitFor();
  await page.reload();
  await page.getByRole('heading', { name: endText.title }).waitFor();
  await page.getByText('24.8837').waitFor();
  await page.getByRole('button', { name: endText.forget }).click();
  await page.getByRole('textbox', { name: joinText.code }).waitFor();
  expect(await page.evaluate(() => localStorage.length)).toBe(0);
});

it('says that the data were erased, keeps only what never reached the class, and asks for nothing any more', async ({
  logbook,
  visit,
}) => {
  const lesson = await openLesson(logbook);
  const { page, word, name } = await groupAt(visit, lesson, FLASK);
  await foresee(page, '25', '0.1');
  await weigh(page, '61.2034', '86.0871');
  await said(page, 1);
  await fieldsOf(page).empty.fill('61.9999');
  const board = await visit(`/board?experiment=${lesson.id}`);
  await board.getByRole('region', { name: FLASK }).waitFor();
  const desk = await visit(`${logbook.classAddress}/assist`);
  await desk.getByRole('textbox', { name: assistText.code }).fill(lesson.assistantCode);
  await desk.getByRole('button', { name: assistText.comeIn }).click();
  visit.mayBeRefused(401);
  visit.mayBeRefused(404);
  visit.mayBeRefused(409);
  await logbook.post(`/api/experiments/${lesson.id}/closing`, {});
  await page.getByRole('heading', { name: endText.title }).waitFor();
  await board.getByText(boardText.closed).waitFor();
  await logbook.post(`/api/experiments/${lesson.id}/erasure`, { groups: 1, predictions: 1, trials: 1 });

  await page.getByRole('heading', { name: eraseText.title }).waitFor();
  await page.getByText(eraseText.left(1)).waitFor();
  await page.getByText(/61\.9999/).waitFor();
  expect(await page.getByText('24.8837').count()).toBe(0);
  const kept = await page.evaluate(() => JSON.stringify(localStorage));
  for (const gone of ['86.0871', word, name]) expect(kept).not.toContain(gone);
  await board.getByText(boardText.erased).waitFor();
  expect(await board.getByRole('region', { name: FLASK }).count()).toBe(0);
  await desk.getByText(eraseText.title).waitFor();
  const asked: string[] = [];
  for (const one of [page, board, desk]) one.on('request', (request) => asked.push(request.url()));
  await page.waitForTimeout(6_000);
  expect(asked).toEqual([]);

  await page.reload();
  await page.getByText(/61\.9999/).waitFor();
  await page.getByRole('button', { name: eraseText.clear }).click();
  await page.getByRole('textbox', { name: joinText.code }).waitFor();
  expect(await page.evaluate(() => localStorage.length)).toBe(0);
  expect(await desk.evaluate(() => localStorage.length)).toBe(0);
});
