import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { builtPage } from './builtPage.ts';
import { DESK, PHONE } from './openPage.ts';

const root = resolve(import.meta.dirname, '../..');
const PHOTO = resolve(root, 'fixtures/demo/hemp-banner-blue.jpg');
const TIMES = '0, 60, 105, 180, 320, 560, 1000';

/** A busy machine may take seconds for what takes a quiet one 0.1 s. */
const soon = <T>(look: () => Promise<T>) => expect.poll(look, { timeout: 20_000 });

const page = builtPage({ own: {} });
/** The same strip, turned end for end: another photo of it. */
let turned: Buffer;

beforeAll(async () => {
  turned = await sharp(PHOTO).rotate(180).keepIccProfile().jpeg({ quality: 92 }).toBuffer();
});

const choose = async (on: Page): Promise<void> => {
  await on.getByLabel('Choose a photo', { exact: true }).setInputFiles(PHOTO);
  await on.locator('.photo-field .marked-photo img').waitFor();
  await on.locator('#times').fill(TIMES);
};

const addTurned = async (on: Page): Promise<void> => {
  await on
    .getByLabel('Add another photo of this strip')
    .setInputFiles({ name: 'turned.jpg', mimeType: 'image/jpeg', buffer: turned });
  await on.locator('.further-photo .marked-photo img').waitFor();
};

const read = async (on: Page): Promise<void> => {
  await on.getByRole('button', { name: 'Read the strip' }).click();
  await on.locator('.reading-view').waitFor();
};

const lightnesses = (on: Page): Promise<string[]> => on.locator('.live-value').allInnerTexts();

/** Drags the first corner of the whole strip. */
const dragCorner = async (on: Page, dx: number, dy: number): Promise<void> => {
  const handle = on.locator('.handle').first();
  await handle.evaluate((element) => element.scrollIntoView({ block: 'center', behavior: 'instant' }));
  await handle.hover();
  const box = await handle.boundingBox();
  if (!box) throw new Error('the editor has no handle');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await on.mouse.down();
  await on.mouse.move(x + dx / 2, y + dy / 2);
  await on.mouse.move(x + dx, y + dy);
  await on.mouse.up();
};

describe.each([
  ['390 px', PHONE],
  ['1280 px', DESK],
] as const)('marks that are moved by hand at %s', (_, size) => {
  it('change the L* beneath the photo at once, then the reading; the photo is not sent again', async () => {
    const { page: on, troubles } = await page.open('/#/read', size);
    await choose(on);
    const uploads: string[] = [];
    on.on('request', (request) => {
      if (Number(request.headers()['content-length'] ?? 0) > 100_000) uploads.push(request.url());
    });
    await read(on);
    await on.getByRole('button', { name: 'Correct by hand' }).click();
    await on.locator('.live-steps').waitFor();
    const before = await lightnesses(on);
    const table = await on.locator('.steps').textContent();
    expect(before).toHaveLength(7);
    await dragCorner(on, 30, 12);
    await soon(() => lightnesses(on)).not.toEqual(before);
    await soon(() => on.locator('.steps').textContent()).not.toBe(table);
    const moved = (await lightnesses(on)).join();
    await soon(async () =>
      (await on.locator('.steps tbody td.number').allInnerTexts()).map((cell) => cell.split(/\s/)[0]).join(),
    ).toBe(moved);
    await on.getByRole('button', { name: 'Leave as it was' }).click();
    await soon(() => on.locator('.steps').textContent()).toBe(table);
    expect(uploads).toEqual([]);
    expect(troubles).toEqual([]);
  });
});

describe('several further photos at once', () => {
  it('are all taken, each with its name', async () => {
    const { page: on } = await page.open('/#/read');
    await choose(on);
    await on.getByLabel('Add another photo of this strip').setInputFiles([
      { name: 'turned.jpg', mimeType: 'image/jpeg', buffer: turned },
      { name: 'again.jpg', mimeType: 'image/jpeg', buffer: turned },
    ]);
    await on.locator('.further-photo').nth(1).waitFor();
    const names = await on.locator('.further-head span').allInnerTexts();
    expect(names.map((name) => name.split(': ')[1]).sort()).toEqual(['again.jpg', 'turned.jpg']);
  });
});

