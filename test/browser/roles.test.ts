/** Whoever only reads sees every room, and in none of them a control that the server would refuse. */
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { benchText } from '../../web/messages/en-bench.ts';
import { vesselText } from '../../web/messages/en-glassware.ts';
import { instrumentsText } from '../../web/messages/en-instruments.ts';
import { settingsText } from '../../web/messages/en-settings.ts';
import { text } from '../../web/messages/en.ts';
import { goTo, it as browserTest } from './browser-test.ts';
import { SETUP_CODE, type ServedLogbook } from './served-logbook.ts';

const it = browserTest.extend('demonstration', { scope: 'file' }, () => true);
const PASSPHRASE = 'seven wet funnels';
const KEEPER = { name: 'Ada Keeper', password: PASSPHRASE };

/** Signs a new person of this role in, at the browser of the page. */
async function signInAs(page: Page, { address }: ServedLogbook, role: 'auditor' | 'teacher'): Promise<void> {
  const { request } = page.context();
  const post = (url: string, data: object) =>
    request.post(address + url, { data, headers: { 'idempotency-key': `${role}${url}` } });
  const keeper = await post('/api/setup', { code: SETUP_CODE, ...KEEPER });
  if (keeper.status() === 409) await post('/api/session', KEEPER);
  const { id } = (await (await post('/api/people', { name: `The ${role}`, role, mayIssue: false })).json()) as {
    id: string;
  };
  const { code } = (await (await post(`/api/people/${id}/code`, {})).json()) as { code: string };
  const signedIn = await post('/api/session', { name: `The ${role}`, password: PASSPHRASE, code });
  expect(signedIn.status()).toBe(200);
}

const first = async (page: Page, { address }: ServedLogbook, list: string): Promise<string> => {
  const { items } = (await (await page.context().request.get(`${address}/api/${list}`)).json()) as {
    items: { id: string }[];
  };
  return items[0]?.id ?? '';
};

describe.each(['auditor', 'teacher'] as const)('the %s', (role) => {
  it('finds nothing to change in the register and at the bench', async ({ visit, logbook }) => {
    visit.mayBeRefused(401);
    const page = await visit('/sign-in');
    await signInAs(page, logbook, role);
    const vessel = await first(page, logbook, 'vessels');
    const instrument = await first(page, logbook, 'instruments');
    const open = await first(page, logbook, 'calibrations?state=open');
    const absent = async (address: string, ...controls: (string | RegExp)[]) => {
      await goTo(page, logbook, address);
      for (const name of controls)
        for (const kind of ['link', 'button', 'textbox'] as const)
          expect({ address, name, count: await page.getByRole(kind, { name }).count() }).toEqual({
            address,
            name,
            count: 0,
          });
    };
    await absent('/glassware', vesselText.add);
    await absent(`/glassware/${vessel}`, vesselText.correct, vesselText.start, vesselText.goOn);
    await absent('/instruments', instrumentsText.register);
    await absent(`/instruments/${instrument}`, instrumentsText.page.change, instrumentsText.checks.add);
    await absent('/bench', vesselText.add, vesselText.search);
    await absent(`/bench/${open}`, benchText.finish, benchText.finishEarly, benchText.abandon, /^Save trial/);
    await absent('/settings', settingsText.laboratory.save);
    expect(await page.getByLabel(settingsText.doors.hostNames).isDisabled()).toBe(true);
  });

  it('is told who may, on a page that only changes things, and finds the way back', async ({ visit, logbook }) => {
    visit.mayBeRefused(401);
    const page = await visit('/sign-in');
    await signInAs(page, logbook, role);
    for (const address of ['/glassware/new', '/bench/new', '/instruments/new']) {
      await goTo(page, logbook, address);
      await page.getByRole('heading', { level: 1, name: text.shell.notYours }).waitFor();
    }
    await page.getByRole('link', { name: text.shell.back }).click();
    await page.getByRole('heading', { level: 1, name: instrumentsText.title }).waitFor();
  });
});
