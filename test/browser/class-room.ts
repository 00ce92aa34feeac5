/** What the tests of a class do again and again: a lesson that is open, phones that come in, readings typed. All invented. */
import type { Page } from 'playwright-core';
import type { Board, ClassData } from '../../server/experiments/contract-class.ts';
import {
  benchText,
  cautionText,
  entryText,
  foreseeText,
  foundText,
  joinText,
  welcomeText,
} from '../../web/messages/en-class.ts';
import type { Visit } from './browser-test.ts';
import type { ServedLogbook } from './served-logbook.ts';

const PLAN = {
  template: 'four-ways',
  balances: [{ label: 'Balance 1', resolutionG: '0.0001' }],
  conditions: { airTemperatureC: '20', airPressureHpa: '1013.25', relativeHumidityPercent: '50' },
  cautionNote: 'Broken glass goes into the blue bin by the door.',
};
const PHONE = { width: 320, height: 640, hasTouch: true };

export interface Lesson {
  id: string;
  code: string;
  boardCode: string;
  assistantCode: string;
  /** Where the square code leads. */
  address: string;
}

export async function openLesson(logbook: ServedLogbook, facts: object = {}): Promise<Lesson> {
  const { id } = await logbook.post('/api/experiments', { ...PLAN, ...facts });
  await logbook.post(`/api/experiments/${String(id)}/opening`, {});
  const { code, boardCode, assistantCode, address } = await logbook.get<Record<string, string>>(
    `/api/experiments/${String(id)}/joining`,
  );
  return {
    ...{ id: String(id), code: code ?? '', address: address ?? '' },
    ...{ boardCode: boardCode ?? '', assistantCode: assistantCode ?? '' },
  };
}

/** Groups without a phone, with trials of one row; entered by whoever teaches. */
export async function enterTrials(logbook: ServedLogbook, lesson: Lesson, row: string, filled: string[]) {
  const url = `/api/experiments/${lesson.id}/groups`;
  const { items } = (await logbook.post(url, { count: 1 })) as { items: { id: string }[] };
  for (const filledG of filled)
    await logbook.post(`${url}/${items[0]?.id ?? ''}/trials`, {
      ...{ row, emptyG: '61.2034', filledG, waterTemperatureC: '21.3', confirm: ['volume'] },
    });
}

export const dataOf = (logbook: ServedLogbook, { id }: Lesson) => logbook.get<ClassData>(`/api/experiments/${id}/data`);
export const boardOf = async (logbook: ServedLogbook, { id }: Lesson) =>
  (await logbook.get<{ board: Board }>(`/api/experiments/${id}/board`)).board;

/** A phone that comes in by the square code. @returns its page and the word of its group, before it is written down */
export async function comeIn(visit: Visit, { address }: Lesson): Promise<{ page: Page; word: string; name: string }> {
  const page = await visit(address, PHONE);
  await page.getByRole('button', { name: joinText.join }).click();
  await page.getByRole('button', { name: welcomeText.written }).waitFor();
  const word = (await page.locator('.class-word-large > span').first().textContent()) ?? '';
  const heading = (await page.getByRole('heading', { level: 1 }).textContent()) ?? '';
  return { page, word, name: heading.replace(welcomeText.title(''), '') };
}

export async function tickCautions(page: Page): Promise<void> {
  await page.getByRole('button', { name: cautionText.done }).waitFor();
  for (const box of await page.getByRole('checkbox').all()) await box.check();
  await page.getByRole('button', { name: cautionText.done }).click();
}

/** A group at the bench, with this row of the experiment open, and what its phone told it of itself. */
export async function groupAt(visit: Visit, lesson: Lesson, row: RegExp) {
  const { page, word, name } = await comeIn(visit, lesson);
  await page.getByRole('button', { name: welcomeText.written }).click();
  await tickCautions(page);
  await page.getByRole('button', { name: row }).click();
  return { page, word, name };
}

export const phoneAt = async (visit: Visit, lesson: Lesson, row: RegExp): Promise<Page> =>
  (await groupAt(visit, lesson, row)).page;

/** Waits until the page says that this trial of the group is saved. */
export const said = (page: Page, number: number) => page.getByText(new RegExp(`^Trial ${number} is saved`)).waitFor();

/** The row of a saved trial. */
export const trialLine = (page: Page, number: number) =>
  page.getByRole('row').filter({ has: page.getByRole('button', { name: foundText.open(number) }) });

export async function foresee(page: Page, volume: string, within: string): Promise<void> {
  await page.getByRole('textbox', { name: foreseeText.volume }).fill(volume);
  await page.getByRole('textbox', { name: foreseeText.within }).fill(within);
  await page.getByRole('radio', { name: 'Fairly sure' }).check();
  await page.getByRole('button', { name: foreseeText.save }).click();
}

/** The fields of the trial being typed, for ware that is weighed full. */
export const fieldsOf = (page: Page) => ({
  empty: page.getByRole('textbox', { name: `${benchText.basis.contain.empty} g` }),
  filled: page.getByRole('textbox', { name: `${benchText.basis.contain.filled} g` }),
  water: page.getByRole('textbox', { name: `${entryText.water} °C` }),
  save: page.getByRole('button', { name: /^Save trial/ }),
});

export async function weigh(page: Page, empty: string, filled: string, water = '21.3'): Promise<void> {
  const fields = fieldsOf(page);
  await fields.empty.fill(empty);
  await fields.filled.fill(filled);
  await fields.water.fill(water);
  await fields.save.click();
}