describe('what a hand has changed', () => {
  it('in a reading is taken back by Undo: the steps and the marks are as they were', async () => {
    const { page: on } = await page.open('/#/read');
    await choose(on);
    await read(on);
    const table = await on.locator('.steps').textContent();
    await on.getByRole('button', { name: 'Correct by hand' }).click();
    await on.locator('.live-steps').waitFor();
    await dragCorner(on, 30, 12);
    await on.getByRole('button', { name: 'Read again with these marks' }).click();
    await soon(() => on.locator('.steps').textContent()).not.toBe(table);
    await on.locator('.notice').getByRole('button', { name: 'Undo' }).click();
    await soon(() => on.locator('.steps').textContent()).toBe(table);
    await on.reload();
    await on.locator('.steps').waitFor();
    expect(await on.locator('.steps').textContent()).toBe(table);
  });

  it('in the times of the form is taken back by Undo after a plan has replaced them', async () => {
    const { page: on } = await page.open('/#/read');
    await on.locator('#times').fill('0, 33 s, 77 s');
    await on.goto(`${page.server.address}/#/plan`);
    await on.getByRole('button', { name: 'Read it with these times' }).click();
    await soon(() => on.locator('#times').inputValue()).toContain('32:00');
    await on.locator('.notice').getByRole('button', { name: 'Undo' }).click();
    await soon(() => on.locator('#times').inputValue()).toBe('0, 33 s, 77 s');
  });

  it('in the choice of photos is taken back by Undo: first photo, its marks and the second', async () => {
    const { page: on } = await page.open('/#/read');
    await choose(on);
    await addTurned(on);
    await on
      .locator('.photo-field > .editor-row')
      .getByRole('button', { name: 'Place the marks by hand' })
      .click();
    await on.locator('.mark-editor').waitFor();
    await on
      .getByLabel('Another photo', { exact: true })
      .setInputFiles({ name: 'other.jpg', mimeType: 'image/jpeg', buffer: turned });
    await on.getByText('other.jpg').waitFor();
    expect(await on.locator('.further-photo, .mark-editor').count()).toBe(0);
    await on.locator('.notice').getByRole('button', { name: 'Undo' }).click();
    await on.locator('.further-photo').waitFor();
    await on.locator('.mark-editor').waitFor();
  });
});

describe('the first visit', () => {
  it('says that a demo is on show, and leads to one’s own strip', async () => {
    const { page: on } = await page.open('/', PHONE);
    await on.getByRole('button', { name: 'Read your own strip' }).tap();
    await on.getByRole('heading', { name: 'Read a strip' }).waitFor();
  });

  it('of one’s own reading leads from the answer to the form that keeps it', async () => {
    const { page: on } = await page.open('/#/read', PHONE);
    await choose(on);
    await read(on);
    await on.locator('.keep-form').waitFor();
    await on.getByRole('button', { name: 'Keep it in the book' }).tap();
    await expect
      .poll(() => on.evaluate(() => document.activeElement?.textContent))
      .toBe('Keep it in the book');
    expect(await on.locator('.keep-form').isVisible()).toBe(true);
    await expect
      .poll(() => on.locator('#keep-heading').evaluate((heading) => heading.getBoundingClientRect().top))
      .toBeLessThan(400);
  });
});

describe('a photo that the server has forgotten', () => {
  it('is sent once more, and the reading goes on', async () => {
    const { page: on } = await page.open('/#/read');
    await choose(on);
    await read(on);
    let refused = 0;
    let sent = 0;
    await on.route('**/api/steps', async (route) => {
      refused += 1;
      if (refused > 1) return route.fallback();
      const error = { code: 'photo-forgotten', message: 'This photo is no longer held. Send it again.' };
      return route.fulfill({ status: 410, json: { error } });
    });
    on.on('request', (request) => {
      if (request.url().endsWith('/api/previews')) sent += 1;
    });
    await on.getByRole('button', { name: 'Correct by hand' }).click();
    await on.locator('.live-steps').waitFor();
    const before = await lightnesses(on);
    await dragCorner(on, 30, 12);
    await soon(() => lightnesses(on)).not.toEqual(before);
    expect([refused > 1, sent]).toEqual([true, 1]);
  });
});

