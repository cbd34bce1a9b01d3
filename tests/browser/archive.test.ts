import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe.ts';
import { builtPage } from './builtPage.ts';
import { keepDemo, postJson } from './keptStrips.ts';
import { DESK, PHONE } from './openPage.ts';
import { type RunningServer, startServer } from './runningServer.ts';

/** The book that is taken out. */
const from = builtPage({ own: {} });

/** An empty book, on another computer as it were. */
let to: RunningServer;
let archive: Buffer;

const textOf = async (page: Page, selector: string): Promise<string> =>
  (await page.locator(selector).textContent()) ?? '';

const bringIn = async (page: Page, buffer: Buffer): Promise<void> => {
  const answered = page.waitForResponse(
    (response) => response.url().endsWith('/api/record/archive') && response.request().method() === 'POST',
  );
  await page
    .getByLabel('Choose an archive')
    .setInputFiles({ name: 'tonestep-book.zip', mimeType: 'application/zip', buffer });
  await answered;
};

/** What the page says lies in the data folder. */
const counts = async (page: Page): Promise<string> => {
  await page.locator('#place-heading').waitFor();
  return textOf(page, '[aria-labelledby="place-heading"] .fine');
};

const rowsOf = async (page: Page, { address }: RunningServer): Promise<readonly string[]> => {
  await page.goto(`${address}/#/book`);
  await page.locator('.kept-row').first().waitFor();
  return page.locator('.kept-row .book-words').allTextContents();
};

beforeAll(async () => {
  to = await startServer();
  const id = await keepDemo(from.server, 'hemp-banner-blue', 'calibration', '2026-03-02T10:00:00.000Z');
  await keepDemo(from.server, 'cotton-blueprint', 'calibration', '2026-03-09T10:00:00.000Z');
  await postJson(from.server, '/api/record/notes', {
    on: { kind: 'reading', id },
    text: 'Hung in the draught of the gate.',
  });
});

afterAll(() => to.stop());

afterEach(() => expect(to.complaints()).toBe(''));

describe('a book taken out of one computer', () => {
  it('leaves by the link as one file that holds 2 readings and their photos', async () => {
    const { page, troubles } = await from.open('/#/archive', DESK);
    expect(await counts(page)).toMatch(/^2 readings, 2 photos, \d+\.\d MB$/);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Take the book out (ZIP)' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('tonestep-book.zip');
    archive = readFileSync(await download.path());
    // A zip begins with PK, 3, 4 (APPNOTE 4.3.7).
    expect([...archive.subarray(0, 4)]).toEqual([0x50, 0x4b, 3, 4]);
    expect(troubles).toEqual([]);
  });

  it.each([
    ['broken off in the middle', () => archive.subarray(0, archive.length >> 1), /damaged or breaks off/],
    [
      'with one byte of a photo turned',
      () => {
        const bytes = Buffer.from(archive);
        bytes[bytes.length >> 1] ^= 0xff;
        return bytes;
      },
      /damaged or breaks off/,
    ],
    [
      'that is a letter',
      () => Buffer.from('Dear printer, here is my book.'),
      /no archive of a Tonestep book/,
    ],
  ])('is refused with words where it is a file %s, and nothing is brought in', async (_, damaged, words) => {
    const { page, troubles } = await from.open(`${to.address}/#/archive`, PHONE);
    expect(await counts(page)).toMatch(/^0 readings, 0 photos, 0\.0 MB$/);
    await bringIn(page, damaged());
    const alert = page.getByRole('alert');
    await alert.waitFor();
    expect(await alert.textContent()).toMatch(words);
    expect(await alert.textContent()).toContain('nothing was brought in');
    expect(await violations(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    await page.reload();
    expect(await counts(page)).toMatch(/^0 readings, 0 photos, 0\.0 MB$/);
    await page.goto(`${to.address}/#/book`);
    await page.getByText('Nothing is kept in the book yet.').waitFor();
    // Chromium itself reports the refused request on the console; the page adds nothing to it.
    expect(troubles.filter((line) => !/status of 4\d\d/.test(line))).toEqual([]);
  });

  it('comes into an empty one: the same readings, photo, note and time for today; a second time changes nothing', async () => {
    const source = await from.open('/#/today', DESK);
    await source.page.locator('.today-answer .figures').waitFor();
    const time = await textOf(source.page, '.today-answer .figures');
    const rows = await rowsOf(source.page, from.server);
    expect(rows.length).toBe(2);

    const { page, troubles } = await from.open(`${to.address}/#/archive`, DESK);
    await bringIn(page, archive);
    await page.getByText(/^\d+ rows came in, 0 were there already\./).waitFor();
    await expect.poll(() => counts(page)).toMatch(/^2 readings, 2 photos, \d+\.\d MB$/);
    expect(await violations(page)).toEqual([]);
    await bringIn(page, archive);
    await page.getByText(/^0 rows came in, [1-9]\d* were there already\./).waitFor();

    expect(await rowsOf(page, to)).toEqual(rows);
    await page.getByRole('button', { name: /^Open: light-set blue/ }).click();
    await page.locator('.kept-notes').getByText('Hung in the draught of the gate.').waitFor();
    // The choice of strips names the one on show, though it is neither in this browser nor a demo.
    expect(await page.getByLabel('Strip on show').locator('option:checked').textContent()).toMatch(
      /^light-set blue · hemp for the harbour banners, /,
    );
    const drawn = await page
      .locator('.found .marked-photo img')
      .evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth));
    expect(drawn).toBeGreaterThan(500);
    await page.goto(`${to.address}/#/today`);
    await page.locator('.today-answer .figures').waitFor();
    expect(await textOf(page, '.today-answer .figures')).toBe(time);
    expect(troubles).toEqual([]);
    expect(source.troubles).toEqual([]);
  });
});
