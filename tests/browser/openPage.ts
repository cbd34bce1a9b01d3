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
}

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
  await page.goto(address);
  return { page, context, troubles };
};
