import { resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { german } from '../../web/words/german.ts';
import { figures, pass, phase, sleep } from './atTheClock.ts';
import { violations } from './axe.ts';
import { builtPage } from './builtPage.ts';
import { leftEnglish } from './leftEnglish.ts';
import { PHONE } from './openPage.ts';

const PHOTO = resolve(import.meta.dirname, '../../fixtures/demo/hemp-banner-blue.jpg');
const DYE = 'Lichtblau';
const CLOTH = 'Bannerhanf';
const LIGHT = 'Schwarzlicht';
const GIVEN = [DYE, CLOTH, LIGHT, 'hemp-banner-blue.jpg'];

const built = builtPage({ own: {} });

const allGerman = async (page: Page, where: string): Promise<void> => {
  await built.last.settled();
  expect([where, await leftEnglish(page, GIVEN)]).toEqual([where, []]);
  expect([where, await page.evaluate(() => document.documentElement.scrollWidth)]).toEqual([where, 390]);
};

const go = (page: Page, name: string): Promise<void> => page.getByRole('link', { name, exact: true }).tap();

const press = (page: Page, name: string): Promise<void> =>
  page.getByRole('button', { name, exact: true }).tap();

describe('the whole way in German at 390 px', () => {
  it('leads from a plan over the clock and the photo into the book and to today’s time, with no English word left', {
    timeout: 110_000,
  }, async () => {
    const { page, troubles } = await built.open('about:blank', { ...PHONE, locale: 'de-AT' });
    await page.clock.install({ time: new Date('2026-11-25T10:00:00Z') });
    await page.goto(`${built.server.address}/#/plan`);
    await page.getByRole('heading', { name: german.plan.heading }).waitFor();
    await page.clock.pauseAt(new Date('2026-11-25T10:05:00Z'));
    await page.getByRole('radio', { name: german.plan.start.times }).check();
    await page.getByLabel(new RegExp(`^${german.plan.times}`)).fill('bald');
    await allGerman(page, 'a plan with a mistake');
    await page.getByLabel(new RegExp(`^${german.plan.times}`)).fill('1:00; 1:45; 3:00; 5:20; 9:20; 1000 s');
    await page.getByLabel(german.form.dye).fill(DYE);
    await page.getByLabel(german.form.cloth).fill(CLOTH);
    await page.getByRole('textbox', { name: german.form.light, exact: true }).fill(LIGHT);
    await allGerman(page, 'plan');

    await press(page, german.plan.toRun);
    await allGerman(page, 'clock, ready');
    await press(page, german.run.start);
    await pass(page, 3);
    expect([await phase(page), await figures(page)]).toEqual([german.run.phase.wait, '00:57']);
    await allGerman(page, 'clock, waiting');
    await sleep(page, 50);
    await pass(page, 1);
    await allGerman(page, 'clock, get ready');
    await pass(page, 8);
    expect(await phase(page)).toBe(german.run.phase.now);
    await allGerman(page, 'clock, now');
    await sleep(page, 60);
    await pass(page, 1);
    expect(await phase(page)).toBe(german.run.phase.missed);
    await allGerman(page, 'clock, missed');
    await press(page, german.run.onTime);
    for (const [asleep, awake] of [
      [50, 12],
      [120, 25],
      [220, 25],
      [420, 30],
    ]) {
      await sleep(page, asleep);
      await pass(page, awake);
    }
    expect(await phase(page)).toBe(german.run.phase.done);
    await allGerman(page, 'clock, done');

    await press(page, german.run.toRead);
    await page.clock.resume();
    await press(page, german.form.read);
    expect(await page.getByRole('alert').textContent()).toBe(german.form.noPhoto);
    await allGerman(page, 'form without a photo');
    await page.getByLabel(german.form.choose, { exact: true }).setInputFiles(PHOTO);
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.getByRole('radio', { name: german.form.cardName['white-grey-black'] }).check();
    await allGerman(page, 'form');
    await press(page, german.form.read);
    await page.locator('.keep-form').waitFor();
    // The analysis's own sentences come after the words.
    await expect.poll(() => leftEnglish(page, GIVEN)).toEqual([]);
    await allGerman(page, 'answer');
    await press(page, german.photo.correct);
    await allGerman(page, 'marks by hand');
    await press(page, german.photo.stop);

    await page.getByLabel(german.keep.lampHours).fill('viele');
    await page.locator('.keep-form').getByRole('button', { name: german.keep.keep }).tap();
    await allGerman(page, 'keeping, with a mistake');
    await page.getByLabel(german.keep.lampHours).fill('120');
    await page.locator('.keep-form').getByRole('button', { name: german.keep.keep }).tap();
    await page.getByRole('heading', { name: german.keep.kept }).waitFor();
    await press(page, german.keep.keptOpen);
    await page.getByLabel(german.keep.note).waitFor();
    await allGerman(page, 'kept');
    await go(page, german.frame.book);
    await page.locator('.kept-row').first().waitFor();
    await allGerman(page, 'book');
    await page.getByRole('link', { name: german.book.today }).tap();
    await page.locator('.today-answer .figures').waitFor();
    await allGerman(page, 'today');
    expect(await violations(page)).toEqual([]);
    expect(troubles).toEqual([]);
  });
});
