/** Every room of the invented laboratory: no barrier at any width or in the dark, large targets, one heading, its banner. */
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import type { Instrument } from '../../server/instruments/contract.ts';
import type { VesselListItem } from '../../server/glassware/contract.ts';
import { benchText, entryText } from '../../web/messages/en-bench.ts';
import { vesselFormText, vesselText } from '../../web/messages/en-glassware.ts';
import { startText } from '../../web/messages/en-start.ts';
import { oneMoreText } from '../../web/messages/en-uncertainty.ts';
import { text } from '../../web/messages/en.ts';
import { cellsOf, entryOf } from './at-the-bench.ts';
import { goTo, it as plainIt, PATIENT, settled, walkTo } from './browser-test.ts';
import {
  barriers,
  faintColours,
  isInSight,
  movingParts,
  sidewaysPx,
  smallerThan,
  smallTargets,
  tabStops,
} from './looks.ts';
import type { ServedLogbook } from './served-logbook.ts';

const it = plainIt.extend('demonstration', { scope: 'file' }, () => true);

type Address = (logbook: ServedLogbook) => Promise<string>;

const vesselOf = async (logbook: ServedLogbook, tag: string): Promise<VesselListItem> => {
  const { items } = await logbook.get<{ items: VesselListItem[] }>(`/api/vessels?search=${tag}`);
  const vessel = items.find((one) => one.tag === tag);
  if (!vessel) throw new Error(`The demonstration has no ${tag}.`);
  return vessel;
};
const vessel =
  (tag: string, further = ''): Address =>
  async (logbook) =>
    `/glassware/${(await vesselOf(logbook, tag)).id}${further}`;
const bench =
  (tag: string): Address =>
  async (logbook) => {
    const { latest } = await vesselOf(logbook, tag);
    return `/bench/${latest?.id ?? ''}`;
  };
const instrument =
  (tag: string, further = ''): Address =>
  async (logbook) => {
    const { items } = await logbook.get<{ items: Instrument[] }>('/api/instruments');
    return `/instruments/${items.find((one) => one.tag === tag)?.id ?? ''}${further}`;
  };
/** An experiment that runs with a group, or a made-up one. */
const experiment =
  (kind: 'running' | 'made-up', further = ''): Address =>
  async (logbook) => {
    const { id } = await logbook.post('/api/experiments', { template: 'four-ways' });
    if (kind === 'made-up') {
      const rehearsal = await logbook.post(`/api/experiments/${String(id)}/rehearsal`, { groups: 8, seed: 20261126 });
      return `/class/${String(rehearsal['id'])}${further}`;
    }
    await logbook.post(`/api/experiments/${String(id)}/opening`, {});
    await logbook.post(`/api/experiments/${String(id)}/groups`, { count: 2 });
    return `/class/${String(id)}${further}`;
  };
const at =
  (address: string): Address =>
  async () =>
    address;

const ROOMS: Readonly<Record<string, readonly (readonly [name: string, address: Address])[]>> = {
  'today and glassware': [
    ['today', at('/')],
    ['the register', at('/glassware?search=VF-0100')],
    ['a search that finds nothing', at('/glassware?search=nothing+like+it')],
    ['a vessel with a history', vessel('VF-0100-01')],
    ['a renamed vessel', vessel('VF-0250-02')],
    ['correcting an identity', vessel('VF-0100-01', '/correct')],
  ],
  'the bench': [
    ['the room of the bench', at('/bench')],
    ['a start', async (logbook) => `/bench/new?vessel=${(await vesselOf(logbook, 'BU-0010-01')).id}`],
    ['an open calibration', bench('VF-0100-05')],
    ['a finished one with an excluded trial', bench('VF-0050-02')],
    ['a finished one with several points', bench('BU-0050-01')],
  ],
  'the class': [
    ['an experiment while groups come in', experiment('running')],
    ['readings entered for all', experiment('running', '/enter')],
    ['what the numbers of a class say', experiment('made-up', '/numbers')],
    ['all experiments', at('/class')],
    ['a plan', at('/class/new/four-ways')],
  ],
  instruments: [
    ['the register', at('/instruments')],
    ['a new one', at('/instruments/new')],
    ['one', instrument('AB-1')],
    ['changing one', instrument('TH-2', '/change')],
  ],
  'reference and settings': [
    ['reference', at('/reference')],
    ['limits', at('/reference/tolerances?kind=burette')],
    ['a refusal explained', at('/problems/stale-edit')],
    ['settings', at('/settings')],
    ['an address that leads nowhere', at('/no/such/page')],
  ],
};

