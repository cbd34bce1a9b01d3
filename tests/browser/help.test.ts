import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { violations } from './axe.ts';
import { builtPage } from './builtPage.ts';
import { DESK, PHONE } from './openPage.ts';

const root = resolve(import.meta.dirname, '../..');
const demo = (name: string): string => resolve(root, 'fixtures/demo', name);
const PHOTO = demo('hemp-banner-blue.jpg');

type Corners = readonly (readonly [number, number])[];
const truth: { card: { quad: Corners }[]; steps: { quad: Corners }[] } = JSON.parse(
  readFileSync(demo('hemp-banner-blue.marks.json'), 'utf8'),
);
const middleOf = (quad: Corners): readonly [number, number] => [
  quad.reduce((sum, [x]) => sum + x, 0) / 4,
  quad.reduce((sum, [, y]) => sum + y, 0) / 4,
];
const CARD = middleOf(truth.card[1].quad);
const STRIP = middleOf(truth.steps[3].quad);

const built = builtPage();

/** The first demo, as if neither its card nor its strip were sure. */
const visitUnsure = async (size: typeof DESK | typeof PHONE): Promise<Page> => {
  const { page } = await built.open('about:blank', size);
  await page.route('**/api/demos/hemp-banner-blue', async (route) => {
    const answer = await (await route.fetch()).json();
    const needs = [
      { part: 'card', message: 'It is not sure which area is the card.' },
      { part: 'strip', message: 'It is not sure where the steps lie.' },
    ];
    await route.fulfill({ json: { ...answer, reading: { ...answer.reading, needs } } });
  });
  await page.goto(built.server.address);
  await page.locator('.tap-ask').waitFor();
  return page;
};

/** The value of a field in the form that was sent. */
const sentField = (body: string, name: string): string | null =>
  new RegExp(`name="${name}"\\r\\n\\r\\n([^\\r]*)`).exec(body)?.[1] ?? null;

describe('where card and strip are unsure', () => {
  it('a tap on each lets the strip be read under them', async () => {
    const page = await visitUnsure(PHONE);
    await page.getByRole('button', { name: 'Tap on card and strip' }).tap();
    const sent = page.waitForRequest((request) => request.url().endsWith('/api/readings'));
    for (const [name, [x, y]] of [
      ['Tap on the card', CARD],
      ['Tap on the strip', STRIP],
    ] as const) {
      const place = page.getByRole('button', { name });
      await place.scrollIntoViewIfNeeded();
      const box = await place.boundingBox();
      const image = page.locator('.tap-photo img');
      const [wide, high] = [await image.getAttribute('width'), await image.getAttribute('height')].map(
        Number,
      );
      if (!box) throw new Error('the photo has no place on the page');
      await place.tap({ position: { x: (x / wide) * box.width, y: (y / high) * box.height } });
    }
    const taps = JSON.parse(sentField((await sent).postDataBuffer()?.toString('latin1') ?? '', 'taps') ?? '');
    expect(Math.hypot(taps.card[0] - CARD[0], taps.card[1] - CARD[1])).toBeLessThan(12);
    expect(Math.hypot(taps.strip[0] - STRIP[0], taps.strip[1] - STRIP[1])).toBeLessThan(12);
    await page.locator('.tap-photo').waitFor({ state: 'detached' });
    expect(await page.locator('.tap-ask').count()).toBe(0);
    expect(built.last.troubles).toEqual([]);
  });

  it('a cross moved by arrow keys does the same; axe finds nothing meanwhile', async () => {
    const page = await visitUnsure(DESK);
    await page.getByRole('button', { name: 'Tap on card and strip' }).click();
    expect(await violations(page)).toEqual([]);
    const sent = page.waitForRequest((request) => request.url().endsWith('/api/readings'));
    const image = page.locator('.tap-photo img');
    const [wide, high] = [await image.getAttribute('width'), await image.getAttribute('height')].map(Number);
    await page.getByRole('button', { name: 'Tap on the card' }).focus();
    let [atX, atY] = [wide / 2, high / 2];
    for (const [x, y] of [CARD, STRIP]) {
      for (const [by, more, less] of [
        [x - atX, 'ArrowRight', 'ArrowLeft'],
        [y - atY, 'ArrowDown', 'ArrowUp'],
      ] as const)
        for (let i = 0; i < Math.round(Math.abs(by) / (0.01 * wide)); i++)
          await page.keyboard.press(by > 0 ? more : less);
      await page.keyboard.press('Enter');
      [atX, atY] = [
        atX + Math.round((x - atX) / (0.01 * wide)) * 0.01 * wide,
        atY + Math.round((y - atY) / (0.01 * wide)) * 0.01 * wide,
      ];
    }
    const taps = JSON.parse(sentField((await sent).postDataBuffer()?.toString('latin1') ?? '', 'taps') ?? '');
    expect(Math.hypot(taps.card[0] - CARD[0], taps.card[1] - CARD[1])).toBeLessThan(0.01 * wide);
    expect(Math.hypot(taps.strip[0] - STRIP[0], taps.strip[1] - STRIP[1])).toBeLessThan(0.01 * wide);
    await page.locator('.tap-photo').waitFor({ state: 'detached' });
    expect(built.last.troubles).toEqual([]);
  });
});

describe('settings and further photos', () => {
  it('reach the reading: a timer of 45 s, full depth within 20 L*, and a second photo', async () => {
    const { page } = await built.open('/#/settings', DESK);
    await page
      .getByLabel(/^Smallest step|timer/i)
      .first()
      .fill('45');
    await page.getByText('When a step counts as washed out').click();
    await page.getByLabel('Full depth within so many L* of the deepest').fill('200');
    await page.getByText('A number from 0 to 20.').waitFor();
    await page.getByLabel('Full depth within so many L* of the deepest').fill('20');
    await page.getByRole('heading', { name: 'Data folder' }).waitFor();
    await page.goto(`${built.server.address}/#/read`);
    await page.getByLabel('Choose a photo', { exact: true }).setInputFiles(PHOTO);
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.locator('#times').fill('0, 1:00, 1:45, 3:00, 5:20, 9:20, 16:40');
    await page.getByLabel('Add another photo of this strip').setInputFiles(PHOTO);
    await page.getByText('Photo 2: hemp-banner-blue.jpg').waitFor();
    const answer = page.waitForResponse((response) => response.url().endsWith('/api/readings'));
    await page.getByRole('button', { name: 'Read the strip' }).click();
    const { reading } = await (await answer).json();
    await page.locator('.reading-view').waitFor();
    expect(reading.repeatability.photos).toBe(2);
    expect((reading.advice.roundedSeconds ?? 45) % 45).toBe(0);
    await page.getByText('Read from 2 photos').waitFor();
    expect(built.last.troubles).toEqual([]);
  });
});
