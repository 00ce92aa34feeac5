import { type Browser, chromium } from 'playwright-core';
import { obtainChromium } from './find-chromium.ts';

/** Starts the browser that `npm test` chose; run alone, a test finds one by the same rules. Close it after the test. */
export async function startBrowser(): Promise<Browser> {
  const executablePath = process.env['TAREBOOK_CHROMIUM'] ?? (await obtainChromium());
  return chromium.launch({ executablePath });
}
