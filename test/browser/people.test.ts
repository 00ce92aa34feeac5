/** People at real browsers, by the machine's own address as other machines use it: over plain http and over TLS. */
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { networkInterfaces, tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { conflictText } from '../../web/messages/en-conflict.ts';
import { peopleText } from '../../web/messages/en-people.ts';
import { text } from '../../web/messages/en.ts';
import { makeCertificate } from '../doors/certificate.ts';
import { PATIENT } from './browser-test.ts';
import { startBrowser } from './chromium.ts';
import { barriers } from './looks.ts';

const program = fileURLToPath(new URL('../../.dist/server/main.js', import.meta.url));
const ADDRESS =
  Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .find((one) => one.family === 'IPv4' && !one.internal)?.address ?? '';
const PASSPHRASE = 'seven wet funnels';
const CODE = 'browser-test-code';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
  expect(ADDRESS).toMatch(/^\d+\./);
});
afterAll(async () => browser.close());

class Served {
  readonly folder = mkdtempSync(path.join(tmpdir(), 'tarebook-people-'));
  said = '';
  address = '';
  #child: ChildProcess | null = null;

  async start(environment: Record<string, string>): Promise<void> {
    const env = { ...process.env, HOST: ADDRESS, PORT: '0', TAREBOOK_DATA: this.folder, TAREBOOK_SETUP_CODE: CODE };
    this.#child = spawn(process.execPath, [program], { env: { ...env, ...environment } });
    for (const stream of [this.#child.stdout, this.#child.stderr])
      stream?.on('data', (chunk: Buffer) => (this.said += chunk.toString('utf8')));
    await expect.poll(() => this.said, { timeout: 20_000 }).toMatch(/Tarebook is open at \S+/);
    this.address = /Tarebook is open at (\S+)/.exec(this.said)?.[1] ?? '';
  }

  async end(): Promise<void> {
    const child = this.#child;
    if (child && child.exitCode === null) {
      const gone = new Promise((resolve) => child.once('close', resolve));
      child.kill('SIGTERM');
      await gone;
    }
    rmSync(this.folder, { recursive: true, force: true });
  }
}

const signIn = peopleText.signIn;
const setUp = async (page: Page): Promise<void> => {
  const words = peopleText.setUp;
  await page.getByLabel(words.code).fill(CODE);
  await page.getByLabel(words.name, { exact: true }).fill('Ada Keeper');
  await page.getByLabel(words.passphrase).fill(PASSPHRASE);
  await page.getByRole('button', { name: words.act }).click();
  await page.getByRole('heading', { level: 1, name: peopleText.people.title }).waitFor();
};

describe.each(['plain http', 'TLS'])('over %s', (mode) => {
  let served: Served;
  let context: BrowserContext;
  let page: Page;
  let complaints: string[];
  beforeEach(async () => {
    served = new Served();
    const { certFile, keyFile } = makeCertificate(served.folder, ADDRESS);
    const tls = { TAREBOOK_CERT: certFile, TAREBOOK_KEY: keyFile };
    await served.start(mode === 'TLS' ? tls : { TAREBOOK_PLAIN_HTTP: '1' });
    context = await browser.newContext({ ignoreHTTPSErrors: true, viewport: { width: 320, height: 800 } });
    page = await context.newPage();
    complaints = [];
    page.on('console', (message) => {
      // Answers that refuse are part of the story.
      if (['error', 'warning'].includes(message.type()) && !message.text().startsWith('Failed to load resource'))
        complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
  });
  afterEach(async () => {
    await context.close();
    await served.end();
    expect(complaints).toEqual([]);
  });

  it('sets up, signs out and in, and goes on where the session ended', async () => {
    expect(served.address).toBe(`${mode === 'TLS' ? 'https' : 'http'}://${ADDRESS}:${new URL(served.address).port}`);
    await page.goto(`${served.address}/`);
    await page.getByRole('dialog').getByRole('link', { name: signIn.setUp }).click();
    await setUp(page);
    expect(await page.getByText(text.shell.plainHttp).count()).toBe(mode === 'TLS' ? 0 : 1);
    const cookies = await context.cookies(served.address);
    const session = cookies.find(({ name }) => name === (mode === 'TLS' ? '__Host-tarebook' : 'tarebook'));
    expect(session).toMatchObject({ httpOnly: true, secure: mode === 'TLS', sameSite: 'Strict', path: '/' });

    // Half typed, the session ends.
    await page.goto(`${served.address}/settings`);
    await page.locator('#name').fill('Room 3, half typed');
    await context.clearCookies({ name: session?.name ?? '' });
    await page.getByRole('button', { name: text.form.save, exact: true }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel(signIn.name).waitFor();
    expect(await dialog.getByLabel(signIn.name).inputValue()).toBe('Ada Keeper');
    expect(await dialog.getByLabel(signIn.passphrase, { exact: true }).getAttribute('autocomplete')).toBe(
      'current-password',
    );
    await page.keyboard.press('Escape');
    await dialog.getByLabel(signIn.passphrase, { exact: true }).fill('a wrong guess');
    await page.keyboard.press('Enter');
    await dialog.getByRole('alert').waitFor();
    await dialog.getByLabel(signIn.passphrase, { exact: true }).fill(PASSPHRASE);
    await page.keyboard.press('Enter');
    await dialog.waitFor({ state: 'detached' });
    await expect
      .poll(async () => {
        const reply = await context.request.get(`${served.address}/api/laboratory`);
        return ((await reply.json()) as { name: string }).name;
      }, PATIENT)
      .toBe('Room 3, half typed');

    await page.getByRole('link', { name: text.shell.signedIn('Ada Keeper') }).click();
    await page.getByRole('button', { name: peopleText.own.signOut }).click();
    await page.getByRole('heading', { level: 1, name: signIn.title }).waitFor();
    await page.goBack();
    await page.getByRole('dialog').waitFor();
    expect(await page.getByText('Room 3, half typed').count()).toBe(0);
    expect(served.said).not.toContain(PASSPHRASE);
  });

  it('has pages of people, keys and one’s own access that everybody can use', async () => {
    await page.goto(`${served.address}/set-up`);
    await setUp(page);
    await page.getByLabel(peopleText.people.name, { exact: true }).fill('Tom Technician');
    await page.getByRole('button', { name: peopleText.people.add }).click();
    const row = page.getByRole('row', { name: /Tom Technician/ });
    await row.getByRole('button', { name: peopleText.people.code }).click();
    await page.getByRole('button', { name: peopleText.people.codeMake }).click();
    const code = (await page.locator('#shown-once').textContent()) ?? '';
    expect(code).toMatch(/^(\w{4}-){3}\w{4}$/);
    for (const address of ['/settings/people', '/settings/keys', '/settings/my-access', '/sign-in', '/set-up']) {
      await page.goto(served.address + address);
      await page.getByRole('heading', { level: 1 }).waitFor();
      expect(await barriers(page), address).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    }
    const other = await (await browser.newContext({ ignoreHTTPSErrors: true })).newPage();
    await other.goto(`${served.address}/sign-in`);
    await other.getByLabel(signIn.oneTime).check();
    await other.getByLabel(signIn.name).fill('tom technician');
    await other.getByLabel(signIn.code, { exact: true }).fill(code);
    await other.getByLabel(signIn.chosenPassphrase).fill('another good one');
    await other.getByRole('button', { name: signIn.act }).click();
    await other.getByRole('link', { name: text.shell.signedIn('Tom Technician') }).waitFor();
    await other.context().close();
  });

  it('changed by two keepers at once, shows both changes and keeps both', async () => {
    const people = peopleText.people;
    await page.goto(`${served.address}/set-up`);
    await setUp(page);
    await page.getByLabel(people.name, { exact: true }).fill('Tom Technician');
    await page.getByRole('button', { name: people.add }).click();
    const person = page.getByRole('row', { name: /Tom Technician/ });
    await person.getByRole('button', { name: people.change }).click();
    const dialog = page.getByRole('dialog', { name: people.changeTitle('Tom Technician') });
    await dialog.getByRole('radio', { name: peopleText.roles.teacher }).check();
    await dialog.getByRole('textbox', { name: text.form.reason }).fill('teaches now');
    const list = async () => {
      const reply = await context.request.get(`${served.address}/api/people`);
      return ((await reply.json()) as { items: { id: string; name: string; version: number }[] }).items;
    };
    const tom = (await list()).find(({ name }) => name === 'Tom Technician');
    const meanwhile = await context.request.patch(`${served.address}/api/people/${tom?.id ?? ''}`, {
      data: { mayIssue: true, reason: 'signs too' },
      headers: { 'if-match': `"${tom?.version ?? 0}"` },
    });
    expect(meanwhile.status()).toBe(200);
    await dialog.getByRole('button', { name: people.change }).click();
    const both = dialog.getByRole('row').filter({ hasText: people.mayIssue });
    await both.waitFor();
    expect(await both.innerText()).toMatch(/no\s+no\s+yes$/);
    // Once everything has come; for a moment it was seen to stand wider.
    await expect
      .poll(() => page.evaluate(() => document.documentElement.scrollWidth), PATIENT)
      .toBeLessThanOrEqual(320);
    await dialog.getByRole('button', { name: conflictText.merge }).click();
    await dialog.waitFor({ state: 'detached' });
    expect((await list()).find(({ name }) => name === 'Tom Technician')).toMatchObject({
      role: 'teacher',
      mayIssue: true,
    });
  });
});
