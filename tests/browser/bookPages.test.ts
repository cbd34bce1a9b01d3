import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Download, Page } from 'playwright-core';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { paintedBed } from '../analysis/bed/paintedBed.ts';
import { violations } from './axe.ts';
import { builtPage } from './builtPage.ts';
import { keepDemo, postJson } from './keptStrips.ts';
import { DESK, PHONE } from './openPage.ts';

const built = builtPage({ own: {} });

const SIZES = [
  ['390', PHONE],
  ['1280', DESK],
] as const;

const saved = async (page: Page, button: RegExp): Promise<Download> => {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: button }).click(),
  ]);
  return download;
};

const textOfFile = async (download: Download): Promise<string> =>
  readFileSync((await download.path()) as string, 'utf8');

/** Nothing wider than the page, nothing for axe to find, a silent console. */
const sound = async (page: Page, width: string): Promise<void> => {
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(Number(width));
  expect(await violations(page)).toEqual([]);
  expect(built.last.troubles).toEqual([]);
};

describe('a book in which nothing is kept', () => {
  it.each(SIZES)('shows at %s px what to do next in every part', async (width, size) => {
    const { page, settled } = await built.open('/#/book', size);
    await page.getByText('Nothing is kept in the book yet.').waitFor();
    // Nothing to narrow where there is nothing.
    expect(await page.getByText('Narrow the list').count()).toBe(0);
    await sound(page, width);
    await page.goto(`${built.server.address}/#/today`);
    await page.getByRole('button', { name: 'Read a strip' }).click();
    await expect.poll(() => page.url()).toMatch(/#\/read$/);
    await page.goto(`${built.server.address}/#/drift`);
    await page.getByText('No control scrap in the book yet.').waitFor();
    await page.goto(`${built.server.address}/#/compare`);
    await page.getByText(/^Tick two strips or more/).waitFor();
    await settled();
    await sound(page, width);
  });
});

describe('comparing three strips', () => {
  const THREE = '/#/compare/demo-hemp-banner-blue,demo-cotton-blueprint,demo-silk-scarf-plum';

  it.each(SIZES)(
    'draws a band about each curve at %s px, alone on request, told apart by more than colour',
    async (width, size) => {
      const { page } = await built.open(THREE, size);
      await expect.poll(() => page.locator('.compare-plot .band').count(), { timeout: 50_000 }).toBe(3);
      const slants = await page
        .locator('.compare-plot pattern')
        .evaluateAll((patterns) => patterns.map((pattern) => pattern.getAttribute('patternTransform')));
      expect(new Set(slants).size).toBe(3);
      const strokes = await page
        .locator('.compare-plot .line-name .curve')
        .evaluateAll((lines) => lines.map((line) => line.getAttribute('stroke-dasharray')));
      expect(new Set(strokes).size).toBe(3);
      await sound(page, width);
      // Hemp, cotton and silk: the page says that not all of it is the dyes' doing.
      await page.getByText(/^These strips are on different cloths/).waitFor();
      await page.getByRole('button', { name: 'B', exact: true }).click();
      await expect.poll(() => page.locator('.compare-plot .band').count()).toBe(1);
      expect(await page.locator('.compare-plot .band').getAttribute('data-strip')).toBe('B');
      await page.getByRole('button', { name: 'none', exact: true }).click();
      await expect.poll(() => page.locator('.compare-plot .band').count()).toBe(0);
    },
  );

  it('gives each band a width and a height, and the interval beside each colour', async () => {
    const { page } = await built.open(THREE);
    await expect.poll(() => page.locator('.compare-plot .band').count(), { timeout: 50_000 }).toBe(3);
    const heights = await page
      .locator('.compare-plot .band')
      .evaluateAll((bands) =>
        bands
          .map((band) => (band as SVGGraphicsElement).getBBox())
          .map(({ width, height }) => [width, height]),
      );
    for (const [wide, high] of heights) {
      expect(wide).toBeGreaterThan(300);
      expect(high).toBeGreaterThan(10);
    }
    const words = await page.locator('[aria-labelledby="same-time-heading"] .swatch-words').allTextContents();
    const intervals = words.flatMap((text) => {
      const match = /^L\* ([\d.]+) \(([\d.]+) – ([\d.]+)\)$/.exec(text);
      return match ? [match.slice(1).map(Number)] : [];
    });
    expect(intervals.length).toBeGreaterThan(8);
    for (const [L, low, high] of intervals) {
      expect(low).toBeLessThanOrEqual(L);
      expect(high).toBeGreaterThanOrEqual(L);
    }
  });

  it('saves the curves with bands and names, as a drawing and as a picture three times as sharp', async () => {
    const { page } = await built.open(THREE, PHONE);
    await expect.poll(() => page.locator('.compare-plot .band').count(), { timeout: 50_000 }).toBe(3);
    const drawing = await saved(page, /SVG/);
    expect(drawing.suggestedFilename()).toBe('curves.svg');
    const svg = await textOfFile(drawing);
    for (const said of ['url(#slant-2)', 'Blue on the hemp banner', 'fill-opacity="0.1"'])
      expect(svg).toContain(said);
    expect(svg).not.toMatch(/class=|rgba\(|color\(/);
    const { width } = await sharp(Buffer.from(svg)).metadata();
    const picture = await sharp((await (await saved(page, /PNG/)).path()) as string).metadata();
    expect(picture.width).toBe(3 * width);
    expect(built.last.troubles).toEqual([]);
  });
});

describe('prints without a photo', () => {
  beforeAll(async () => {
    await keepDemo(built.server, 'hemp-banner-blue', 'calibration', '2026-03-02T10:00:00.000Z');
  });

  const openForm = async (size: typeof PHONE | typeof DESK): Promise<Page> => {
    const { page } = await built.open('/#/today', size);
    await page.locator('.today-answer').waitFor();
    await page.getByLabel('Depth wanted').selectOption({ label: '50 % depth' });
    await page.getByText('Note a print by its time').click();
    await page.getByText(/Promised for this time: L\* [\d.]+, (49|5\d) % depth\./).waitFor();
    return page;
  };

  it('are kept with a measured L*, corrected, taken back, put away and brought back', async () => {
    const page = await openForm(PHONE);
    const form = page.locator('.print-form');
    await form.getByLabel(/^Time it got/).fill('1:10');
    await form.getByLabel('How it came out').selectOption({ label: 'measured L*' });
    await form.getByRole('button', { name: 'Keep the print' }).click();
    expect(await form.getByRole('alert').textContent()).toBe('L* is a number from 0 to 100.');
    await form.getByLabel('L* measured').fill('49,2');
    await form.getByLabel('What it is').fill('scarf 3');
    await sound(page, '390');
    await form.getByRole('button', { name: 'Keep the print' }).click();
    const row = page.locator('.print-row');
    await row.waitFor();
    expect(await row.textContent()).toMatch(
      /^01:10scarf 3 · .*promised L\* 5\d\.\d, \d\d %L\* 49\.2 · as after .* more light than promised/,
    );
    await row.getByRole('button', { name: /^Correct/ }).click();
    await row.getByLabel('How it came out').selectOption({ label: 'paler than promised' });
    await row.getByRole('button', { name: 'Say how it came out' }).click();
    await row.getByText('paler than promised').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await row.getByText(/L\* 49\.2/).waitFor();
    await row.getByRole('button', { name: /^Put away: scarf 3/ }).click();
    await page.getByText('No print noted yet.').waitFor();
    await page.getByLabel('Show what was put away').check();
    await page.getByRole('button', { name: /^Bring back: scarf 3/ }).click();
    await page.getByRole('button', { name: /^Put away: scarf 3/ }).waitFor();
    await sound(page, '390');
  });

  it('judged paler by eye five times are a reason to doubt the next time; undone once, they are none', async () => {
    const page = await openForm(DESK);
    const form = page.locator('.print-form');
    for (let made = 1; made <= 5; made++) {
      await form.getByLabel('How it came out').selectOption({ label: 'paler than promised' });
      await form.getByRole('button', { name: 'Keep the print' }).click();
      await page.getByText(`By eye: ${made} paler, 0 as promised, 0 deeper.`).waitFor();
    }
    const doubt = page.locator('.doubts').getByText(/5 of 5 prints judged by eye came out paler/);
    await doubt.waitFor();
    await sound(page, '1280');
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('By eye: 4 paler, 0 as promised, 0 deeper.').waitFor();
    await expect.poll(() => doubt.count()).toBe(0);
  });
});

describe('drift', () => {
  let id = '';
  beforeAll(async () => {
    id = await keepDemo(built.server, 'silk-scarf-plum', 'calibration', '2026-02-02T10:00:00.000Z');
  });

  const scraps = async (from: number, to: number): Promise<void> => {
    for (let week = from; week < to; week++)
      await postJson(built.server, '/api/record/controls', {
        againstId: id,
        scraps: [{ seconds: 20, L: week === 9 ? 40 : 47 + 0.3 * (week % 3), uL: 0.3 }],
        setup: 'bench lamp',
        lampHours: 120 + 10 * week,
        exposedAt: new Date(Date.UTC(2026, 2, 3 + 7 * week)).toISOString(),
      });
  };

  it('shows three scraps without limits and says how many are missing', async () => {
    await scraps(0, 3);
    const { page } = await built.open('/#/drift', PHONE);
    await page.getByText('3 of 8 control scraps: limits need more.').waitFor();
    expect(await page.locator('.drift-plot .value').count()).toBe(3);
    expect(await page.locator('.drift-plot .limit').count()).toBe(0);
    await sound(page, '390');
  });

  it.each(['en-GB', 'de-DE'])(
    'lists them at 390 px, %s, without scrolling sideways, each button on one line',
    async (locale) => {
      const { page } = await built.open('/#/drift', { ...PHONE, locale });
      await page.locator('.scraps').waitFor();
      expect(
        await page
          .locator('.scraps')
          .evaluate((table) => table.scrollWidth - (table.parentElement?.clientWidth ?? 0)),
      ).toBeLessThanOrEqual(0);
      expect(
        await page
          .locator('.scraps button')
          .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height)),
      ).toEqual([48, 48, 48]);
    },
  );

  it('charts ten with limits and moving ranges; the one that jumped is named and explained, and the chart is saved', async () => {
    await scraps(3, 10);
    const { page } = await built.open('/#/drift');
    await page.getByText(/^One jumped\./).waitFor();
    // Both limits and that of the ranges, and the key.
    expect(await page.locator('.drift-plot .limit').count()).toBe(4);
    const found = await page.locator('.warnings li').allTextContents();
    expect(found.some((text) => /^No\. 10: beyond the limits\. Chance alone does that/.test(text))).toBe(
      true,
    );
    await page.getByText('How the limits are made, and what each sign means').click();
    expect(await page.locator('.drift-meanings dt').count()).toBe(6);
    await sound(page, '1280');
    const svg = await textOfFile(await saved(page, /SVG/));
    expect(svg).toContain('moving average');
    await page.getByRole('button', { name: /^Put away: 5 May 2026/ }).click();
    await page.getByText(/^Steady\./).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText(/^One jumped\./).waitFor();
  });
});

describe('evenness', () => {
  it('keeps the sheet’s photo, its marks and what was chosen through a reload; put away, they come back by Undo', async () => {
    const bed = await paintedBed({ dose: (across) => 0.85 + 0.3 * across, seconds: 90 });
    const { page } = await built.open('/#/evenness', PHONE);
    await page.locator('.bed-columns').waitFor();
    await page
      .getByLabel('Curve of this dye on this cloth')
      .selectOption({ label: 'Blue on the hemp banner (Demo)' });
    await page.getByLabel('Cells across').fill('5');
    await page
      .locator('.bed-photo input[type="file"]')
      .first()
      .setInputFiles({ name: 'sheet.png', mimeType: 'image/png', buffer: Buffer.from(bed.bytes) });
    const corner = page.getByRole('button', { name: 'Corner 1 of Sheet', exact: true });
    await corner.focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('Shift+ArrowRight');
    const outline = (): Promise<string | null> =>
      page.locator('.leaders polygon').first().getAttribute('points');
    const before = await outline();
    // The hand rests, and the browser keeps.
    await expect
      .poll(() =>
        page.evaluate(
          () =>
            new Promise((settle) => {
              const request = indexedDB.open('tonestep');
              request.onsuccess = () => {
                const asked = request.result.transaction('things').objectStore('things').get('bed-photos');
                asked.onsuccess = () =>
                  settle(JSON.stringify(asked.result?.photo?.marks.steps[0].quad ?? null));
              };
            }),
        ),
      )
      .toContain((before ?? '').split(' ')[0].split(',')[0].split('.')[0]);
    await page.reload();
    await page.locator('.bed-columns').waitFor();
    await expect.poll(outline).toBe(before);
    expect(await page.getByLabel('Cells across').inputValue()).toBe('5');
    await expect
      .poll(() => page.getByLabel('Curve of this dye on this cloth').inputValue())
      .toBe('demo-hemp-banner-blue');
    await page.getByRole('button', { name: 'Put photos and map away' }).click();
    await expect.poll(() => page.locator('.leaders').count()).toBe(0);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(outline).toBe(before);
    expect(built.last.troubles).toEqual([]);
  });
});

describe('settings', () => {
  it('of the workshop go with what is kept; thresholds are set back with a way back', {
    timeout: 110_000,
  }, async () => {
    const { page } = await built.open('/#/settings');
    await page.getByLabel('Smallest step of your timer (s)').fill('45');
    await page.getByText('When a step counts as').click();
    await page.getByLabel(/^Full depth within so many L\*/).fill('200');
    expect(await page.getByRole('alert').textContent()).toBe('A number from 0 to 20.');
    await page.getByLabel(/^Full depth within so many L\*/).fill('4,5');
    expect(await page.getByRole('alert').count()).toBe(0);
    expect(await violations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Set all back to the usual values' }).click();
    expect(await page.getByLabel(/^Full depth within so many L\*/).inputValue()).toBe('');
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await page.getByLabel(/^Full depth within so many L\*/).inputValue()).toBe('4,5');
    const demo = (file: string): string => resolve(import.meta.dirname, '../../fixtures/demo', file);
    await page.goto(`${built.server.address}/#/read`);
    await page
      .locator('.photo-field input[type="file"], .form-view input[type="file"]')
      .first()
      .setInputFiles(demo('hemp-banner-blue.jpg'));
    const strip = JSON.parse(readFileSync(demo('hemp-banner-blue.strip.json'), 'utf8'));
    await page
      .locator('#times')
      .fill(strip.steps.map(({ seconds }: { seconds: number }) => seconds).join('; '));
    await page.getByRole('button', { name: 'Read the strip' }).click();
    await page.locator('.keep-form').waitFor({ timeout: 60_000 });
    const keep = page.locator('.keep-form');
    await keep.getByLabel('Dye', { exact: true }).fill('light-set blue');
    await keep.getByLabel('Cloth', { exact: true }).fill('scrap hemp');
    await keep.getByLabel('Light', { exact: true }).fill('tubes');
    await keep.getByLabel('Exposed on').fill('2026-03-04T09:30');
    if (await keep.getByText('I have looked at the marks').isVisible())
      await keep.getByText('I have looked at the marks').click();
    const [answer] = await Promise.all([
      page.waitForResponse(
        (response) =>
          response.url().endsWith('/api/record/readings') && response.request().method() === 'POST',
      ),
      keep.getByRole('button', { name: 'Keep in the book' }).click(),
    ]);
    const { line, settings } = await answer.json();
    expect(settings.options).toEqual({ timerStepSeconds: 45, verdictSettings: { fullWithinL: 4.5 } });
    expect(line.roundedSeconds % 45).toBe(0);
    expect(line.exposedAt).toMatch(/^2026-03-04T/);
    expect(built.last.troubles).toEqual([]);
  });
});
