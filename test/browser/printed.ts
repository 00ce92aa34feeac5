import type { Page } from 'playwright-core';

/**
 * Acts, and waits for the sheet that opens beside the page. Its address is read from what the browser asks for: not every
 * Chromium shows a PDF, some keep it as a file.
 */
export async function openedSheet(page: Page, act: () => Promise<void>): Promise<URL> {
  const asked = page.context().waitForEvent('request', (request) => new URL(request.url()).pathname.endsWith('.pdf'));
  const [request] = await Promise.all([asked, act()]);
  return new URL(request.url());
}
