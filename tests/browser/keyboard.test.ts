import { resolve } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { figures, pass, phase, sleep } from './atTheClock.ts';
import { builtPage } from './builtPage.ts';
import { DESK, PHONE } from './openPage.ts';

const PHOTO = resolve(import.meta.dirname, '../../fixtures/demo/hemp-banner-blue.jpg');

const built = builtPage({ own: {} });

const has = (place: Locator): Promise<boolean> =>
  place.evaluate((element) => element === document.activeElement);

/** What has the focus, and whether an outline shows it: on the element, or on what is drawn in its place. */
const focused = (page: Page): Promise<readonly [string, boolean]> =>
  page.evaluate(() => {
    const { activeElement } = document;
    if (!activeElement || activeElement === document.body) return ['', true] as const;
    const shown = [activeElement, activeElement.closest('label'), activeElement.parentElement].some(
      (drawn) => {
        if (!drawn) return false;
        const { outlineStyle, outlineWidth } = getComputedStyle(drawn);
        return outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
      },
    );
    return [activeElement.outerHTML.slice(0, 120), shown] as const;
  });

/** Tabs on until this has the focus; everything on the way must show that it has it. */
const tabTo = async (page: Page, place: Locator): Promise<void> => {
  await place.waitFor({ state: 'attached' });
  for (let i = 0; i < 120; i++) {
    await page.keyboard.press('Tab');
    const [element, shown] = await focused(page);
    expect([element, shown]).toEqual([element, true]);
    if (await has(place)) return;
  }
  throw new Error('120 steps of the Tab key do not lead there');
};

const press = async (page: Page, what: string | Locator): Promise<void> => {
  await tabTo(page, typeof what === 'string' ? page.getByRole('button', { name: what, exact: true }) : what);
  await page.keyboard.press('Enter');
};

const write = async (page: Page, place: Locator, text: string): Promise<void> => {
  await tabTo(page, place);
  await page.keyboard.press('ControlOrMeta+A');
  await page.keyboard.type(text);
};

/** The view that was reached has the focus, or something in it: nobody is sent back to the start of the page. */
const isIn = async (page: Page, heading: string): Promise<void> => {
  await page.getByRole('heading', { name: heading, level: 1 }).waitFor();
  expect(await page.evaluate(() => document.activeElement !== document.body)).toBe(true);
};

describe.each([
  ['1280 px', DESK],
  ['390 px', PHONE],
] as const)('by the keyboard alone at %s', (_, size) => {
  it('leads the whole way from a plan over the clock and the photo into the book', {
    timeout: 110_000,
  }, async () => {
    const { page, troubles } = await built.open('about:blank', size);
    // Listened for from the start, or Chromium opens a dialog that no test can answer.
    page.on('filechooser', (chooser) => chooser.setFiles(PHOTO));
    await page.clock.install({ time: new Date('2026-11-25T10:00:00Z') });
    await page.goto(built.server.address);
    await page.locator('.figures').waitFor();
    await page.clock.pauseAt(new Date('2026-11-25T10:05:00Z'));

    // The first stop leads past the frame.
    await page.keyboard.press('Tab');
    expect(await has(page.getByRole('link', { name: 'Skip to the content' }))).toBe(true);
    await page.keyboard.press('Enter');
    expect(await has(page.locator('#main'))).toBe(true);

    const grip = page.getByRole('slider', { name: 'Target depth' });
    await tabTo(page, grip);
    const before = Number(await grip.getAttribute('aria-valuenow'));
    await page.keyboard.press('ArrowUp');
    await pass(page, 1);
    await expect
      .poll(async () => Number(await grip.getAttribute('aria-valuenow')))
      .toBeCloseTo(before + 0.5, 1);

    await tabTo(page, page.getByRole('link', { name: 'Plan', exact: true }));
    await page.keyboard.press('Enter');
    await isIn(page, 'Plan a strip');
    await tabTo(page, page.getByRole('radio', { name: 'Nothing yet' }));
    const wanted = page.getByRole('radio', { name: 'My own list of times' });
    for (let i = 0; i < 8 && !(await wanted.isChecked()); i++) await page.keyboard.press('ArrowDown');
    expect(await wanted.isChecked()).toBe(true);
    await write(page, page.getByLabel(/^Times/), '1:00; 1:45; 3:00; 5:20; 9:20; 1000 s');
    await write(page, page.getByLabel('Dye'), 'light-set blue');
    await write(page, page.getByLabel('Cloth'), 'banner hemp');
    await write(page, page.getByRole('textbox', { name: 'Light', exact: true }), 'blacklight tubes');
    await press(page, 'To the clock');

    await isIn(page, 'Expose light-set blue · banner hemp');
    await press(page, 'Light on: start');
    await pass(page, 3);
    expect([await phase(page), await figures(page)]).toEqual(['Wait', '00:57']);
    for (const [asleep, awake] of [
      [50, 15],
      [34, 15],
      [60, 20],
      [110, 20],
      [225, 20],
      [420, 20],
    ]) {
      await sleep(page, asleep);
      await pass(page, awake);
    }
    expect(await phase(page)).toBe('Done');
    await press(page, 'Photograph it with these times');

    await isIn(page, 'Read a strip');
    await page.clock.resume();
    await tabTo(page, page.getByLabel('Choose a photo', { exact: true }));
    await page.keyboard.press('Enter');
    await page.locator('.photo-field .marked-photo img').waitFor();
    await press(page, 'Read the strip');

    await isIn(page, 'light-set blue · banner hemp');
    await press(page, 'Correct by hand');
    const handle = page.getByRole('button', { name: 'Corner 1 of Whole strip' });
    await tabTo(page, handle);
    const area = page.locator('.found .area').nth(3).locator('polygon').first();
    const lay = await area.getAttribute('points');
    await page.keyboard.press('ArrowLeft');
    await expect.poll(() => area.getAttribute('points')).not.toBe(lay);
    await press(page, 'Read again with these marks');
    await page.getByRole('button', { name: 'Correct by hand' }).waitFor();

    await write(page, page.getByLabel('Hour meter of the lamps (h)'), '120');
    await press(page, 'Keep in the book');
    await page.getByRole('heading', { name: 'Kept in the book.' }).waitFor();
    await press(page, 'See it in the book');
    await write(page, page.getByLabel('New note'), 'Done without a mouse.');
    await press(page, 'Write it down');
    await page.locator('.kept-notes').getByText('Done without a mouse.').waitFor();
    await tabTo(page, page.getByRole('link', { name: 'Book', exact: true }));
    await page.keyboard.press('Enter');
    await isIn(page, 'Book');
    expect(await page.title()).toBe('Book · Tonestep');
    const rows = page.locator('.kept-row');
    await rows.first().waitFor();
    const kept = await rows.count();
    await press(page, rows.first().getByRole('button', { name: /^Put away/ }));
    await expect.poll(() => rows.count()).toBe(kept - 1);
    await press(page, 'Undo');
    await expect.poll(() => rows.count()).toBe(kept);
    expect(troubles).toEqual([]);
  });
});
