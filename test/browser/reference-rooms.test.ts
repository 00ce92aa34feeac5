/** Reference, Instruments and Settings in a real browser: readable by everybody, usable by keyboard, nothing lost. */
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { it, PATIENT, walkTo } from './browser-test.ts';
import { barriers, barriersButContrast, faintColours, sidewaysPx } from './looks.ts';
import type { ServedLogbook } from './served-logbook.ts';

const ADDRESSES = [
  '/reference/formulas/air-density',
  '/reference/formulas/simple-volume',
  '/reference/formulas/expanded-uncertainty',
  '/reference/formulas/verdict',
  '/reference/assumptions',
  '/reference/tolerances?kind=piston-pipette',
  '/reference/materials',
  '/reference/factors',
  '/reference/meniscus',
  '/reference/vessels',
  '/reference/cautions',
  '/reference/findings',
  '/reference/refusals',
  '/reference/words',
  '/reference/sources',
];

/** Between them they show every colour these rooms use. */
const COLOURFUL = ['/reference/formulas/verdict', '/reference/meniscus', '/reference/cautions', '/settings'];

it('no room has a barrier or scrolls sideways on the narrowest screen', async ({ visit }) => {
  const page = await visit('/reference', { width: 320 });
  for (const address of ADDRESSES) {
    await walkTo(page, address);
    expect.soft(await barriersButContrast(page), address).toEqual([]);
    expect.soft(await sidewaysPx(page), address).toBe(0);
  }
});

it('no colour is too faint, by day or in the dark', async ({ visit }) => {
  const page = await visit('/reference', { width: 1440 });
  for (const address of COLOURFUL) {
    await walkTo(page, address);
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      expect.soft(await faintColours(page), `${address}, ${colorScheme}`).toEqual([]);
    }
  }
});

it('what breaks a rule is found', async ({ visit }) => {
  const page = await visit('/reference/words');
  await page.evaluate(() => {
    const [faint, nameless] = [document.createElement('p'), document.createElement('input')];
    faint.style.color = 'rgb(119 119 119 / 40%)';
    faint.textContent = 'hard to read';
    document.querySelector('h1')?.after(faint, nameless);
  });
  expect((await faintColours(page)).join()).toMatch(/^color-contrast: .*hard to read/);
  expect((await barriersButContrast(page)).join()).toMatch(/^label: .*<input/);
});

describe('a formula', () => {
  // Tanaka et al. 2001: 998.2067 kg/m³ at 20 °C; the formula ends at 40 °C.
  it('unfolds by keyboard, computes while one types, and says where it ends', async ({ visit }) => {
    const page = await visit('/reference/formulas');
    await page.locator('#water-density > summary').focus();
    await page.keyboard.press('Enter');
    const field = page.locator('#water-density-water');
    await field.fill('20,0');
    await expect.poll(() => page.locator('.calculated').textContent(), PATIENT).toContain('998.2067');
    await field.fill('40.1');
    await expect.poll(() => page.locator('.field-problem').textContent(), PATIENT).toContain('0 to 40 °C');
    expect(await field.inputValue()).toBe('40.1');
  });

  // JCGM 100:2008, table G.2: t at 95.45 % and 10 degrees of freedom is 2.28.
  it('brings its quantiles only when they are needed', async ({ visit }) => {
    const page = await visit('/reference/formulas/expanded-uncertainty');
    await page.locator('#expanded-uncertainty-degrees').fill('10');
    await expect.poll(() => page.locator('.calculated').textContent(), PATIENT).toMatch(/k2\.28/);
  });
});

describe('the address of a refusal', () => {
  it('explains it, and one that does not exist leads to those that do', async ({ visit }) => {
    const known = await visit('/problems/stale-edit');
    expect(await known.locator('h1').textContent()).toBe('Somebody changed this record meanwhile');
    const unknown = await visit('/problems/no-such-thing');
    expect(await unknown.getByRole('link', { name: 'Somebody changed this record meanwhile' }).count()).toBe(1);
  });
});

describe('the register of instruments', () => {
  it('keeps what was typed when a field is refused, takes a pasted table, and merges a change made meanwhile', async ({
    logbook,
    visit,
  }) => {
    visit.mayBeRefused(412, 422);
    const page = await visit('/instruments/new');
    await page.fill('#tag', 'B-01');
    await page.fill('#dueOn', '2020-02-30');
    await page.getByRole('button', { name: 'Register' }).click();
    await page.getByRole('link', { name: /Due again on/ }).click();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('dueOn');
    expect(await page.inputValue('#tag')).toBe('B-01');
    await page.fill('#dueOn', '2020-02-29');
    await page.evaluate(() => {
      const data = new DataTransfer();
      data.setData('text/plain', '0\t0\n100.0000\t-0,0002\n');
      const event = new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true });
      document.getElementById('corrections/0/at')?.dispatchEvent(event);
    });
    await page.getByRole('button', { name: 'Register' }).click();
    await page.getByRole('heading', { name: 'B-01', exact: true }).waitFor();
    expect(await page.locator('main').textContent()).toContain('overdue since 2020-02-29');
    expect(await page.locator('.corrections-shown').textContent()).toContain('−0.0002');
    expect(await barriers(page)).toEqual([]);
    await changeMeanwhile(page, logbook);
    expect(await page.locator('main').textContent()).toContain('room 12');
    expect(await page.locator('main').textContent()).toContain('K-2');
  });
});

/** I change the place while somebody else, by a request of their own, notes a new certificate. */
async function changeMeanwhile(page: Page, logbook: ServedLogbook): Promise<void> {
  const id = new URL(page.url()).pathname.split('/').at(-1) ?? '';
  await page.getByRole('link', { name: 'Change or new certificate' }).click();
  await page.fill('#location', 'room 12');
  const instrument = { kind: 'balance', tag: 'B-01', certificateNumber: 'K-2' };
  const theirs = await logbook.send('PATCH', `/api/instruments/${id}`, { instrument, reason: 'new one' }, 1);
  expect(theirs.status).toBe(200);
  await page.fill('#reason', 'moved');
  await page.getByRole('button', { name: 'Save the change' }).click();
  await page.getByRole('heading', { name: /meanwhile/ }).waitFor();
  expect(await barriers(page)).toEqual([]);
  await page.getByRole('button', { name: 'Save my changes on top of it' }).click();
  await page.getByRole('heading', { name: 'B-01', exact: true }).waitFor();
}

describe('the settings', () => {
  // ISO 2533:1975: 898.746 hPa at 1000 m.
  it('show the pressure of a height while one types, refuse an impossible one, and are kept', async ({
    logbook,
    visit,
  }) => {
    visit.mayBeRefused(422);
    const page = await visit('/settings');
    await page.fill('#altitudeM', '1000');
    await expect.poll(() => page.locator('.figure').first().textContent(), PATIENT).toContain('898.7');
    await page.fill('#altitudeM', '9000');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    expect(await page.locator('.error-summary').textContent()).toContain('5000 m');
    await page.fill('#altitudeM', '1000');
    await page.fill('#name', 'Teaching laboratory');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('Saved.').waitFor();
    expect(await logbook.get('/api/laboratory')).toMatchObject({ name: 'Teaching laboratory', altitudeM: '1000' });
  });
});
