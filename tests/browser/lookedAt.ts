import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { violations } from './axe.ts';

/** Things that a finger has to meet, with less than 44 px (WCAG 2.2, 2.5.5) to either side of their edge. */
const tooSmall = (page: Page): Promise<readonly string[]> =>
  page
    .locator(
      'button:visible, select:visible, textarea:visible, summary:visible, a.pick:visible, nav a:visible',
    )
    .evaluateAll((elements) =>
      elements
        .map((element) => ({ text: element.textContent, box: element.getBoundingClientRect() }))
        .filter(({ box }) => box.height < 44 || box.width < 44)
        .map(({ text, box }) => `${text} ${box.width}×${box.height}`),
    );

const inTheme = async (page: Page, colorScheme: 'light' | 'dark'): Promise<void> => {
  await page.emulateMedia({ colorScheme });
  await expect.poll(() => page.evaluate(() => document.documentElement.dataset.theme)).toBe(colorScheme);
};

/**
 * Holds what is on show against what every view owes: axe finds nothing in light and dark, nothing scrolls sideways,
 * fingers find everything. `what` names it where one does not hold; `picture` is a place to keep a picture at.
 */
export const lookedAt = async (page: Page, what: string, picture?: string): Promise<void> => {
  const widthPx = page.viewportSize()?.width;
  expect([what, await violations(page)]).toEqual([what, []]);
  expect([what, await page.evaluate(() => document.documentElement.scrollWidth)]).toEqual([what, widthPx]);
  expect([what, await tooSmall(page)]).toEqual([what, []]);
  if (picture !== undefined) {
    const taken = await page.screenshot({ path: picture });
    expect(taken.length).toBeGreaterThan(8_000);
  }
  await inTheme(page, 'dark');
  expect([what, 'dark', await violations(page)]).toEqual([what, 'dark', []]);
  await inTheme(page, 'light');
};
