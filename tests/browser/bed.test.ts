import { resolve } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Point } from '../../analysis/locate/marks.ts';
import { paintedBed } from '../analysis/bed/paintedBed.ts';
import { knownReading } from '../server/commands/readingFile.ts';
import { violations } from './axe.ts';
import { builtPage } from './builtPage.ts';
import { DESK, PHONE } from './openPage.ts';

const root = resolve(import.meta.dirname, '../..');
const WIDE = 1200;

const built = builtPage();
let photo: Awaited<ReturnType<typeof paintedBed>>;
let turned: Awaited<ReturnType<typeof paintedBed>>;

beforeAll(async () => {
  // A lamp 30 % weaker at the left of the bed than at its right.
  const dose = (across: number): number => 0.85 + 0.3 * across;
  photo = await paintedBed({ dose, seconds: 90 });
  turned = await paintedBed({ dose, seconds: 90, turned: true, seed: 2 });
});

const visit = async (options: Parameters<typeof built.open>[1]): Promise<Page> => {
  await built.open('about:blank', options);
  const known = knownReading();
  // The demo stands for a strip of the dye that the sheet is painted with.
  await built.last.page.route('**/api/demos/hemp-banner-blue', async (route) => {
    const answer = await (await route.fetch()).json();
    await route.fulfill({
      json: {
        ...answer,
        reading: { ...answer.reading, ...known, curve: { kind: 'fitted', curve: known.curve } },
      },
    });
  });
  await built.last.page.goto(`${built.server.address}/#/evenness`);
  await built.last.page.locator('.bed-columns').waitFor();
  return built.last.page;
};

const give = (place: Locator, bytes: Uint8Array): Promise<void> =>
  place
    .locator('input[type="file"]')
    .setInputFiles({ name: 'sheet.png', mimeType: 'image/png', buffer: Buffer.from(bytes) });

/** Pulls a corner with arrow keys, which move by pixels of the screen, ten with Shift. */
const pullTo = async (place: Locator, page: Page, label: string, to: readonly [number, number]) => {
  const handle = place.getByRole('button', { name: label, exact: true });
  const image = await place.locator('.marked-photo img').boundingBox();
  if (!image) throw new Error('the photo has no place on the page');
  await handle.focus();
  const [x, y] = await place
    .locator('.leaders polygon')
    .evaluate(
      (polygon, index) => (polygon.getAttribute('points') ?? '').split(' ')[index].split(',').map(Number),
      Number(/\d/.exec(label)?.[0]) - 1,
    );
  const perPx = WIDE / image.width;
  for (const [by, more, less] of [
    [(to[0] - x) / perPx, 'ArrowRight', 'ArrowLeft'],
    [(to[1] - y) / perPx, 'ArrowDown', 'ArrowUp'],
  ] as const) {
    const key = by > 0 ? more : less;
    const far = Math.round(Math.abs(by));
    for (let i = 0; i < Math.floor(far / 10); i++) await page.keyboard.press(`Shift+${key}`);
    for (let i = 0; i < far % 10; i++) await page.keyboard.press(key);
  }
};

const mark = async (place: Locator, page: Page, name: string, quad: readonly Point[]): Promise<void> => {
  await place.getByLabel('Move').selectOption({ label: name });
  for (const i of [0, 1, 2, 3]) await pullTo(place, page, `Corner ${i + 1} of ${name}`, quad[i]);
};

const markAll = async (
  place: Locator,
  page: Page,
  { card, sheet }: Awaited<ReturnType<typeof paintedBed>>['marks'],
): Promise<void> => {
  await mark(place, page, 'Sheet', sheet.quad);
  for (const { name, quad } of card) await mark(place, page, `Card: ${name}`, quad);
};

const cellFigures = async (page: Page): Promise<number[]> =>
  (await page.locator('.dose-map .dose-text').allTextContents())
    .filter((text) => /\d/.test(text))
    .map((text) => Number(text.replace('−', '-').replace('+', '')));

