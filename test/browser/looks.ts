/** What can be measured on any page: barriers, sideways scroll, sizes of targets, headings, motion, where the focus is. */
import type * as Axe from 'axe-core';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Locator, Page } from 'playwright-core';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const CONTRAST = 'color-contrast';

/** Barriers by the rules of axe. @returns one line for each element that breaks a rule */
export const barriers = async (page: Page): Promise<string[]> => [
  ...(await barriersButContrast(page)),
  ...(await faintColours(page)),
];

/** Without the rule that takes as long as all others together; colours do not change with the place they stand in. */
export async function barriersButContrast(page: Page): Promise<string[]> {
  await bringAxe(page);
  return page.evaluate(breaks, { isContrast: false, contrast: CONTRAST });
}

/** Text too faint for what it stands on, by the same rules. */
export async function faintColours(page: Page): Promise<string[]> {
  await bringAxe(page);
  return page.evaluate(breaks, { isContrast: true, contrast: CONTRAST });
}

/** Once for each document; what the page's own policy forbids it, a test may. */
async function bringAxe(page: Page): Promise<void> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axeSource);
}

/** Runs in the page, and so knows nothing of this file. */
async function breaks({ isContrast, contrast }: { isContrast: boolean; contrast: string }): Promise<string[]> {
  /** The same elements and classes around it, the same colours on and below it, the same type: the same contrast. */
  const kindOf = (element: Element): string => {
    const { color, fontSize, fontWeight, textShadow } = getComputedStyle(element);
    const parts = [color, fontSize, fontWeight, textShadow, element.matches(':disabled')];
    for (let around: Element | null = element; around !== null; around = around.parentElement) {
      const { backgroundColor, backgroundImage, opacity } = getComputedStyle(around);
      parts.push(around.tagName, around.getAttribute('class') ?? '', backgroundColor, backgroundImage, opacity);
    }
    return parts.join('|');
  };
  /** The first and the last of each kind. Fifty rows of a register are one kind, and take no longer than two. */
  const textOfEachKind = (): Element[] => {
    const [first, last] = [new Map<string, Element>(), new Map<string, Element>()];
    for (const element of document.body.querySelectorAll('*')) {
      const hasText = [...element.childNodes].some((node) => node instanceof Text && node.data.trim() !== '');
      if (!(hasText || element.matches('input, textarea, select'))) continue;
      if (!element.checkVisibility({ visibilityProperty: true })) continue;
      const kind = kindOf(element);
      if (!first.has(kind)) first.set(kind, element);
      last.set(kind, element);
    }
    return [...new Set([...first.values(), ...last.values()])];
  };
  // Colours glide for a moment where the scheme or the state has changed.
  const gliding = document.getAnimations().filter((one) => one instanceof CSSTransition);
  await Promise.allSettled(gliding.map(({ finished }) => finished));
  const { axe } = window as unknown as { axe: typeof Axe };
  const { violations } = await axe.run(isContrast ? { include: textOfEachKind() } : document, {
    ...(isContrast ? { runOnly: [contrast] } : { rules: { [contrast]: { enabled: false } } }),
    resultTypes: ['violations'],
  });
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary ?? ''}`),
  );
}

/** Pixels the page can be scrolled sideways; tables that scroll in a box of their own do not count. */
export const sidewaysPx = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/**
 * Controls that are smaller than a finger needs. A link within a sentence is as high as its line and is left out; a box
 * to tick is as large as its label.
 */
export const smallTargets = (page: Page, leastPx: number): Promise<string[]> =>
  page.evaluate((least) => {
    const controls = document.querySelectorAll<HTMLElement>('a[href], button, input, select, textarea, summary');
    const isInSentence = (element: HTMLElement): boolean =>
      element.tagName === 'A' &&
      getComputedStyle(element).display === 'inline' &&
      element.parentElement?.textContent.trim() !== element.textContent.trim();
    const sizeOf = (element: HTMLElement): { width: number; height: number } => {
      const isTick = element instanceof HTMLInputElement && ['checkbox', 'radio'].includes(element.type);
      return ((isTick && element.labels?.[0]) || element).getBoundingClientRect();
    };
    return [...controls].flatMap((element) => {
      if (!element.checkVisibility({ visibilityProperty: true }) || isInSentence(element)) return [];
      const { width, height } = sizeOf(element);
      if (width >= least && height >= least) return [];
      const name = element.getAttribute('aria-label') ?? element.textContent.trim();
      return [`${element.tagName.toLowerCase()} “${name || element.id}” ${width.toFixed(1)} × ${height.toFixed(1)}`];
    });
  }, leastPx);

/** Of these controls, those smaller than that. */
export async function smallerThan(leastPx: number, controls: Record<string, Locator>): Promise<string[]> {
  const small: string[] = [];
  for (const [name, control] of Object.entries(controls)) {
    const box = await control.boundingBox();
    if (box === null || box.width < leastPx || box.height < leastPx) small.push(`${name} ${JSON.stringify(box)}`);
  }
  return small;
}

/** Elements that still move although the person asked for none. */
export const movingParts = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('*')].flatMap((element) => {
      const { transitionDuration, animationDuration, animationName, scrollBehavior } = getComputedStyle(element);
      const seconds = `${transitionDuration},${animationName === 'none' ? '0s' : animationDuration}`.split(',');
      const moves = seconds.some((one) => Number.parseFloat(one) > 0.01) || scrollBehavior === 'smooth';
      return moves ? [`${element.tagName} ${element.getAttribute('class') ?? ''}`] : [];
    }),
  );

/** True when all of it lies in sight and nothing lies over its middle. */
export const isInSight = (control: Locator): Promise<boolean> =>
  control.evaluate((element) => {
    const { top, left, bottom, right } = element.getBoundingClientRect();
    const isInside = top >= 0 && left >= 0 && bottom <= window.innerHeight && right <= window.innerWidth;
    const above = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
    return isInside && above !== null && (element.contains(above) || above.contains(element));
  });

export interface Stop {
  name: string;
  /** The element with the focus, or the label that draws it, has a ring. */
  hasRing: boolean;
  /** Some of it can be seen where the page has scrolled to. */
  isSeen: boolean;
}

/** Walks through the page with the Tab key, from its beginning until the focus leaves it. */
export async function tabStops(page: Page, most = 150): Promise<Stop[]> {
  await page.evaluate(() => {
    window.scrollTo(0, 0);
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
  });
  const stops: Stop[] = [];
  while (stops.length < most) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(lookAtFocus);
    if (stop === null) return stops;
    stops.push(stop);
  }
  return stops;
}

function lookAtFocus(): Stop | null {
  const element = document.activeElement;
  if (!(element instanceof HTMLElement) || element === document.body) return null;
  const ringOf = (one: Element): boolean => {
    const { outlineStyle, outlineWidth } = getComputedStyle(one);
    return outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
  };
  const label = element instanceof HTMLInputElement ? element.labels?.[0] : undefined;
  const shown = label?.contains(element) ? label : element;
  const { top, left, width, height } = shown.getBoundingClientRect();
  const points = [0.1, 0.5, 0.9].map((part) => document.elementFromPoint(left + width / 2, top + height * part));
  return {
    name: (element.getAttribute('aria-label') ?? (label ?? element).textContent).replaceAll(/\s+/g, ' ').trim(),
    hasRing: ringOf(element) || ringOf(shown),
    isSeen: points.some((point) => point !== null && (shown.contains(point) || point.contains(shown))),
  };
}
