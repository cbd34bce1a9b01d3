import { resolve } from 'node:path';
import type { Page, Route } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { go, planTimes } from './atTheClock.ts';
import { builtPage } from './builtPage.ts';
import { lookedAt } from './lookedAt.ts';
import { DESK, PHONE } from './openPage.ts';

const root = resolve(import.meta.dirname, '../..');
const PHOTO = resolve(root, 'fixtures/demo/hemp-banner-blue.jpg');

const built = builtPage({ own: {} });

const refused =
  (status: number, code: string, message: string) =>
  (route: Route): Promise<void> =>
    route.fulfill({ status, json: { error: { code, message } } });

const view = async (page: Page, hash: string, there: string): Promise<void> => {
  await page.goto(`${built.server.address}/${hash}`);
  await page.locator(there).first().waitFor();
  await built.last.settled();
};

const press = (page: Page, name: string): Promise<void> =>
  page.getByRole('button', { name, exact: true }).click();

// Chromium itself reports on the console what was refused; the page adds nothing to it.
const ownTroubles = (): readonly string[] =>
  built.last.troubles.filter((line) => !/Failed to load resource/.test(line));

describe.each([
  ['390 px', PHONE],
  ['1280 px', DESK],
] as const)('at %s, light and dark, axe finds nothing', (_, size) => {
  it('where a form is sent with mistakes, where a photo is none, where a reading is refused, and in the ways on from there', async () => {
    const { page } = await built.open('/#/read', size);
    await page.locator('.form-view').waitFor();
    await page.locator('#times').fill('0, 40, soon');
    await page.getByRole('radio', { name: 'My own patches' }).check();
    await press(page, 'Read the strip');
    await page.getByText('Choose or take a photo first.').waitFor();
    await lookedAt(page, 'a form with mistakes');
    await page.getByRole('radio', { name: 'White, grey and black' }).check();
    const photo = page.getByLabel('Choose a photo', { exact: true });
    await photo.setInputFiles(resolve(root, 'package.json'));
    await page.getByRole('alert').filter({ hasText: 'JPEG' }).waitFor();
    expect(await page.getByText('Everything you entered is still here.').count()).toBe(1);
    await lookedAt(page, 'a photo that is none');
    await photo.setInputFiles(PHOTO);
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.locator('#times').fill('0, 1:00, 1:45, 3:00, 5:20, 9:20, 16:40');
    await page.route('**/api/readings', refused(422, 'strip-not-found', 'No strip was found.'));
    await press(page, 'Read the strip');
    await page.getByText('The strip was not found in the photo.').waitFor();
    await lookedAt(page, 'a strip that was not found');
    await press(page, 'Tap on card and strip');
    await page.locator('.tap-photo').waitFor();
    await lookedAt(page, 'a tap on card and strip');
    await page.unroute('**/api/readings');
    await page.reload();
    await page.locator('.photo-field .marked-photo img').waitFor();
    await press(page, 'Read the strip');
    await page.locator('.keep-form').waitFor();
    await press(page, 'Correct by hand');
    await page.locator('.handle').first().waitFor();
    await lookedAt(page, 'marks by hand');
    await press(page, 'Leave as it was');
    await press(page, 'Keep in the book');
    await page.getByText('Name dye, cloth and light: a time holds for these alone.').waitFor();
    await lookedAt(page, 'keeping without names');
    expect(ownTroubles()).toEqual([]);
  });

  it('where a reading is rough, where it gives no time, and where its signs are explained', async () => {
    const { page } = await built.open('/#/answer/demo-cotton-blueprint', size);
    await page.locator('.found .marked-photo').waitFor();
    expect(await page.locator('.notes .warnings li').count()).toBeGreaterThan(0);
    await lookedAt(page, 'a reading with warnings');
    await view(page, '#/answer/demo-linen-brown-too-short', '.no-time');
    await lookedAt(page, 'a strip that is too short');
    expect(ownTroubles()).toEqual([]);
  });

  it('where nothing is there yet', async () => {
    const { page } = await built.open('/#/book', size);
    for (const [hash, there] of [
      ['#/book', '.empty'],
      ['#/today', '.empty'],
      ['#/drift', '.empty'],
      ['#/compare', '.candidates'],
      ['#/archive', '#place-heading'],
      ['#/run', '.empty'],
    ] as const) {
      await view(page, hash, there);
      await lookedAt(page, `${hash}, empty`);
    }
    expect(ownTroubles()).toEqual([]);
  });

  it('where the server is gone or the book can’t be opened', async () => {
    const { page } = await built.open('about:blank', size);
    await page.route('**/api/demos', (route) => route.abort('connectionrefused'));
    await page.goto(built.server.address);
    await page.getByRole('button', { name: 'Try again' }).waitFor();
    await lookedAt(page, 'no server');
    await page.unroute('**/api/demos');
    await page.route('**/api/record/**', refused(503, 'book-unavailable', 'The book is damaged.'));
    await view(page, '#/book', '[role="alert"]');
    // Nothing was entered, so there is nothing to be calmed about.
    expect(await page.getByText('Everything you entered is still here.').count()).toBe(0);
    await lookedAt(page, 'no book');
    expect(ownTroubles()).toEqual([]);
  });

  it('where something is wrong in plan, settings and evenness, where phones can’t come in, and where a step can be taken back', async () => {
    const { page } = await built.open('/#/plan', size);
    await page.getByRole('radio', { name: 'My own list of times' }).check();
    await page.getByLabel(/^Times/).fill('1:00; soon');
    await page.getByText('“soon” is no time.').waitFor();
    await lookedAt(page, 'a plan with a mistake');
    await planTimes(page, '1:00; 2:00');
    await press(page, 'Light on: start');
    await press(page, 'Start over');
    await page.getByText('The clock stands at the beginning.').waitFor();
    await lookedAt(page, 'a notice with a way back');
    await go(page, 'Read');
    await press(page, 'Use my phone as the camera');
    await page.getByText('Phones can’t reach this computer yet').waitFor();
    await lookedAt(page, 'no way in for phones');
    await view(page, '#/settings', '.settings-view');
    await page.getByText('When a step counts as washed out').click();
    await page.getByLabel('Full depth within so many L* of the deepest').fill('200');
    await page.getByText('A number from 0 to 20.').waitFor();
    await lookedAt(page, 'settings with a mistake');
    await view(page, '#/evenness', '.bed-columns');
    await press(page, 'Map the light');
    await page.getByRole('alert').waitFor();
    await lookedAt(page, 'evenness without a photo');
    expect(ownTroubles()).toEqual([]);
  });
});
