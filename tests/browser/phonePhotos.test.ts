import { networkInterfaces } from 'node:os';
import { resolve } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { lanAddresses } from '../../server/lan.ts';
import { builtPage } from './builtPage.ts';
import { DESK, PHONE } from './openPage.ts';

const PHOTO = resolve(import.meta.dirname, '../../fixtures/demo/hemp-banner-blue.jpg');

// A machine without a network has no address that a phone could open.
describe.skipIf(lanAddresses(networkInterfaces()).length === 0)('two photos from a phone', () => {
  const built = builtPage({ own: { words: ['--lan'] } });

  it('become one strip on the computer: the first by itself, the second by a press', async () => {
    const { page: desk, troubles } = await built.open('/#/read', DESK);
    await desk.getByRole('button', { name: 'Use my phone as the camera' }).click();
    const code = (await desk.locator('.pair-code').textContent()) ?? '';
    const { page: phone } = await built.open(built.server.networkAddress ?? '', PHONE);
    await phone.getByLabel('Code').fill(code);
    await phone.getByRole('button', { name: 'Pair', exact: true }).tap();
    await phone.getByRole('heading', { name: 'This phone is paired.' }).waitFor();
    const turned = await sharp(PHOTO).rotate(180).keepIccProfile().jpeg({ quality: 92 }).toBuffer();
    await phone.locator('.send-photo input').first().setInputFiles(PHOTO);
    await desk.locator('.photo-field > .marked-photo img').waitFor();
    expect(await desk.getByRole('button', { name: 'Add it to this strip' }).count()).toBe(1);
    await phone
      .locator('.send-photo input')
      .first()
      .setInputFiles({ name: 'turned.jpg', mimeType: 'image/jpeg', buffer: turned });
    await desk.locator('.arrived li').nth(1).waitFor();
    const line = desk.locator('.arrived li').filter({ hasText: 'turned.jpg' });
    // While the server is gone, each press says so, and the tick goes back to what is so.
    const gone = desk.getByRole('alert').filter({ hasText: 'Tonestep’s server does not answer.' });
    await desk.route(/\/api\/(inbox|pairing)\//, (route) => route.abort('connectionrefused'));
    for (const name of ['Use this photo', 'Add it to this strip', 'End']) {
      await desk.getByRole('button', { name, exact: true }).last().click();
      await gone.waitFor();
      // What succeeds takes the last failure away, so that the next one is seen to come.
      await desk.getByRole('button', { name: 'Use my phone as the camera' }).click();
      await gone.waitFor({ state: 'detached' });
      await desk.getByRole('button', { name: 'Close', exact: true }).click();
    }
    const tick = desk.getByRole('checkbox', { name: 'May use the book' });
    await tick.click();
    await gone.waitFor();
    expect(await tick.isChecked()).toBe(false);
    expect(await desk.locator('.paired').count()).toBe(1);
    await desk.unroute(/\/api\/(inbox|pairing)\//);
    await line.getByRole('button', { name: 'Add it to this strip' }).click();
    await desk.locator('.further-photo .marked-photo img').waitFor();
    await desk.locator('#times').fill('0, 60, 105, 180, 320, 560, 1000');
    await desk.getByRole('button', { name: 'Read the strip' }).click();
    await desk.locator('.notes').waitFor();
    expect(await desk.locator('.notes').textContent()).toContain('Read from 2 photos');
    expect(await desk.locator('.notes').textContent()).toContain('end for end');
    // Chromium reports what it could not fetch; the page adds nothing to it.
    expect(troubles.filter((one) => !/ERR_CONNECTION_REFUSED/.test(one))).toEqual([]);
  });
});
