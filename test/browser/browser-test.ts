/**
 * `it` for tests with a browser: one browser and one running logbook for each file, contexts of their own for each test.
 * A page must stay quiet: whatever its console, its policy or the network complains of fails the test that opened it.
 */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { expect, it as plainTest } from 'vitest';
import { text } from '../../web/messages/en.ts';
import { startBrowser } from './chromium.ts';
import { ServedLogbook } from './served-logbook.ts';

/** A busy machine takes its time. */
const PATIENCE_MS = 20_000;
export const PATIENT = { timeout: PATIENCE_MS };

export interface Look {
  width?: number;
  height?: number;
  colorScheme?: 'light' | 'dark';
  reducedMotion?: 'reduce';
  hasTouch?: boolean;
  /** Opens a further tab beside this one instead of another browser. */
  beside?: Page;
}

/** What belongs to the story and is no complaint. */
interface Expected {
  statuses: Set<number>;
  isServerAway: boolean;
}

export interface Visit {
  /** Opens a page, of this logbook where the address is a path, and waits until it has loaded what it shows. */
  (address: string, look?: Look): Promise<Page>;
  /** Answers with these statuses are part of what is tested. */
  mayBeRefused(...statuses: number[]): void;
  /** From here on the server is not always there. */
  mayLoseServer(): void;
}

const LOADING = new RegExp(`^${text.shell.loading('.+')}$`);

/** Waits until the page has its heading and says of nothing that it is loading. */
export async function settled(page: Page): Promise<void> {
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  await expect.poll(() => page.getByText(LOADING).count(), PATIENT).toBe(0);
}

/** Another address in the same tab, waited for like the first. */
export async function goTo(page: Page, logbook: ServedLogbook, address: string): Promise<void> {
  await page.goto(logbook.address + address);
  await settled(page);
}

/** To another page by the way links take, without loading the program anew; for where its loading is not the thing. */
export async function walkTo(page: Page, address: string): Promise<void> {
  const { href, pathname } = new URL(address, page.url());
  if (new URL(page.url()).pathname === pathname) await page.goto(href);
  else
    await page.evaluate((to) => {
      for (const heading of document.querySelectorAll('h1')) heading.dataset['left'] = '';
      window.history.pushState(null, '', to);
    }, href);
  await page.locator('h1:not([data-left])').first().waitFor();
  await settled(page);
}

/** React reports every failure that something on the page has caught; with the server away, a part not fetched is none. */
const NOT_FETCHED = new RegExp(`^NetworkError: ${text.api.unreachable}`);

function listen(page: Page, expected: Expected, complaints: string[]): void {
  page.on('pageerror', (error) => complaints.push(`page error: ${error.message}`));
  page.on('console', (message) => {
    const said = message.text();
    // Answers and failed requests are judged below, where the status is known.
    const isAboutRequest =
      said.startsWith('Failed to load resource') || (expected.isServerAway && NOT_FETCHED.test(said));
    if (['error', 'warning'].includes(message.type()) && !isAboutRequest) complaints.push(`console: ${said}`);
  });
  page.on('requestfailed', (request) => {
    const reason = request.failure()?.errorText ?? '';
    // A page that is left takes its questions back.
    if (reason === 'net::ERR_ABORTED' || expected.isServerAway) return;
    complaints.push(`request: ${request.method()} ${request.url()} ${reason}`);
  });
  page.on('response', (response) => {
    const status = response.status();
    if (status >= 400 && !expected.statuses.has(status))
      complaints.push(`answer: ${response.request().method()} ${response.url()} ${status}`);
  });
}

/** A policy is also broken by what the page catches and the console keeps to itself; as a page error it is heard. */
function reportPolicy(): void {
  document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI, sourceFile }) => {
    throw new Error(`policy: ${violatedDirective} ${blockedURI} in ${sourceFile}`);
  });
}

async function newContext(browser: Browser, look: Look): Promise<BrowserContext> {
  const { width = 1024, height = 768, colorScheme, reducedMotion, hasTouch } = look;
  const options: BrowserContextOptions = {
    viewport: { width, height },
    locale: 'en-GB',
    ...(colorScheme ? { colorScheme } : {}),
    ...(reducedMotion ? { reducedMotion } : {}),
    ...(hasTouch ? { hasTouch } : {}),
  };
  const context = await browser.newContext(options);
  context.setDefaultTimeout(PATIENCE_MS);
  await context.addInitScript(reportPolicy);
  return context;
}

export const it = plainTest
  // Whether the logbook of the file is the invented laboratory; a file that wants it says so.
  .extend('demonstration', { scope: 'file' }, () => false)
  .extend('browser', { scope: 'file' }, async ({}, { onCleanup }) => {
    const browser = await startBrowser();
    onCleanup(() => browser.close());
    return browser;
  })
  .extend('logbook', { scope: 'file' }, async ({ demonstration }, { onCleanup }) => {
    const logbook = new ServedLogbook();
    onCleanup(() => logbook.end());
    if (demonstration) await logbook.loadDemonstration();
    await logbook.start();
    return logbook;
  })
  .extend('visit', async ({ browser, logbook }, { onCleanup }): Promise<Visit> => {
    const complaints: string[] = [];
    const contexts: BrowserContext[] = [];
    const expected: Expected = { statuses: new Set(), isServerAway: false };
    onCleanup(async () => {
      for (const context of contexts) await context.close();
      expect(complaints).toEqual([]);
    });
    const visit = async (address: string, look: Look = {}): Promise<Page> => {
      const context = look.beside?.context() ?? (await newContext(browser, look));
      if (!contexts.includes(context)) contexts.push(context);
      const page = await context.newPage();
      listen(page, expected, complaints);
      await page.goto(address.startsWith('http:') ? address : logbook.address + address);
      await settled(page);
      return page;
    };
    return Object.assign(visit, {
      mayBeRefused: (...statuses: number[]) => statuses.forEach((status) => expected.statuses.add(status)),
      mayLoseServer: () => (expected.isServerAway = true),
    });
  });
