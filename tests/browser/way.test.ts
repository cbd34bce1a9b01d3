import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { photoOf12MP } from '../helpers/photoOf12MP.ts';
import { figures, go, pass, phase, planTimes, sleep, visitorsOf } from './atTheClock.ts';
import { builtPage } from './builtPage.ts';
import { DESK, PHONE } from './openPage.ts';

const root = resolve(import.meta.dirname, '../..');
const DEMO_PHOTO = resolve(root, 'fixtures/demo/hemp-banner-blue.jpg');

const built = builtPage({ own: {} });

const visit = visitorsOf(built);

describe.each([
  ['390 px', PHONE],
  ['1280 px', DESK],
] as const)('the whole way at %s', (_, size) => {
  it('leads from a plan over the clock and the photo to a time, and the strip stays in the book', async () => {
    const page = await visit(size);
    await planTimes(page, '1:00; 1:45; 3:00; 5:20; 9:20; 1000');
    expect(await phase(page)).toBe('Ready');
    await page.getByRole('button', { name: 'Light on: start' }).click();
    await pass(page, 3);
    expect(await phase(page)).toBe('Wait');
    expect(await figures(page)).toBe('00:57');
    await sleep(page, 50);
    await pass(page, 1);
    expect(await phase(page)).toBe('Get ready');
    for (const [asleep, awake] of [
      [1, 8],
      [40, 5],
      [66, 10],
      [130, 12],
      [230, 12],
      [425, 20],
    ]) {
      await sleep(page, asleep);
      await pass(page, awake);
    }
    expect(await phase(page)).toBe('Done');
    const rows = page.locator('.run-side .plan-table tbody tr');
    expect(await rows.locator('td:nth-child(3)').allInnerTexts()).toEqual([
      '00:00',
      '01:00',
      '01:45',
      '03:00',
      '05:20',
      '09:20',
      '16:40',
    ]);
    await page.getByRole('button', { name: 'Photograph it with these times' }).click();
    expect(await page.locator('#times').inputValue()).toBe('00:00; 01:00; 01:45; 03:00; 05:20; 09:20; 16:40');
    expect(await page.getByLabel('Dye').inputValue()).toBe('light-set blue');
    await page.clock.resume();
    await page.getByLabel('Choose a photo', { exact: true }).setInputFiles(DEMO_PHOTO);
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.getByRole('radio', { name: 'White, grey and black' }).check();
    await page.getByRole('button', { name: 'Read the strip' }).click();
    await page.getByRole('heading', { name: 'banner hemp' }).waitFor();
    await expect.poll(() => page.locator('.figures').textContent()).toMatch(/^\d\d:\d\d$/);
    await page.locator('.keep-form').waitFor();
    await page.getByLabel('Hour meter of the lamps (h)').fill('120');
    await page.getByRole('button', { name: 'Keep in the book' }).click();
    await page.getByRole('heading', { name: 'Kept in the book.' }).waitFor();
    await go(page, 'Book');
    await page.locator('.kept-row').first().waitFor();
    expect(await page.locator('.kept-row').first().textContent()).toContain('light-set blue · banner hemp');
    await page.getByRole('link', { name: 'What time today?' }).click();
    await page.locator('.today-answer .figures').waitFor();
    expect(await page.locator('.today-answer').textContent()).toContain('From the strip exposed');
    expect(built.last.troubles).toEqual([]);
  });
});

