import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { figures, go, keptOffline, pass, phase, planTimes, sleep, visitorsOf } from './atTheClock.ts';
import { builtPage } from './builtPage.ts';
import { DESK, PHONE } from './openPage.ts';

const built = builtPage();
const visit = visitorsOf(built);

/** Lets the test see which tones the page has laid ahead: hertz, and seconds from when they were laid. */
const listen = async (page: Page): Promise<void> => {
  await page.addInitScript(() => {
    const tones: { hertz: number; inSeconds: number; stopped: boolean }[] = [];
    Object.assign(window, { tones });
    const { start, stop } = OscillatorNode.prototype;
    const of = new WeakMap<object, { stopped: boolean }>();
    OscillatorNode.prototype.start = function (at = 0) {
      const tone = {
        hertz: this.frequency.value,
        inSeconds: at - this.context.currentTime,
        stopped: false,
      };
      tones.push(tone);
      of.set(this, tone);
      start.call(this, at);
    };
    OscillatorNode.prototype.stop = function (...when) {
      const tone = of.get(this);
      // Without a time it is taken back at once.
      if (tone && when.length === 0) tone.stopped = true;
      stop.apply(this, when);
    };
  });
};

/** The tones that are still to come, as hertz and whole seconds. */
const tonesAhead = (page: Page): Promise<readonly (readonly [number, number])[]> =>
  page.evaluate(() =>
    (window as unknown as { tones: readonly { hertz: number; inSeconds: number; stopped: boolean }[] }).tones
      .filter(({ stopped }) => !stopped)
      .map(({ hertz, inSeconds }) => [Math.round(hertz), Math.round(inSeconds)] as const),
  );

const groundOf = (page: Page): Promise<string> =>
  page.locator('.clock').evaluate((clock) => getComputedStyle(clock).backgroundColor);

describe('the clock without a network', () => {
  it('goes on, announces in words, ground and tones, and does so again after a reload in mid-run', async () => {
    const page = await visit(PHONE, true, listen);
    // The page asks to be kept a little after it was drawn.
    await pass(page, 3);
    await keptOffline(page);
    await planTimes(page, '0:30, 1:00, 2:00');
    await built.last.context.setOffline(true);
    await page.getByRole('button', { name: 'Light on: start' }).tap();
    await page.getByRole('button', { name: 'Sound is on' }).waitFor();
    const [low, high] = [740, 988];
    expect(await tonesAhead(page)).toEqual([
      [low, 27],
      [low, 28],
      [low, 29],
      [high, 30],
      [low, 57],
      [low, 58],
      [low, 59],
      [high, 60],
      [low, 117],
      [low, 118],
      [low, 119],
      [high, 120],
      [high, 121],
    ]);
    await pass(page, 15);
    expect(await phase(page)).toBe('Wait');
    const waiting = await groundOf(page);
    await pass(page, 10);
    expect([await phase(page), await figures(page)]).toEqual(['Get ready', '00:05']);
    const soon = await groundOf(page);
    await pass(page, 6);
    expect(await phase(page)).toBe('Now');
    const now = await groundOf(page);
    expect(new Set([waiting, soon, now]).size).toBe(3);
    expect(await page.locator('.clock [role="status"]').textContent()).toContain(
      'Slide the cover over step 1.',
    );
    expect(await page.locator('.run-moves li').nth(1).textContent()).toMatch(/✓.*done/);

    await pass(page, 9);
    await page.reload();
    await page.locator('.clock').waitFor();
    await pass(page, 1);
    expect([await phase(page), await figures(page)]).toEqual(['Wait', '00:19']);
    await page.getByText('The browser silenced the sound when the page was opened anew.').waitFor();
    await page.getByRole('button', { name: 'Switch the sound on again' }).tap();
    await page.getByRole('button', { name: 'Sound is on' }).waitFor();
    expect((await tonesAhead(page)).slice(0, 4)).toEqual([
      [low, 16],
      [low, 17],
      [low, 18],
      [high, 19],
    ]);
    await pass(page, 20);
    expect(await phase(page)).toBe('Now');
    expect(await page.locator('.clock [role="status"]').textContent()).toContain(
      'Slide the cover over step 2.',
    );
    await pass(page, 61);
    expect(await phase(page)).toBe('Done');
    expect(await page.locator('.run-side .plan-table tbody .plan-time').allTextContents()).toEqual([
      '00:00',
      '00:30',
      '01:00',
      '02:00',
    ]);
    // Chromium reports what it could not fetch; the page adds nothing to it.
    expect(built.last.troubles.filter((line) => !line.includes('ERR_INTERNET_DISCONNECTED'))).toEqual([]);
  });

  it('stays dim through a reload in mid-run and goes on announcing, until somebody makes it bright', async () => {
    const page = await visit(PHONE);
    const theme = (): Promise<string | undefined> =>
      page.evaluate(() => document.documentElement.dataset.theme);
    await planTimes(page, '0:30, 1:00, 2:00');
    await page.getByRole('button', { name: 'Light on: start' }).tap();
    await page.getByRole('button', { name: 'Dim' }).tap();
    await page.getByText('a screen is no safelight').waitFor();
    await pass(page, 5);
    await page.reload();
    await page.locator('.clock').waitFor();
    expect(await theme()).toBe('dim');
    await pass(page, 26);
    expect(await phase(page)).toBe('Now');
    await page.getByRole('button', { name: 'Dim' }).tap();
    expect(await theme()).toBe('light');
    await page.reload();
    await page.locator('.clock').waitFor();
    expect(await theme()).toBe('light');
    expect(built.last.troubles).toEqual([]);
  });

  it('is dark where it was dimmed before the page’s own script has run', async () => {
    const { page } = await built.open('about:blank', PHONE);
    await page.addInitScript(() => localStorage.setItem('tonestep.dim', 'on'));
    await page.route('**/assets/*.js', (route) => route.abort());
    await page.goto(`${built.server.address}/#/run`);
    expect(
      await page.evaluate(() => [
        document.querySelector('#app')?.childElementCount,
        getComputedStyle(document.documentElement).backgroundColor,
      ]),
    ).toEqual([0, 'rgb(0, 0, 0)']);
  });
});

