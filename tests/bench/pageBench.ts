import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser } from 'playwright-core';
import sharp from 'sharp';
import type { RenderedScene } from '../../fixtures/render.ts';
import { launchBrowser, openPage, PHONE } from '../browser/openPage.ts';
import { startServer } from '../browser/runningServer.ts';
import { photoOf12MP } from '../helpers/photoOf12MP.ts';
import { measureDrags } from './dragBench.ts';
import { percentile } from './tables.ts';

const root = resolve(import.meta.dirname, '../..');
const RUNS = 3;

const ms = (values: readonly number[]): string =>
  `${percentile(values, 50).toFixed(0)} ms (longest of ${values.length}: ${Math.max(...values).toFixed(0)} ms)`;

/** Script that was fetched before the page could be used, gzipped as it is served, and how long that took. */
const firstLoad = async (browser: Browser, address: string, locale: string) => {
  const { page, context } = await openPage(browser, 'about:blank', { ...PHONE, locale });
  await page.addInitScript(() => {
    new MutationObserver((_, watch) => {
      if (!document.querySelector('.figures')) return;
      performance.mark('usable');
      watch.disconnect();
    }).observe(document, { childList: true, subtree: true });
  });
  await page.goto(address);
  await page.locator('.figures').waitFor();
  const { usable, needed } = await page.evaluate(() => {
    const usable = performance.getEntriesByName('usable')[0].startTime;
    const needed = performance
      .getEntriesByType('resource')
      .filter(({ name, startTime }) => name.endsWith('.js') && startTime <= usable)
      .map(({ name }) => new URL(name).pathname);
    return { usable, needed };
  });
  await context.close();
  const bytes = needed.reduce(
    (sum, path) => sum + gzipSync(readFileSync(join(root, 'dist/web', path)), { level: 9 }).length,
    0,
  );
  return { bytes, usable };
};

/** From the press on “Read the strip” to the first frame with the reading, of a 12 MP photo that was uploaded when it was chosen. */
const readingShown = async (browser: Browser, address: string, scene: RenderedScene) => {
  const decode: number[] = [];
  const shown: number[] = [];
  for (let run = 0; run <= RUNS; run++) {
    const began = performance.now();
    await sharp(scene.bytes).raw().toBuffer();
    const decoded = performance.now() - began;
    const { page, context } = await openPage(browser, `${address}/#/read`, PHONE);
    await page
      .getByLabel('Choose a photo', { exact: true })
      .setInputFiles({ name: 'strip.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(scene.bytes) });
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.locator('#times').fill(scene.strip.steps.map(({ seconds }) => `${seconds} s`).join('; '));
    await page.evaluate(() => {
      document.querySelector('form')?.addEventListener('submit', () => performance.mark('sent'), true);
      new MutationObserver((_, watch) => {
        if (!document.querySelector('.reading-view')) return;
        watch.disconnect();
        requestAnimationFrame(() => performance.mark('shown'));
      }).observe(document, { childList: true, subtree: true });
    });
    await page.getByRole('button', { name: 'Read the strip' }).click();
    await page.waitForFunction(() => performance.getEntriesByName('shown').length > 0);
    const took = await page.evaluate(
      () =>
        performance.getEntriesByName('shown')[0].startTime -
        performance.getEntriesByName('sent')[0].startTime,
    );
    await context.close();
    // The first reading also loads the worker's code.
    if (run > 0) {
      decode.push(decoded);
      shown.push(took);
    }
  }
  return { decode, shown };
};

/** What the page takes in a real Chromium on this machine. A row a figure; one row that says so where there is none. */
export async function* measurePage(): AsyncGenerator<string[]> {
  let browser: Browser;
  try {
    browser = await launchBrowser();
  } catch {
    yield ['left out: no Chromium on this machine'];
    return;
  }
  const server = await startServer();
  try {
    await fetch(`${server.address}/api/demos/hemp-banner-blue`);
    for (const [name, locale] of [
      ['English', 'en-GB'],
      ['German', 'de-DE'],
    ]) {
      const loads: { bytes: number; usable: number }[] = [];
      for (let run = 0; run < RUNS; run++) loads.push(await firstLoad(browser, server.address, locale));
      yield [`script of the first load, gzipped, ${name}`, `${(loads[0].bytes / 1000).toFixed(1)} kB`];
      yield [`until it can be used, ${name}`, ms(loads.map(({ usable }) => usable))];
    }
    const scene = await photoOf12MP();
    const { decode, shown } = await readingShown(browser, server.address, scene);
    yield ['bare decode of a 12 MP photo', ms(decode)];
    yield [
      'from “Read the strip” to the reading on show, 12 MP',
      ms(shown),
      `${(percentile(shown, 50) / percentile(decode, 50)).toFixed(2)} ×`,
    ];
    yield* measureDrags(browser, server.address, scene);
  } finally {
    await browser.close();
    await server.stop();
  }
}