/** Between them they show nearly every part and colour. */
const TYPICAL = ['today', 'a vessel with a history', 'a start', 'an open calibration'];

const PHONE = { width: 390, height: 844 };
const DESK = { width: 1440, height: 900 };
const NARROWEST = { width: 320, height: 568 };

/** All rules on the phone by day, sizes everywhere, colours at the desk in the dark; typical rooms the other way too. */
async function lookAround(page: Page, room: string): Promise<void> {
  await page.setViewportSize(PHONE);
  await page.emulateMedia({ colorScheme: 'light' });
  expect.soft(await barriers(page), `${room}: barriers on a phone`).toEqual([]);
  expect.soft(await smallTargets(page, 24), `${room}: targets on a phone`).toEqual([]);
  await page.setViewportSize(NARROWEST);
  expect.soft(await sidewaysPx(page), `${room}: sideways scroll at 320 px`).toBe(0);
  await page.setViewportSize(DESK);
  await page.emulateMedia({ colorScheme: 'dark' });
  expect.soft(await faintColours(page), `${room}: contrast at a desk in the dark`).toEqual([]);
  expect.soft(await smallTargets(page, 24), `${room}: targets at a desk`).toEqual([]);
  if (!TYPICAL.includes(room)) return;
  await page.emulateMedia({ colorScheme: 'light' });
  expect.soft(await barriers(page), `${room}: barriers at a desk`).toEqual([]);
  await page.setViewportSize(PHONE);
  await page.emulateMedia({ colorScheme: 'dark' });
  expect.soft(await faintColours(page), `${room}: contrast on a phone in the dark`).toEqual([]);
}

const titles = new Map<string, string>();

/** One heading, a title no other room has, the banner, and no field that drops what it cannot read. */
async function readTheFrame(page: Page, room: string): Promise<void> {
  expect.soft(await page.getByRole('heading', { level: 1 }).count(), `${room}: headings of the first order`).toBe(1);
  const title = await page.title();
  expect.soft(title, room).toMatch(new RegExp(`.${text.shell.title('')}$`));
  const { pathname } = new URL(page.url());
  expect
    .soft(
      [...titles].filter(([address, other]) => other === title && address !== pathname),
      room,
    )
    .toEqual([]);
  titles.set(pathname, title);
  expect.soft(await page.getByText(text.shell.demonstration).isVisible(), `${room}: banner`).toBe(true);
  expect.soft(await page.locator('input[type=number]').count(), `${room}: type=number`).toBe(0);
}

describe('every room', () => {
  it.for(Object.entries(ROOMS))('of %s', async ([, rooms], { logbook, visit }) => {
    const page = await visit('/', PHONE);
    for (const [room, address] of rooms) {
      await walkTo(page, await address(logbook));
      await readTheFrame(page, room);
      await lookAround(page, room);
    }
  });

  it('moves nothing for whoever asked for no motion', async ({ logbook, visit }) => {
    const page = await visit('/', { reducedMotion: 'reduce' });
    for (const address of ['/', '/glassware', await bench('VF-0100-05')(logbook)]) {
      await goTo(page, logbook, address);
      expect(await movingParts(page)).toEqual([]);
    }
  });
});

describe('a new vessel', () => {
  it('in the form of a flask', async ({ visit }) => {
    const page = await visit('/glassware/new', PHONE);
    await page.getByRole('radio', { name: text.words.vesselKinds['volumetric-flask'] }).check();
    await page.getByRole('combobox', { name: vesselFormText.standard }).selectOption({ index: 1 });
    await lookAround(page, 'the form of a flask');
    const save = page.getByRole('button', { name: vesselFormText.save });
    expect(await smallerThan(48, { save })).toEqual([]);
  });
});

describe('strips', () => {
  it('say in a sentence what the table beside them says', async ({ logbook, visit }) => {
    const page = await visit(await vessel('VF-0100-01')(logbook), DESK);
    const table = page.getByRole('region', { name: vesselText.history });
    const headers = await table.getByRole('columnheader').allInnerTexts();
    const rows = await table
      .getByRole('row')
      .filter({ has: page.getByRole('img') })
      .all();
    expect(rows).toHaveLength(4);
    for (const row of rows) {
      // The day heads its row and is no cell.
      const cells = await cellsOf(row);
      const [mean = '', verdict = ''] = [vesselText.columns.mean, vesselText.columns.verdict].map(
        (name) => cells[headers.indexOf(name) - 1],
      );
      const sentence = await row.getByRole('img').getAttribute('aria-label');
      expect(sentence).toMatch(new RegExp(`^Mean ${mean}, .+: ${verdict}\\.$`));
    }
  });

  it('all have their sentence, also where there is nothing to judge', async ({ logbook, visit }) => {
    const page = await visit('/glassware', DESK);
    const strips = page.getByRole('main').getByRole('img');
    await expect.poll(() => strips.count(), PATIENT).toBeGreaterThan(20);
    for (const strip of await strips.all())
      expect(await strip.getAttribute('aria-label')).toMatch(/^(Mean .+ mL|No trial yet\.).+\.$/);
    await goTo(page, logbook, await bench('PY-0025-01')(logbook));
    await page
      .getByRole('img', { name: new RegExp(text.strip.noTolerance) })
      .first()
      .waitFor();
  });
});

