import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import type { BuiltPage } from './builtPage.ts';
import type { DESK, PHONE } from './openPage.ts';

/** Follows a way of the page's navigation. */
export const go = (page: Page, name: string): Promise<void> =>
  page.getByRole('link', { name, exact: true }).click();

/** Plans a strip of these times and brings it to the clock. */
export const planTimes = async (page: Page, times: string): Promise<void> => {
  await go(page, 'Plan');
  await page.getByRole('radio', { name: 'My own list of times' }).check();
  await page.getByLabel(/^Times/).fill(times);
  await page.getByLabel('Dye').fill('light-set blue');
  await page.getByLabel('Cloth').fill('banner hemp');
  await page.getByRole('textbox', { name: 'Light', exact: true }).fill('blacklight tubes');
  await page.getByRole('button', { name: 'To the clock' }).click();
};

/** Lets the page's own clock run on while it is awake. */
export const pass = (page: Page, seconds: number): Promise<void> => page.clock.runFor(seconds * 1000);

/** The page sleeps, as in a locked phone: its clock goes on, its timers do not. */
export const sleep = (page: Page, seconds: number): Promise<void> => page.clock.fastForward(seconds * 1000);

/** The clock's large figures. */
export const figures = async (page: Page): Promise<string> =>
  (await page.locator('.clock-figures').textContent()) ?? '';

/** What the clock says is to do. */
export const phase = async (page: Page): Promise<string> =>
  (await page.locator('.phase-word').textContent()) ?? '';

/** Opens the first demo as a fresh visitor, with the page's own clock standing still at 10:05 unless told otherwise. */
export const visitorsOf =
  (built: BuiltPage) =>
  async (
    size: typeof DESK | typeof PHONE,
    withClock = true,
    before?: (page: Page) => Promise<void>,
  ): Promise<Page> => {
    const { page } = await built.open('about:blank', size);
    await before?.(page);
    if (withClock) await page.clock.install({ time: new Date('2026-11-25T10:00:00Z') });
    await page.goto(built.server.address);
    await page.locator('.figures').waitFor();
    if (withClock) await page.clock.pauseAt(new Date('2026-11-25T10:05:00Z'));
    return page;
  };

/** Waits until the browser keeps the page for when the network is gone. */
export const keptOffline = (page: Page): Promise<void> =>
  expect
    .poll(() => page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.active?.state), {
      timeout: 20_000,
    })
    .toBe('activated');
