/** The board before the class: it grows by itself, equals the database after any drop, and one tab holds the stream. */
import type { Page, Request } from 'playwright-core';
import { describe, expect } from 'vitest';
import { boardText } from '../../web/messages/en-board.ts';
import { it, PATIENT } from './browser-test.ts';
import { boardOf, enterTrials, type Lesson, openLesson } from './class-room.ts';
import { barriers, sidewaysPx, smallTargets } from './looks.ts';
import type { ServedLogbook } from './served-logbook.ts';

const PROJECTOR = { width: 1920, height: 1080 };
const ROW = { flask: /^Volumetric flask/, beaker: /^Beaker/ };

/** Volumes of the board's table, all groups and rows, as text. */
async function volumesShown(page: Page): Promise<string[]> {
  const cells = await page
    .locator('.board-table tbody tr')
    .evaluateAll((rows) => rows.map((row) => row.querySelectorAll('td')[1]?.textContent ?? ''));
  return cells.flatMap((cell) => cell.split(' · '));
}

/** The volumes that stand in the database, to the digits of the table; the server computes them, the page only rounds. */
async function expectEqualToDatabase(page: Page, logbook: ServedLogbook, lesson: Lesson): Promise<void> {
  await expect
    .poll(async () => {
      const { trials } = await boardOf(logbook, lesson);
      const shown = await volumesShown(page);
      const isThere = trials.every(({ volumeMl }) =>
        shown.some((one) => Math.abs(Number(one) - volumeMl) <= 0.5 * 10 ** -(one.split('.')[1]?.length ?? 0) + 1e-9),
      );
      return { count: shown.filter(Boolean).length === trials.length, isThere };
    }, PATIENT)
    .toEqual({ count: true, isThere: true });
}

const openTable = async (page: Page): Promise<void> => page.getByText(boardText.asTable).click();
const figures = async (page: Page, row: RegExp): Promise<string> =>
  (await page.getByRole('region', { name: row }).locator('dl').innerText()).replaceAll(/\s+/g, ' ');

describe('a projector', () => {
  it('opens the board with its code, typed once, and sees it grow', async ({ logbook, visit }) => {
    const lesson = await openLesson(logbook);
    const page = await visit(`${logbook.classAddress}/board`, PROJECTOR);
    await page.getByRole('textbox', { name: boardText.code }).fill(lesson.boardCode.toUpperCase());
    await page.getByRole('button', { name: boardText.open }).click();
    await page.getByText(boardText.empty).waitFor();
    await openTable(page);
    await enterTrials(logbook, lesson, 'flask', ['86.0871']);
    await expect.poll(() => figures(page, ROW.flask), PATIENT).toContain(`n 1`);
    expect(await figures(page, ROW.flask)).toContain(`spread ${boardText.needsTwo}`);
    await enterTrials(logbook, lesson, 'flask', ['86.0971', '86.1071']);
    await expect.poll(() => figures(page, ROW.flask), PATIENT).toContain('n 3');
    expect(await figures(page, ROW.beaker)).toContain('n 0');
    await expectEqualToDatabase(page, logbook, lesson);
    await page.reload();
    await page.getByRole('region', { name: ROW.flask }).waitFor();
    // Three equal steps of 0.0100 g, in the simple view of a gram for a millilitre: mean 24.8937 mL, s = 0.0100 mL.
    await page.getByText(boardText.simple, { exact: true }).click();
    await expect.poll(() => figures(page, ROW.flask), PATIENT).toBe('n 3 bias −0.106 mL spread 0.010 mL');
  });

  it('says since when it may be old, and is equal to the database after every drop', async ({ logbook, visit }) => {
    const lesson = await openLesson(logbook);
    const page = await visit(`/board?experiment=${lesson.id}`, PROJECTOR);
    await openTable(page);
    visit.mayLoseServer();
    for (const filled of ['86.0871', '86.0971', '86.1071']) {
      await enterTrials(logbook, lesson, 'flask', [filled]);
      await logbook.stop('SIGKILL');
      await page.getByText(/^Connection lost, showing the state of \d\d:\d\d$/).waitFor();
      await logbook.start();
      await enterTrials(logbook, lesson, 'pipette', [filled]);
      await expectEqualToDatabase(page, logbook, lesson);
      await expect.poll(() => page.getByText(/^Connection lost/).count(), PATIENT).toBe(0);
    }
  });

  it('hears of the end, and shows how it ended', async ({ logbook, visit }) => {
    const lesson = await openLesson(logbook);
    await enterTrials(logbook, lesson, 'flask', ['86.0871']);
    const page = await visit(`/board?experiment=${lesson.id}`, PROJECTOR);
    // A stream asked for in the same moment is refused.
    visit.mayBeRefused(409);
    await logbook.post(`/api/experiments/${lesson.id}/closing`, {});
    await page.getByText(boardText.closed).waitFor();
    expect(await figures(page, ROW.flask)).toContain('n 1');
  });
});

