import { existsSync } from 'node:fs';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

export const launchBrowser = (): Promise<Browser> => {
  const executablePath = process.env.CHROMIUM ?? PLACES.find((place) => existsSync(place));
  if (!executablePath) throw new Error('No Chromium on this machine: name one in the variable CHROMIUM.');
  return chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-background-networking'] });
};

export const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true } as const;
export const DESK = { viewport: { width: 1280, height: 800 } } as const;

export interface OpenPage {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Console errors, warnings and uncaught errors so far. */
  readonly troubles: readonly string[];
  /** Waits until nothing has been under way to or from the network for a tenth of a second. */
  settled(): Promise<void>;
}

const QUIET_MS = 100;
const STEP_MS = 25;

/** Opens an address as a fresh visitor with an English browser. */
export const openPage = async (
  browser: Browser,
  address: string,
  options: Parameters<Browser['newContext']>[0] = DESK,
): Promise<OpenPage> => {
  const context = await browser.newContext({ locale: 'en-GB', ...options });
  const page = await context.newPage();
  const troubles: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') troubles.push(message.text());
  });
  page.on('pageerror', (error) => troubles.push(error.message));
  let underWay = 0;
  let lastChange = Date.now();
  for (const [event, by] of [
    ['request', 1],
    ['requestfinished', -1],
    ['requestfailed', -1],
  ] as const)
    page.on(event as 'request', (request) => {
      // A stream of news stays open for good.
      if (request.resourceType() === 'eventsource') return;
      underWay += by;
      lastChange = Date.now();
    });
  const settled = async (): Promise<void> => {
    await page.waitForLoadState('load');
    lastChange = Date.now();
    for (let waited = 0; underWay > 0 || Date.now() - lastChange < QUIET_MS; waited += STEP_MS) {
      if (waited > 20_000) throw new Error('the page did not come to rest within 20 s');
      await new Promise((go) => setTimeout(go, STEP_MS));
    }
  };
  await page.goto(address);
  return { page, context, troubles, settled };
};