describe('a kept reading', () => {
  it('carries notes, papers and tables, can be put away and comes back', async () => {
    const page = await visit(DESK, false);
    await go(page, 'Read');
    await page.getByLabel('Choose a photo', { exact: true }).setInputFiles(DEMO_PHOTO);
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.locator('#times').fill('0, 60, 105, 180, 320, 560, 1000');
    for (const [name, text] of [
      ['Dye', 'kelp brown'],
      ['Cloth', 'sail linen'],
    ])
      await page.getByLabel(name).fill(text);
    await page.getByRole('button', { name: 'Read the strip' }).click();
    await page.locator('.keep-form').waitFor();
    await page.getByRole('button', { name: 'Keep in the book' }).click();
    expect(await page.locator('.keep [role="alert"]').first().textContent()).toContain(
      'Name dye, cloth and light',
    );
    await page
      .locator('.keep-form')
      .getByRole('combobox', { name: 'Light', exact: true })
      .fill('sun on the quay');
    await page.locator('.keep-form').getByLabel('The light is').selectOption('sun');
    await page.locator('.keep-form').getByLabel('Sky').selectOption('broken');
    await page.getByRole('button', { name: 'Keep in the book' }).click();
    await page.getByRole('button', { name: 'See it in the book' }).click();
    await page.getByLabel('New note').fill('Washed a day late.');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await page.locator('.kept-notes').getByText('Washed a day late.').waitFor();
    for (const [name, start] of [
      ['Report (PDF)', '%PDF-'],
      ['Steps (CSV)', ''],
      ['Curve (CSV)', ''],
      ['Measurements (CGATS)', 'CGATS'],
    ]) {
      const href = await page.getByRole('link', { name }).getAttribute('href');
      const answer = await page.request.get(`${built.server.address}${href}`);
      expect([name, answer.status()]).toEqual([name, 200]);
      expect((await answer.body()).subarray(0, 5).toString('latin1')).toContain(start);
    }
    await page.locator('.keep').getByRole('button', { name: 'Put away' }).last().click();
    await page.getByText('This reading is put away.').waitFor();
    await page.locator('.notice').getByRole('button', { name: 'Undo' }).click();
    await page.getByText('This reading is put away.').waitFor({ state: 'detached' });
    expect(built.last.troubles).toEqual([]);
  });
});

describe('today’s time', () => {
  it('takes a print and what it reached, and holds it against what was promised', async () => {
    const page = await visit(DESK, false);
    await page.goto(`${built.server.address}/#/today`);
    await page.getByLabel('Dye').selectOption({ label: 'light-set blue' });
    await page.getByLabel('Cloth').selectOption({ label: 'banner hemp' });
    await page
      .getByRole('combobox', { name: 'Light', exact: true })
      .selectOption({ label: 'blacklight tubes' });
    await page.getByRole('button', { name: 'I printed with this time' }).click();
    const made = page.locator('.print-row').first();
    await made.getByRole('button', { name: /^Say how it came out: / }).click();
    await made.getByRole('combobox', { name: 'How it came out' }).selectOption('measured');
    await made.getByLabel('L* measured').fill('34');
    await made.getByRole('button', { name: 'Say how it came out', exact: true }).click();
    await made.getByText(/^L\* 34\.0/).waitFor();
    expect(await made.textContent()).toMatch(/promised L\* \d+\.\d, \d+ %/);
    expect(built.last.troubles).toEqual([]);
  });
});

describe('one’s own strip', () => {
  it('is still there after a demo and after a reload, photo and all', async () => {
    const page = await visit(DESK, false);
    await go(page, 'Read');
    await page.getByLabel('Choose a photo', { exact: true }).setInputFiles(DEMO_PHOTO);
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.locator('#times').fill('0, 60, 105, 180, 320, 560, 1000');
    await page.getByLabel('Dye').fill('kelp green');
    await page.getByRole('button', { name: 'Read the strip' }).click();
    await page.getByRole('heading', { name: 'kelp green' }).waitFor();
    const time = await page.locator('.figures').textContent();
    await page.getByLabel('Strip on show').selectOption('demo-cotton-blueprint');
    await page.getByRole('heading', { name: 'kelp green' }).waitFor({ state: 'detached' });
    await page.reload();
    await page.locator('.figures').waitFor();
    await page.getByLabel('Strip on show').selectOption({ index: 0 });
    await page.getByRole('heading', { name: 'kelp green' }).waitFor();
    expect(await page.locator('.figures').textContent()).toBe(time);
    await page.reload();
    await page.getByRole('heading', { name: 'kelp green' }).waitFor();
    const drawn = await page
      .locator('.found .marked-photo img')
      .evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth));
    expect(drawn).toBeGreaterThan(500);
    expect(built.last.troubles).toEqual([]);
  });

  it('can be put away from the book and brought back', async () => {
    const page = await visit(DESK, false);
    await go(page, 'Read');
    await page.getByLabel('Choose a photo', { exact: true }).setInputFiles(DEMO_PHOTO);
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.locator('#times').fill('0, 60, 105, 180, 320, 560, 1000');
    await page.getByRole('button', { name: 'Read the strip' }).click();
    await page.getByRole('heading', { name: 'Your strip' }).waitFor();
    await go(page, 'Book');
    const putAway = page.getByRole('button', { name: 'Put away: Your strip' });
    await putAway.click();
    await page.getByText('Nothing read yet.').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await putAway.waitFor();
  });
});