describe('the bench', () => {
  it.for([PHONE, DESK])(
    'has everything within reach of a wet finger at $width px',
    async (size, { logbook, visit }) => {
      const page = await visit(await bench('VF-0100-05')(logbook), { ...size, hasTouch: true });
      await page.getByRole('button', { name: benchText.openTrial(5) }).click();
      const { empty, filled, water, save } = entryOf(page);
      const acts = [benchText.correct, benchText.exclude, benchText.finishEarly];
      const buttons = Object.fromEntries(acts.map((name) => [name, page.getByRole('button', { name, exact: true })]));
      expect(await smallerThan(48, { empty, filled, water, save, ...buttons })).toEqual([]);
      expect(await smallTargets(page, 24)).toEqual([]);
    },
  );

  it('on a phone held sideways shows the field and the button together', async ({ logbook, visit }) => {
    const page = await visit(await bench('VF-0100-05')(logbook), { width: 568, height: 320, hasTouch: true });
    const { empty, filled, water, save } = entryOf(page);
    for (const field of [empty, filled, water]) {
      await field.tap();
      await expect.poll(() => isInSight(field), PATIENT).toBe(true);
      expect(await isInSight(save)).toBe(true);
    }
    expect(await sidewaysPx(page)).toBe(0);
  });

  it.for([DESK, { width: 568, height: 320 }])(
    'is walked through with the Tab key at $width px, every stop in sight',
    async (size, { logbook, visit }) => {
      const page = await visit(await bench('VF-0100-05')(logbook), size);
      // Comes a moment later than the rest, and moves what stands below it.
      await page.getByRole('heading', { name: oneMoreText.title }).waitFor();
      const stops = await tabStops(page);
      const names = stops.map(({ name }) => name);
      expect(names[0]).toBe(text.shell.skip);
      const order = [/^Empty g/, /^Filled g/, /^Water °C/, new RegExp(`^${entryText.save(6)}$`)].map((name) =>
        names.findIndex((one) => name.test(one)),
      );
      expect(
        order.every((place, index) => place > (order[index - 1] ?? 0)),
        names.join(' | '),
      ).toBe(true);
      expect(stops.filter(({ hasRing }) => !hasRing)).toEqual([]);
      expect(stops.filter(({ isSeen }) => !isSeen)).toEqual([]);
    },
  );
});

it('the start has its button within reach, and the link over the rooms leads to the content', async ({
  logbook,
  visit,
}) => {
  const { id } = await vesselOf(logbook, 'BU-0010-01');
  const page = await visit(`/bench/new?vessel=${id}`, PHONE);
  const begin = page.getByRole('button', { name: startText.begin });
  expect(await smallerThan(48, { begin })).toEqual([]);
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  expect(await page.evaluate(() => document.activeElement?.id)).toBe('content');
});

const NOTHING = [
  ...['/nowhere', '/glassware/none', '/glassware/none/correct', '/bench/none', '/lots/none', '/lots/none/edit'],
  ...['/lots/none/bench', '/instruments/none', '/instruments/none/change', '/solutions/none', '/class/none'],
  ...['/class/none/numbers', '/class/none/enter', '/records/certificates/none'],
];

it('an address that names nothing says so under a heading, and leads back', async ({ visit }) => {
  visit.mayBeRefused(404);
  const page = await visit('/', PHONE);
  for (const address of NOTHING) {
    await walkTo(page, address);
    const headings = await page.getByRole('heading', { level: 1 }).allInnerTexts();
    const offers = await page.getByRole('button', { name: text.shell.tryAgain }).count();
    expect({ address, headings, offers }).toEqual({ address, headings: [text.shell.notFoundTitle], offers: 0 });
    await page.getByRole('link', { name: text.shell.toToday }).click();
    await page.waitForURL((now) => now.pathname === '/');
    await settled(page);
  }
});