describe('two photos of one strip', () => {
  it('survive a reload before they are read, are corrected each, and are kept and opened again together', async () => {
    const { page: on, troubles } = await page.open('/#/read');
    await choose(on);
    for (const [name, text] of [
      ['Dye', 'kelp brown'],
      ['Cloth', 'sail linen'],
      ['Light', 'quay tubes'],
    ])
      await on.getByRole('textbox', { name, exact: true }).fill(text);
    await addTurned(on);
    // What is chosen is kept while the page goes on; a phone that ends it a moment later has both.
    await soon(() =>
      on.evaluate(
        () =>
          new Promise<number>((settle) => {
            const request = indexedDB.open('tonestep');
            request.onsuccess = () => {
              const get = request.result.transaction('things').objectStore('things').get('draft-photos');
              get.onsuccess = () => settle((get.result ?? []).length);
            };
          }),
      ),
    ).toBe(2);
    await on.reload();
    await on.locator('.further-photo .marked-photo img').waitFor();
    expect(await on.locator('.further-photo').textContent()).toContain('turned.jpg');
    await read(on);
    expect(await on.locator('.notes').textContent()).toContain('Read from 2 photos');

    await on.getByRole('button', { name: 'Photo 2' }).click();
    await on.getByRole('button', { name: 'Correct by hand' }).click();
    await on.locator('.live-steps').waitFor();
    const before = await lightnesses(on);
    await dragCorner(on, 30, 12);
    await soon(() => lightnesses(on)).not.toEqual(before);
    await on.getByRole('button', { name: 'Read again with these marks' }).click();
    await on.getByRole('button', { name: 'Correct by hand' }).waitFor();
    const figures = await on.locator('.steps').textContent();

    await on.locator('.keep-form').waitFor();
    await on.getByRole('button', { name: 'Keep in the book' }).click();
    await on.getByRole('button', { name: 'See it in the book' }).click();
    await on.getByRole('heading', { name: 'In the book' }).waitFor();
    const kept = (await (
      await fetch(`${page.server.address}/api/record/readings/${on.url().split('kept-')[1]}`)
    ).json()) as { settings: { marks: unknown; also: { marks: { steps: { origin: string }[] } | null }[] } };
    expect(kept.settings.marks).toBeNull();
    expect(kept.settings.also.map(({ marks }) => marks?.steps[0].origin)).toEqual(['hand']);
    expect(await on.locator('.steps').textContent()).toBe(figures);
    await on.getByRole('button', { name: 'Photo 2' }).click();
    await on.getByRole('button', { name: 'Correct by hand' }).click();
    await on.locator('.live-steps').waitFor();
    await dragCorner(on, -20, -8);
    await on.getByRole('button', { name: 'Read again with these marks' }).click();
    await soon(() => on.locator('.steps').textContent()).not.toBe(figures);
    expect(await on.locator('.notes').textContent()).toContain('Read from 2 photos');
    expect(troubles).toEqual([]);
  });

  it('lose the second by a cross, and have it back by Undo', async () => {
    const { page: on } = await page.open('/#/read');
    await choose(on);
    await addTurned(on);
    await on.getByRole('button', { name: 'Leave photo 2 out' }).click();
    await on.locator('.further-photo').waitFor({ state: 'detached' });
    await on.locator('.notice').getByRole('button', { name: 'Undo' }).click();
    await on.locator('.further-photo').waitFor();
  });

  it('are refused early where the second is no photo', async () => {
    const { page: on } = await page.open('/#/read');
    await choose(on);
    await on
      .getByLabel('Add another photo of this strip')
      .setInputFiles({ name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('no photo') });
    await on.locator('.further-photos .problem').waitFor();
    expect(await on.locator('.further-photo').count()).toBe(0);
  });
});

describe('a photo chosen while the page still looks up what the browser kept', () => {
  it('stays, though the list of demos is asked for after it', async () => {
    const { page: on } = await page.open('/#/read');
    // The browser's store takes a second to open, and the server two to look at the photo.
    await on.addInitScript(() => {
      const open = IDBFactory.prototype.open;
      IDBFactory.prototype.open = function (...args) {
        const request = open.apply(this, args);
        Object.defineProperty(request, 'onsuccess', {
          set: (settle: () => void) => request.addEventListener('success', () => setTimeout(settle, 1000)),
        });
        return request;
      };
    });
    await on.route('**/api/previews', async (route) => {
      await new Promise((resolve) => setTimeout(resolve, 2000));
      await route.continue();
    });
    await on.reload();
    await choose(on);
  });
});

describe.each([
  ['English', 'en-GB'],
  ['German', 'de-DE'],
])('the first load in %s', (_, locale) => {
  it('fetches at most 60 kB of script, gzipped, before a time is on show', async () => {
    const { page: on } = await page.open('about:blank', { ...PHONE, locale });
    const scripts: string[] = [];
    await on.addInitScript(() => {
      new MutationObserver((_, watch) => {
        if (!document.querySelector('.figures')) return;
        performance.mark('usable');
        watch.disconnect();
      }).observe(document, { childList: true, subtree: true });
    });
    await on.goto(page.server.address);
    await on.locator('.figures').waitFor();
    scripts.push(
      ...(await on.evaluate(() => {
        const [{ startTime: usable }] = performance.getEntriesByName('usable');
        return performance
          .getEntriesByType('resource')
          .filter(({ name, startTime }) => name.endsWith('.js') && startTime <= usable)
          .map(({ name }) => new URL(name).pathname);
      })),
    );
    const bytes = scripts.reduce(
      (sum, path) => sum + gzipSync(readFileSync(resolve(root, `dist/web${path}`)), { level: 9 }).length,
      0,
    );
    expect(scripts.length).toBeGreaterThan(3);
    expect(bytes).toBeLessThanOrEqual(60_000);
  });
});