describe('evenness of the bed', () => {
  it('maps a lamp 30 % weaker on the left, all by keys; percent and stops; another tolerance follows', async () => {
    const page = await visit(DESK);
    await page
      .getByLabel('Curve of this dye on this cloth')
      .selectOption({ label: 'Blue on the hemp banner (Demo)' });
    await page.getByLabel('Cells across').fill('5');
    await page.getByLabel('Cells down').fill('4');
    await page.getByRole('button', { name: 'Map the light' }).click();
    expect(await page.getByRole('alert').textContent()).toBe('Choose or take a photo first.');
    const first = page.locator('.bed-photo').first();
    await give(first, photo.bytes);
    await markAll(first, page, photo.marks);
    await page.getByRole('button', { name: 'Map the light' }).click();
    await page.locator('.dose-map').waitFor();
    expect(await page.locator('.bed-verdict').textContent()).toContain(
      'One side gets less light (left side)',
    );
    const cells = await cellFigures(page);
    expect(cells.length).toBe(20);
    // Middles of the outer columns: the painter's doses are 0.88 and 1.12 of the planned one, 24 % apart.
    for (let row = 0; row < 4; row++) {
      const line = cells.slice(5 * row, 5 * row + 5);
      expect(line).toEqual([...line].sort((a, b) => a - b));
      expect(line[4] - line[0]).toBeGreaterThan(18);
      expect(line[4] - line[0]).toBeLessThan(30);
    }
    expect(await page.locator('.bed-map').textContent()).toMatch(/tilt of up to \d+ % from left to right/);
    expect(await page.locator('.dose-frame').count()).toBe(2);
    const inside = /(\d) of 5 cells across/.exec((await page.locator('.bed-map').textContent()) ?? '');
    expect(cells.slice(0, 5).filter((percent) => Math.abs(percent) <= 10).length).toBe(Number(inside?.[1]));
    await page.getByRole('button', { name: 'Stops' }).click();
    expect((await cellFigures(page))[0]).toBeCloseTo(Math.log2(1 + cells[0] / 100), 1);
    await page.getByLabel(/^Even within/).fill('50');
    await page.getByText('The whole sheet can be used.').waitFor();
    expect(built.last.troubles).toEqual([]);
  });

  it('takes the turned photo too, which leaves less open; axe finds nothing; its pictures', {
    timeout: 110_000,
  }, async () => {
    for (const [width, size] of [
      ['390', PHONE],
      ['1280', DESK],
    ] as const) {
      const page = await visit(size);
      await page
        .getByLabel('Curve of this dye on this cloth')
        .selectOption({ label: 'Blue on the hemp banner (Demo)' });
      const [first, second] = [page.locator('.bed-photo').nth(0), page.locator('.bed-photo').nth(1)];
      await give(first, photo.bytes);
      await markAll(first, page, photo.marks);
      const openAcross = async (): Promise<number> => {
        await page.getByRole('button', { name: 'Map the light' }).click();
        await expect
          .poll(() => page.locator('.bed-facts [role="status"]').textContent(), { timeout: 20_000 })
          .toBe('');
        await page.locator('.dose-map').waitFor();
        const said = await page.locator('.bed-map').textContent();
        return Number(/tilt of up to (\d+) %/.exec(said ?? '')?.[1]);
      };
      const alone = await openAcross();
      await give(second, turned.bytes);
      await markAll(second, page, turned.marks);
      expect(await openAcross()).toBeLessThan(alone);
      expect(await violations(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(Number(width));
      await page.locator('.bed-map').scrollIntoViewIfNeeded();
      await page.locator('#map-heading').evaluate((heading) => heading.scrollIntoView());
      await page.screenshot({ path: resolve(root, `docs/pictures/evenness-${width}.png`) });
      expect(built.last.troubles).toEqual([]);
      if (size === PHONE) await built.last.context.close();
    }
  });
});