describe('a plan', () => {
  it('from a maker’s time for a clear sky under an overcast one takes 3.2 times as long', async () => {
    const page = await visit(DESK, false);
    await go(page, 'Plan');
    await page.getByRole('combobox', { name: 'Light', exact: true }).selectOption('sun');
    await page.getByRole('radio', { name: 'A maker’s time' }).check();
    await page.getByLabel(/^Maker’s time/).fill('10 min');
    await page.getByLabel('It is meant for').selectOption('sun');
    await page.getByLabel('Your sky today').selectOption('overcast');
    // 600 s / 0.31 [domain-4.13: overcast lets 31 % of clear-sky ultraviolet through] is 1935 s.
    await expect
      .poll(() => page.locator('.plan-table').first().locator('.plan-time').allInnerTexts())
      .toContain('32:15');
    expect(await page.locator('.plan-made .warnings').textContent()).toContain('The sky is uncertain');
  });

  it('takes "1 min 30 s" and thirds of a stop, and says what it can’t take', async () => {
    const page = await visit(DESK, false);
    await go(page, 'Plan');
    await page.getByRole('radio', { name: 'A guess of my own' }).check();
    await page.getByLabel(/^Your guess/).fill('1 min 30 s');
    await page.getByLabel('Steps apart (stops)').fill('1/3');
    await expect
      .poll(() => page.locator('.plan-table').first().locator('.plan-time').allInnerTexts())
      // 90·2^(i/3) s to whole seconds, exact by definition of the third stop
      .toEqual(['Base', '00:57', '01:11', '01:30', '01:53', '02:23']);
    await page.getByLabel('Steps apart (stops)').fill('some');
    await page.getByText('“some” is no number of stops').waitFor();
  });

  it('goes by the reading on show: the strip that the reading itself advises', async () => {
    const page = await visit(DESK, false);
    const advised = await page.locator('.next-strip .times li').allInnerTexts();
    await go(page, 'Plan');
    await page.getByRole('radio', { name: 'An earlier reading' }).check();
    await expect
      .poll(() => page.locator('.plan-table').first().locator('.plan-time').count())
      .toBe(advised.length);
  });

  it('keeps what was typed through a reload', async () => {
    const page = await visit(DESK, false);
    await go(page, 'Plan');
    await page.getByRole('radio', { name: 'A guess of my own' }).check();
    await page.getByLabel(/^Your guess/).fill('2:20');
    await page.reload();
    await expect.poll(() => page.getByLabel(/^Your guess/).inputValue()).toBe('2:20');
  });
});

describe('a photo of 12 MP', () => {
  it('is read, and every step of it shown', async () => {
    const scene = await photoOf12MP();
    const page = await visit(PHONE, false);
    await go(page, 'Read');
    await page
      .getByLabel('Choose a photo', { exact: true })
      .setInputFiles({ name: 'strip.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(scene.bytes) });
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.locator('#times').fill(scene.strip.steps.map(({ seconds }) => `${seconds} s`).join('; '));
    await page.getByRole('radio', { name: 'White, grey and black' }).check();
    await page.getByRole('button', { name: 'Read the strip' }).click();
    await page.locator('.reading-view').waitFor();
    expect(await page.locator('.steps tbody').count()).toBe(scene.strip.steps.length);
    expect(built.last.troubles).toEqual([]);
  });
});

describe('the words', () => {
  it('are German for a German browser, and switch in the settings', async () => {
    const { page } = await built.open('/', { ...DESK, locale: 'de-AT' });
    await page.locator('.figures').waitFor();
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');
    await page.getByRole('button', { name: 'Einstellungen' }).click();
    await page.getByRole('button', { name: 'English' }).click();
    await page.getByRole('heading', { name: 'Settings' }).waitFor();
    await page.reload();
    await page.getByRole('heading', { name: 'Settings' }).waitFor();
  });
});