it('holds one stream for all tabs of a browser; another tab takes it up when that one closes', async ({
  logbook,
  visit,
}) => {
  const lesson = await openLesson(logbook);
  const first = await visit(`/board?experiment=${lesson.id}`, PROJECTOR);
  const open = new Set<Request>();
  const isStream = (request: Request) => request.url().endsWith('/board/stream');
  first.context().on('request', (request) => isStream(request) && open.add(request));
  first.context().on('requestfailed', (request) => open.delete(request));
  first.context().on('requestfinished', (request) => open.delete(request));
  await first.reload();
  const pages = [first];
  while (pages.length < 7) pages.push(await visit(`/board?experiment=${lesson.id}`, { beside: first }));
  await enterTrials(logbook, lesson, 'flask', ['86.0871']);
  for (const page of pages) await expect.poll(() => figures(page, ROW.flask), PATIENT).toContain('n 1');
  expect([...open].map((request) => pages.indexOf(request.frame().page()))).toEqual([0]);

  await first.close();
  await enterTrials(logbook, lesson, 'flask', ['86.0971']);
  for (const page of pages.slice(1)) await expect.poll(() => figures(page, ROW.flask), PATIENT).toContain('n 2');
  // A page that is closed tells of no request any more.
  const alive = () => [...open].filter((request) => !request.frame().page().isClosed());
  await expect.poll(() => alive().length, PATIENT).toBe(1);
});

describe('what the board shows', () => {
  const filledGrams = Array.from({ length: 5 }, (_, index) => (86.08 + 0.01 * index).toFixed(4));

  it('names of groups only while they are shown; a row for each group, and how each ware was weighed', async ({
    logbook,
    visit,
  }) => {
    const lesson = await openLesson(logbook);
    await enterTrials(logbook, lesson, 'flask', filledGrams);
    await enterTrials(logbook, lesson, 'pipette', filledGrams);
    const page = await visit(`/board?experiment=${lesson.id}`, PROJECTOR);
    await page.getByRole('region', { name: ROW.flask }).getByText(boardText.bases.contain).waitFor();
    await page
      .getByRole('region', { name: /^One-mark pipette/ })
      .getByText(boardText.bases.deliver)
      .waitFor();
    const [group] = (await boardOf(logbook, lesson)).groups;
    await page.getByText(boardText.byGroup, { exact: true }).click();
    await page.getByRole('region', { name: group?.name ?? '' }).waitFor();
    await page.getByRole('checkbox', { name: boardText.names }).uncheck();
    await page.getByRole('region', { name: 'Group 1' }).waitFor();
    await openTable(page);
    expect(await page.getByText(group?.name ?? '').count()).toBe(0);
    await page.getByRole('checkbox', { name: boardText.names }).check();
    const { version } = await logbook.get<{ version: number }>(`/api/experiments/${lesson.id}`);
    await logbook.send('PATCH', `/api/experiments/${lesson.id}`, { namesHidden: true }, version);
    await page.getByRole('region', { name: 'Group 1' }).waitFor();
    await expect.poll(() => page.getByText(group?.name ?? '').count(), PATIENT).toBe(0);
  });

  it('in a size the last row of seats can read, without barriers, on every screen', async ({ logbook, visit }) => {
    const lesson = await openLesson(logbook);
    for (let group = 0; group < 12; group += 1) await enterTrials(logbook, lesson, 'flask', filledGrams);
    for (const look of [PROJECTOR, { width: 820, height: 1100, colorScheme: 'dark' as const }, { width: 320 }]) {
      const page = await visit(`/board?experiment=${lesson.id}`, look);
      const sizes = await page
        .locator('.board-figures dd')
        .evaluateAll((all) => all.map((one) => Number.parseFloat(getComputedStyle(one).fontSize)));
      expect(Math.min(...sizes)).toBeGreaterThanOrEqual(look.width === 1920 ? 28 : 18);
      for (const rows of [boardText.byWare, boardText.byGroup]) {
        await page.getByText(rows, { exact: true }).click();
        expect(await sidewaysPx(page)).toBe(0);
        expect(await barriers(page)).toEqual([]);
        expect(await smallTargets(page, 24)).toEqual([]);
      }
      await page.close();
    }
  });

  it('a made-up class is marked as made up', async ({ logbook, visit }) => {
    const { id } = await openLesson(logbook);
    const made = await logbook.post(`/api/experiments/${id}/rehearsal`, { groups: 4, seed: 3 });
    const page = await visit(`/board?experiment=${String(made['id'])}`, PROJECTOR);
    await page.getByText(boardText.madeUpWhat).waitFor();
    expect(await sidewaysPx(page)).toBe(0);
    // Four rows with their numbers, the axis and the key of the marks are in sight at once, on both axes.
    for (const axis of [boardText.millilitres, boardText.relative]) {
      await page.getByText(axis, { exact: true }).first().click();
      const lowest = () =>
        page
          .locator('.board-foot, .board-key, .board-steps')
          .evaluateAll((all) => Math.max(...all.map((one) => one.getBoundingClientRect().bottom)));
      await expect.poll(lowest, PATIENT).toBeLessThanOrEqual(1080);
      const covered = await page.evaluate(() => {
        const figures = [...document.querySelectorAll('.board-figures')].at(-1)?.getBoundingClientRect().bottom ?? 0;
        return figures - (document.querySelector('.board-foot')?.getBoundingClientRect().top ?? 0);
      });
      expect(covered).toBeLessThanOrEqual(0);
    }
  });
});
