import { describe, expect, it } from 'vitest';
import { samplePaperScene } from '../../fixtures/paper.ts';
import { photographPaper } from '../../fixtures/paperPhoto.ts';
import { hasPdftoppm, printedSheet } from '../helpers/printedSheet.ts';
import { builtPage } from './builtPage.ts';
import { DESK } from './openPage.ts';

const rendered = await hasPdftoppm();

const built = builtPage();

describe.skipIf(!rendered)('a measuring sheet made on the page, printed by pdftoppm and photographed', () => {
  it('brings times and names back by its photo alone, here and in a browser that never saw the plan', {
    timeout: 100_000,
  }, async () => {
    const planner = await built.open('/#/plan', DESK);
    const { page } = planner;
    const scene = (plan: string) =>
      printedSheet('a4', plan).then((paper) => {
        const sampled = samplePaperScene(40_020, paper, {
          card: 'white-grey-black',
          pieces: 'contiguous',
          reach: 'usual',
          widthPx: 1600,
          heightPx: 1200,
        });
        return photographPaper(sampled, paper);
      });
    // The plan of the strip that the scene shows.
    const { strip } = await scene('any');
    const seconds = strip.steps.map((step) => step.seconds);
    await page.getByRole('radio', { name: 'My own list of times' }).check();
    await page.getByLabel(/^Times/).fill(
      seconds
        .filter((time) => time > 0)
        .map((time) => `${time} s`)
        .join('; '),
    );
    await page.getByLabel('Dye').fill('tideline blue');
    await page.getByLabel('Cloth').fill('scarf silk');
    const link = page.getByRole('link', { name: /A4/ });
    const href = (await link.getAttribute('href')) ?? '';
    const id = new URLSearchParams(href.split('?')[1]).get('plan') ?? '';
    expect(id).toMatch(/^[0-9a-f-]{36}$/);
    const kept = page.waitForResponse((response) => response.url().endsWith('/api/record/plans'));
    await link.click({ modifiers: ['ControlOrMeta'] });
    expect((await kept).status()).toBe(201);
    const { bytes } = await scene(id);
    const photo = { name: 'sheet.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(bytes) };

    const stranger = await built.open('/#/read', DESK);
    for (const one of [page, stranger.page]) {
      await one.goto(`${built.server.address}/#/read`);
      await one.getByLabel('Choose a photo', { exact: true }).setInputFiles(photo);
      await one.getByText('Times and names come from the plan on the sheet.').waitFor();
      expect(await one.getByLabel('Dye').inputValue()).toBe('tideline blue');
      expect(await one.getByLabel('Cloth').inputValue()).toBe('scarf silk');
      const shown = await one.locator('ol.times li').allInnerTexts();
      expect(shown.length).toBe(seconds.length);
    }
    await stranger.page.getByRole('button', { name: 'Read the strip' }).click();
    await stranger.page.locator('.reading-view').waitFor();
    expect(await stranger.page.locator('.steps tbody').count()).toBe(seconds.length);
    expect(stranger.troubles).toEqual([]);
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await page.locator('#times').inputValue()).toBe('');
    expect(planner.troubles).toEqual([]);
  });
});
