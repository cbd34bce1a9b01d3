import { networkInterfaces } from 'node:os';
import { resolve } from 'node:path';
import jsQR from 'jsqr';
import type { Locator, Page } from 'playwright-core';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { lanAddresses } from '../../server/lan.ts';
import { violations } from './axe.ts';
import { builtPage } from './builtPage.ts';
import { lookedAt } from './lookedAt.ts';
import { DESK, PHONE } from './openPage.ts';

const PHOTO = resolve(import.meta.dirname, '../../fixtures/demo/hemp-banner-blue.jpg');
const OTHER_PHOTO = resolve(import.meta.dirname, '../../fixtures/demo/silk-scarf-plum.jpg');
const DEMO_TIMES = '0, 1:00, 1:45, 3:00, 5:20, 9:20, 16:40';
const clockAhead = new URL('./clockAhead.mjs', import.meta.url).href;

const read = (typeof jsQR === 'function' ? jsQR : (jsQR as { default: typeof jsQR }).default) as (
  data: Uint8ClampedArray,
  width: number,
  height: number,
) => { data: string } | null;

// A machine without a network has no address that a phone could open.
describe.skipIf(lanAddresses(networkInterfaces()).length === 0)('a phone as the camera', () => {
  const built = builtPage({ own: { words: ['--lan'], env: { NODE_OPTIONS: `--import ${clockAhead}` } } });

  const textOf = async (place: Locator): Promise<string> => (await place.textContent()) ?? '';

  /** The desktop page with a code on show. */
  const offer = async (): Promise<{ desk: Page; code: string; address: string }> => {
    const { page } = await built.open('/#/read', DESK);
    await page.getByRole('button', { name: 'Use my phone as the camera' }).click();
    await page.locator('.pairing img').waitFor();
    return {
      desk: page,
      code: await textOf(page.locator('.pair-code')),
      address: await textOf(page.locator('.pairing code').first()),
    };
  };

  /** What a phone's camera reads off the screen. */
  const scanned = async (desk: Page): Promise<string> => {
    const seen = sharp(await desk.locator('.pairing img').screenshot());
    const { data, info } = await seen.ensureAlpha().raw().toBuffer({ resolveWithObject: true });
    const found = read(new Uint8ClampedArray(data), info.width, info.height);
    if (!found) throw new Error('the square code on the page can’t be read');
    return found.data;
  };

  const typeCode = async (phone: Page, code: string): Promise<void> => {
    await phone.getByLabel('Code').fill(code);
    await phone.getByRole('button', { name: 'Pair', exact: true }).tap();
  };

  /** Types a code that is refused, and returns what the phone says to it. */
  const refusal = async (phone: Page, code: string): Promise<string> => {
    const answer = phone.waitForResponse((response) => response.url().endsWith('/api/pairing/exchange'));
    await typeCode(phone, code);
    expect((await answer).status()).toBe(403);
    return textOf(phone.getByRole('alert'));
  };

  it('opens the address, gives the code, sends a photo: it is on the desktop within a second and can be read', async () => {
    const { desk, code, address } = await offer();
    const deskTroubles = built.last.troubles;
    expect(address).toBe(built.server.networkAddress);
    const { page: phone, troubles } = await built.open(address, PHONE);
    await phone.getByRole('heading', { name: 'Pair this phone' }).waitFor();
    expect(await violations(phone)).toEqual([]);
    // As thumbs type it: small letters, blanks for hyphens.
    await typeCode(phone, code.toLowerCase().replaceAll('-', ' '));
    await phone.getByRole('heading', { name: 'This phone is paired.' }).waitFor();
    await desk.getByText('Paired: Phone 1').waitFor();
    await desk.getByText('Photos that you take on the phone appear here at once.').waitFor();
    await desk.locator('.pairing').waitFor({ state: 'detached' });
    await desk.locator('#times').fill(DEMO_TIMES);
    await phone.getByLabel('Take a photo of the strip').setInputFiles(PHOTO);
    await phone.getByText('The photo is on the computer.').waitFor();
    const began = performance.now();
    await desk.getByText('From the phone').waitFor();
    expect(performance.now() - began).toBeLessThan(1000);
    // It goes straight into the form, where no photo lay.
    await desk.locator('.photo-field .marked-photo img').waitFor();
    expect(await textOf(desk.locator('.photo-field'))).toContain('hemp-banner-blue.jpg');
    expect(await violations(desk)).toEqual([]);
    expect(await violations(phone)).toEqual([]);
    await desk.getByRole('button', { name: 'Read the strip' }).click();
    await desk.locator('.reading-view').waitFor();
    expect(await desk.locator('.steps tbody').count()).toBe(7);
    expect(await phone.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    // The phone reads strips by itself as well, and may not look at who else is paired.
    await phone.getByLabel('Choose a photo', { exact: true }).last().setInputFiles(OTHER_PHOTO);
    await phone.locator('.photo-field .marked-photo img').waitFor();
    expect(await phone.locator('.use-phone').count()).toBe(0);
    expect(deskTroubles).toEqual([]);
    expect(troubles).toEqual([]);
  });

  it('comes in by the square code alone, which holds address and code; a photo beside one that lies there waits', async () => {
    const { desk, code, address } = await offer();
    const url = await scanned(desk);
    expect(url).toBe(`${address}/#pair=${code}`);
    const { page: phone } = await built.open(url, PHONE);
    await phone.getByRole('heading', { name: 'This phone is paired.' }).waitFor();
    // The code stays in no history of the phone.
    expect(phone.url()).not.toContain(code);
    await desk
      .getByText(/^Paired: Phone \d/)
      .first()
      .waitFor();
    await desk.getByLabel('Choose a photo', { exact: true }).setInputFiles(PHOTO);
    await desk.locator('.photo-field .marked-photo img').waitFor();
    await phone.getByLabel('Take a photo of the strip').setInputFiles(OTHER_PHOTO);
    const arrived = desk.locator('.arrived li', { hasText: 'silk-scarf-plum.jpg' });
    await arrived.waitFor();
    expect(await textOf(desk.locator('.photo-field'))).toContain('hemp-banner-blue.jpg ·');
    await arrived.getByRole('button', { name: 'Use this photo' }).click();
    await desk.getByText('silk-scarf-plum.jpg ·').waitFor();
  });

  it.each([
    ['390 px', PHONE],
    ['1280 px', DESK],
  ] as const)('has a place for its code that axe finds nothing against, at %s', async (_, size) => {
    const { page } = await built.open('/#/read', size);
    await page.getByRole('button', { name: 'Use my phone as the camera' }).click();
    await page.locator('.pairing img').waitFor();
    await lookedAt(page, 'the code on the desktop');
    const { page: phone } = await built.open(built.server.networkAddress ?? '', size);
    await phone.getByLabel('Code').waitFor();
    await lookedAt(phone, 'the place for the code');
  });

  it('is refused with words for a wrong code, for one used up and for one six minutes old', async () => {
    const { desk, code, address } = await offer();
    const { page: phone, troubles } = await built.open(address, PHONE);
    const wrong = code.startsWith('0') ? `1${code.slice(1)}` : `0${code.slice(1)}`;
    const words = /That code is wrong, used up or too old\..*Ask for a new code on the computer’s page/;
    expect(await refusal(phone, wrong)).toMatch(words);
    expect(await phone.getByLabel('Code').inputValue()).toBe(wrong);
    expect(await violations(phone)).toEqual([]);
    expect(await phone.evaluate(() => document.documentElement.scrollWidth)).toBe(390);

    built.server.signal('SIGUSR2');
    expect(await refusal(phone, code)).toMatch(words);

    await desk.getByRole('button', { name: 'New code' }).click();
    await expect.poll(() => textOf(desk.locator('.pair-code'))).not.toBe(code);
    const next = await textOf(desk.locator('.pair-code'));
    await typeCode(phone, next);
    await phone.getByRole('heading', { name: 'This phone is paired.' }).waitFor();
    const { page: other } = await built.open(address, PHONE);
    expect(await refusal(other, next)).toMatch(words);
    // Chromium itself reports the refused requests on the console; the page adds nothing to them.
    expect(troubles.filter((line) => !/status of (401|403)/.test(line))).toEqual([]);
  });

  it('is out the moment the computer ends it, and is told to pair again', async () => {
    const { desk, code, address } = await offer();
    const { page: phone } = await built.open(`${address}/#pair=${code}`, PHONE);
    await phone.getByRole('heading', { name: 'This phone is paired.' }).waitFor();
    const paired = desk.locator('.paired');
    await expect.poll(() => paired.count()).toBeGreaterThan(0);
    const before = await paired.count();
    await paired.last().getByRole('button', { name: 'End' }).click();
    await expect.poll(() => paired.count()).toBe(before - 1);
    await phone.getByLabel('Take a photo of the strip').setInputFiles(PHOTO);
    expect(await textOf(phone.getByRole('alert'))).toContain('This phone is not paired with the computer.');
    await phone.reload();
    await phone.getByRole('heading', { name: 'Pair this phone' }).waitFor();
  });
});
