import type { Browser, Page } from 'playwright-core';
import type { RenderedScene } from '../../fixtures/render.ts';
import { DESK, openPage, PHONE } from '../browser/openPage.ts';
import { percentile } from './tables.ts';

const DRAGS = 5;
const MOVES = 24;
/** About as often as screens and digitisers tell of a hand that moves. */
const BETWEEN_MS = 16;
/** Until the whole reading has followed, on a busy machine too. */
const REST_MS = 2500;

interface Drag {
  /** Milliseconds from each pointer move to the end of the first frame in which all signs have moved. */
  readonly took: readonly number[];
  /** Milliseconds from the last move to the last change of what is watched; null where it did not change after it. */
  readonly live: number | null;
  readonly whole: number | null;
}

/** A hand: a mouse on a desk, a finger on a phone. */
interface Hand {
  readonly down: (x: number, y: number) => Promise<void>;
  readonly move: (x: number, y: number) => Promise<void>;
  readonly up: () => Promise<void>;
}

const mouseOf = ({ mouse }: Page): Hand => ({
  down: async (x, y) => {
    await mouse.move(x, y);
    await mouse.down();
  },
  move: (x, y) => mouse.move(x, y),
  up: () => mouse.up(),
});

const fingerOf = async (page: Page): Promise<Hand> => {
  const session = await page.context().newCDPSession(page);
  const touch = async (type: 'touchStart' | 'touchMove' | 'touchEnd', at: readonly [number, number][]) => {
    await session.send('Input.dispatchTouchEvent', { type, touchPoints: at.map(([x, y]) => ({ x, y })) });
  };
  return {
    down: (x, y) => touch('touchStart', [[x, y]]),
    move: (x, y) => touch('touchMove', [[x, y]]),
    up: () => touch('touchEnd', []),
  };
};

/** Begins to watch, in the page: signs are attributes that all change in the frame that answers a move. */
const watch = async (page: Page, signs: readonly (readonly [string, string])[]): Promise<void> => {
  // The program that runs the bench names the functions of its scripts by this, which the page does not have.
  await page.evaluate('globalThis.__name ??= (named) => named');
  await page.evaluate((signs) => {
    const seen = () =>
      signs.map(([selector, name]) => document.querySelector(selector)?.getAttribute(name) ?? '');
    const textOf = (selector: string) => document.querySelector(selector)?.textContent ?? '';
    const drag = {
      took: [] as number[],
      lastMove: 0,
      live: 0,
      whole: 0,
      stop: () => {
        going = false;
      },
    };
    (globalThis as unknown as { drag: typeof drag }).drag = drag;
    let going = true;
    let last = seen();
    let texts = [textOf('.live-steps'), textOf('.steps')];
    let waiting: number[] = [];
    addEventListener(
      'pointermove',
      ({ timeStamp }) => {
        waiting.push(timeStamp);
        drag.lastMove = timeStamp;
      },
      true,
    );
    const afterFrame = new MessageChannel();
    afterFrame.port1.onmessage = () => {
      const at = performance.now();
      const now = seen();
      if (now.every((sign, i) => sign !== last[i])) {
        last = now;
        drag.took.push(...waiting.map((moved) => at - moved));
        waiting = [];
      }
      const [live, whole] = [textOf('.live-steps'), textOf('.steps')];
      if (live !== texts[0]) drag.live = at;
      if (whole !== texts[1]) drag.whole = at;
      texts = [live, whole];
    };
    const frame = () => {
      afterFrame.port2.postMessage(0);
      if (going) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  }, signs);
};

const watched = (page: Page): Promise<Drag> =>
  page.evaluate(() => {
    const { drag } = globalThis as unknown as {
      drag: { took: number[]; lastMove: number; live: number; whole: number; stop: () => void };
    };
    drag.stop();
    const after = (at: number) => (at > drag.lastMove ? at - drag.lastMove : null);
    return { took: drag.took, live: after(drag.live), whole: after(drag.whole) };
  });

/** Drags what is at a place along a way, from there and back by turns, and rests. */
const dragged = async (
  page: Page,
  hand: Hand,
  grip: string,
  [dx, dy]: readonly [number, number],
  signs: readonly (readonly [string, string])[],
): Promise<Drag> => {
  const box = await page.locator(grip).first().boundingBox();
  if (!box) throw new Error(`nothing to drag at ${grip}`);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await watch(page, signs);
  await hand.down(x, y);
  for (let i = 1; i <= MOVES; i++) {
    await hand.move(x + (dx * i) / MOVES, y + (dy * i) / MOVES);
    await page.waitForTimeout(BETWEEN_MS);
  }
  await page.waitForTimeout(REST_MS);
  await hand.up();
  return watched(page);
};

const told = (values: readonly number[]): string =>
  values.length === 0
    ? 'not seen'
    : `${percentile(values, 50).toFixed(0)} ms (95th percentile of ${values.length}: ${percentile(values, 95).toFixed(0)} ms)`;

const CORNER = '.found .handle:not(.middle, .line-handle)';

/**
 * How soon does the page follow a hand, with a 12 MP photo on show: a corner of the strip, and the line of the target?
 * Real pointer events in Chromium; rows of a table.
 */
export async function* measureDrags(
  browser: Browser,
  address: string,
  scene: RenderedScene,
): AsyncGenerator<string[]> {
  for (const [name, size] of [
    ['phone', PHONE],
    ['desk', DESK],
  ] as const) {
    const { page, context } = await openPage(browser, `${address}/#/read`, size);
    await page
      .getByLabel('Choose a photo', { exact: true })
      .setInputFiles({ name: 'strip.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(scene.bytes) });
    await page.locator('.photo-field .marked-photo img').waitFor();
    await page.locator('#times').fill(scene.strip.steps.map(({ seconds }) => `${seconds} s`).join('; '));
    await page.getByRole('button', { name: 'Read the strip' }).click();
    await page.locator('.reading-view').waitFor();
    const hand = size === PHONE ? await fingerOf(page) : mouseOf(page);

    await page.locator('.target-line .grip').scrollIntoViewIfNeeded();
    await page.waitForTimeout(REST_MS);
    const targets: number[] = [];
    for (let drag = 0; drag < DRAGS; drag++) {
      const way = drag % 2 === 0 ? -96 : 96;
      targets.push(
        ...(await dragged(page, hand, '.target-line .grip', [0, way], [['.target-line', 'style']])).took,
      );
    }
    yield [`from a move of the target to the frame that shows it, ${name}`, told(targets)];

    await page.getByRole('button', { name: 'Correct by hand' }).click();
    await page.locator('.live-steps').waitFor();
    await page.locator(CORNER).first().scrollIntoViewIfNeeded();
    await page.waitForTimeout(REST_MS);
    const corners: Drag[] = [];
    for (let drag = 0; drag < DRAGS; drag++) {
      const way = drag % 2 === 0 ? 1 : -1;
      corners.push(
        await dragged(
          page,
          hand,
          CORNER,
          [18 * way, 12 * way],
          [
            [CORNER, 'style'],
            ['.lens', 'viewBox'],
          ],
        ),
      );
    }
    yield [
      `from a move of a corner to the frame with handle and magnifier moved, ${name}`,
      told(corners.flatMap(({ took }) => took)),
    ];
    yield [
      `from the pause to the changed L* beneath the photo, ${name}`,
      told(corners.flatMap(({ live }) => live ?? [])),
    ];
    yield [
      `from the pause to the whole changed reading, ${name}`,
      told(corners.flatMap(({ whole }) => whole ?? [])),
    ];
    await context.close();
  }
}