describe('the clock', () => {
  it('survives a reload and says what it could not announce', async () => {
    const page = await visit(PHONE);
    await planTimes(page, '0:30, 1:00, 2:00');
    await page.getByRole('button', { name: 'Light on: start' }).tap();
    await pass(page, 5);
    await page.reload();
    await page.locator('.clock').waitFor();
    await pass(page, 1);
    expect(await figures(page)).toBe('00:24');
    await sleep(page, 30);
    await pass(page, 1);
    expect(await phase(page)).toBe('A move was missed');
    expect(await page.getByRole('alert').textContent()).toContain('Slide the cover over step 1.');
    await page.getByRole('button', { name: 'Moved just now' }).tap();
    await pass(page, 1);
    expect(await page.locator('.run-side .plan-table tbody tr').nth(1).textContent()).toMatch(
      /^100:3000:37\+0\.30 stop/,
    );
    await page.getByRole('button', { name: 'Undo “Done”' }).tap();
    expect(await phase(page)).toBe('A move was missed');
    await page.getByRole('button', { name: 'I moved on time' }).tap();
    expect(await page.locator('.run-side .plan-table tbody tr').nth(1).textContent()).toContain('as planned');
    expect(built.last.troubles).toEqual([]);
  });

  it('stops while the light is off and takes a mistaken tap back', async () => {
    const page = await visit(DESK);
    await planTimes(page, '0:30, 1:00, 2:00');
    await page.getByRole('button', { name: 'Light on: start' }).click();
    await pass(page, 10);
    await page.getByRole('button', { name: 'Light went off' }).click();
    await pass(page, 60);
    expect(await phase(page)).toBe('Light is off');
    expect(await figures(page)).toBe('00:20');
    await page.getByRole('button', { name: 'Light is on again' }).click();
    await pass(page, 5);
    expect(await figures(page)).toBe('00:15');
    await page.getByRole('button', { name: 'Undo “Light is on again”' }).click();
    await page.getByRole('button', { name: 'Undo “Light went off”' }).click();
    await pass(page, 1);
    // 10 + 60 + 5 + 1 s of light: the moves at 0:30 and 1:00 fell due while the light was thought to be off.
    expect(await phase(page)).toBe('A move was missed');
  });

  it('goes on announcing while another view is open, and says that it runs', async () => {
    const page = await visit(DESK);
    await planTimes(page, '0:30, 1:00, 2:00');
    await page.getByRole('button', { name: 'Light on: start' }).click();
    await pass(page, 2);
    await go(page, 'Answer');
    await page.getByText('The clock is running').waitFor();
    await pass(page, 35);
    await page.getByRole('button', { name: 'To the clock' }).click();
    await pass(page, 1);
    expect(await page.locator('.run-moves li').nth(1).textContent()).toMatch(/✓.*done/);
  });

  it('opens without the network once the page was loaded, and keeps a planned strip', async () => {
    const page = await visit(DESK, false);
    await keptOffline(page);
    await planTimes(page, '0:30, 1:00, 2:00');
    await page.locator('.clock').waitFor();
    await built.last.context.setOffline(true);
    await page.reload();
    await page.locator('.clock').waitFor();
    await page.getByRole('button', { name: 'Light on: start' }).click();
    await page.getByRole('button', { name: 'Light went off' }).waitFor();
    await go(page, 'Plan');
    expect(await page.locator('.plan-series').textContent()).toContain('1 stop apart');
  });

  it('is red on black where it is dimmed, and only as long as it is open', async () => {
    const page = await visit(PHONE);
    await planTimes(page, '0:30, 1:00, 2:00');
    await page.getByRole('button', { name: 'Dim' }).tap();
    const tints = await page.evaluate(() => {
      const found = new Set<string>();
      for (const element of document.querySelectorAll('body *')) {
        const look = getComputedStyle(element);
        for (const name of ['color', 'background-color', 'border-top-color', 'fill', 'stroke']) {
          const match = /^rgba?\((\d+), (\d+), (\d+)/.exec(look.getPropertyValue(name));
          if (match && (match[2] !== '0' || match[3] !== '0'))
            found.add(`${element.className} ${name} ${match[0]}`);
        }
      }
      return [...found];
    });
    expect(tints).toEqual([]);
    await go(page, 'Answer');
    await expect.poll(() => page.evaluate(() => document.documentElement.dataset.theme)).toBe('light');
  });
});
