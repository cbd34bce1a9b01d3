import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe.ts';
import { builtPage } from './builtPage.ts';
import { keepDemo, postJson } from './keptStrips.ts';
import { leftEnglish } from './leftEnglish.ts';
import { lookedAt } from './lookedAt.ts';
import { DESK, PHONE } from './openPage.ts';

const root = resolve(import.meta.dirname, '../..');
const built = builtPage({ own: {} });

/** What else was as always when control scraps were exposed. */
const SETUP = 'bench lamp';

beforeAll(async () => {
  const blue = await keepDemo(built.server, 'hemp-banner-blue', 'calibration', '2026-03-02T10:00:00.000Z');
  await keepDemo(built.server, 'cotton-blueprint', 'calibration', '2026-03-09T10:00:00.000Z');
  for (let week = 0; week < 9; week++)
    await postJson(built.server, '/api/record/controls', {
      againstId: blue,
      scraps: [{ seconds: 180, L: 41.6 + [0, 0.2, -0.1, 0.3, 0.1, 0.4, 0.2, 0.5, 0.4][week], uL: 0.3 }],
      setup: SETUP,
      lampHours: 120 + 20 * week,
      exposedAt: new Date(Date.UTC(2026, 2, 3 + 7 * week)).toISOString(),
    });
});

const RUN = {
  plan: {
    dye: 'light-set blue',
    cloth: 'banner hemp',
    light: 'blacklight tubes',
    lightKind: 'tubes',
    layout: { kind: 'strip', direction: 'covering' },
    stopsAtMoves: false,
    lampSeconds: 960,
    moves: [
      { atSeconds: 0, action: 'lamp-on', step: null },
      { atSeconds: 240, action: 'cover', step: 1 },
      { atSeconds: 480, action: 'cover', step: 2 },
      { atSeconds: 960, action: 'lamp-off', step: 3 },
    ],
    lit: [[1, 2, 3], [2, 3], [3]],
    steps: [
      { step: 0, seconds: 0 },
      { step: 1, seconds: 240 },
      { step: 2, seconds: 480 },
      { step: 3, seconds: 960 },
    ],
  },
  handsFree: true,
  events: [] as { kind: string; at: number }[],
};

interface Sight {
  readonly name: string;
  readonly hash: string;
  /** Selector of something that is there only when the view is. */
  readonly there: string;
  readonly before?: (page: Page) => Promise<void>;
}

/** A strip on the clock since so many seconds; null where the light has not gone on yet. */
const withRun =
  (secondsAgo: number | null) =>
  async (page: Page): Promise<void> => {
    const at = Date.now() - (secondsAgo ?? 0) * 1000;
    const run = { ...RUN, events: secondsAgo === null ? [] : [{ kind: 'on', at }] };
    await page.addInitScript((text) => localStorage.setItem('tonestep.run', text), JSON.stringify(run));
  };

const SIGHTS: readonly Sight[] = [
  { name: 'answer', hash: '#/answer/demo-hemp-banner-blue', there: '.found .marked-photo' },
  { name: 'plan', hash: '#/plan', there: '.plan-table' },
  { name: 'clock-empty', hash: '#/run', there: '.empty' },
  { name: 'clock-ready', hash: '#/run', there: '.phase-ready', before: withRun(null) },
  { name: 'clock-waiting', hash: '#/run', there: '.phase-wait', before: withRun(100) },
  { name: 'clock-soon', hash: '#/run', there: '.phase-soon', before: withRun(232) },
  { name: 'clock-missed', hash: '#/run', there: '.phase-missed', before: withRun(300) },
  { name: 'read', hash: '#/read', there: '.form-view .use-phone' },
  { name: 'book', hash: '#/book', there: '.kept-row' },
  { name: 'today', hash: '#/today', there: '.today-answer' },
  {
    name: 'compare',
    hash: '#/compare/demo-hemp-banner-blue,demo-cotton-blueprint',
    there: '.plain-pairs',
  },
  { name: 'drift', hash: '#/drift', there: '.drift-plot' },
  { name: 'evenness-form', hash: '#/evenness', there: '.bed-columns' },
  { name: 'in-and-out', hash: '#/archive', there: '#place-heading' },
  { name: 'settings', hash: '#/settings', there: '.settings-view' },
];

const see = async (sight: Sight, options: Parameters<typeof built.open>[1]): Promise<Page> => {
  const { page } = await built.open('about:blank', options);
  await sight.before?.(page);
  await page.goto(`${built.server.address}/${sight.hash}`);
  await page.locator(sight.there).first().waitFor();
  return page;
};

const SIZES = [
  ['390', PHONE],
  ['1280', DESK],
] as const;

describe.each(SIZES)('every view at %s px', (width, size) => {
  it.each(SIGHTS.map((sight) => [sight.name, sight] as const))(
    '%s: axe finds nothing in light and dark, nothing scrolls sideways, the console is silent; its picture',
    async (name, sight) => {
      const page = await see(sight, size);
      await built.last.settled();
      await lookedAt(page, name, resolve(root, `docs/pictures/${name}-${width}.png`));
      expect(built.last.troubles).toEqual([]);
    },
  );
});

describe('the dimmed clock', () => {
  it('can be read by axe’s measure too', async () => {
    const page = await see(SIGHTS[4], PHONE);
    await page.getByRole('button', { name: 'Dim' }).tap();
    expect(await violations(page)).toEqual([]);
    await page.screenshot({ path: resolve(root, 'docs/pictures/clock-dimmed-390.png') });
  });
});

const { photos } = JSON.parse(readFileSync(resolve(root, 'fixtures/demo/manifest.json'), 'utf8'));
const GIVEN: readonly string[] = [RUN.plan.dye, RUN.plan.cloth, RUN.plan.light, SETUP].concat(
  photos.flatMap(({ title, strip: { file } }: { title: string; strip: { file: string } }) => {
    const { dye, cloth, light } = JSON.parse(readFileSync(resolve(root, 'fixtures/demo', file), 'utf8'));
    return [title, dye, cloth, light];
  }),
);

describe('German', () => {
  it.each(SIGHTS.map((sight) => [sight.name, sight] as const))(
    '%s has no English word left outside what is marked as English',
    async (_, sight) => {
      const page = await see(sight, { ...DESK, locale: 'de-DE' });
      await built.last.settled();
      expect(await leftEnglish(page, GIVEN)).toEqual([]);
    },
  );
});
