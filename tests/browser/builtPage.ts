import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { DESK, launchBrowser, type OpenPage, openPage } from './openPage.ts';
import { type RunningServer, type StartOptions, startServer } from './runningServer.ts';
import { sharedServer } from './sharedServer.ts';

/** The built page for the tests of one file. */
export interface BuiltPage {
  readonly server: RunningServer;
  readonly browser: Browser;
  /** The page opened last. */
  readonly last: OpenPage;
  /**
   * Opens a path of the page, such as `/#/plan`, or a whole address such as `about:blank`, as a fresh visitor. It is
   * closed after the test.
   */
  open(path: string, options?: Parameters<typeof openPage>[2]): Promise<OpenPage>;
}

/**
 * Server and browser for the tests of a file: begins and ends them, closes what a test opened, and lets no test pass in
 * which the server complained. The server is the one that all files share; with `own` it is one of this file alone, with
 * an empty book, for files that count what lies in it or start it in a way of their own.
 */
export const builtPage = ({ own }: { readonly own?: StartOptions } = {}): BuiltPage => {
  let server: RunningServer;
  let browser: Browser;
  let complainedBefore = '';
  let opened: OpenPage[] = [];

  beforeAll(async () => {
    [server, browser] = await Promise.all([own ? startServer(own) : sharedServer(), launchBrowser()]);
    complainedBefore = server.complaints();
  });

  afterAll(async () => {
    await browser?.close();
    if (own) await server?.stop();
  });

  afterEach(async () => {
    for (const { context } of opened) await context.close();
    opened = [];
    const complained = server.complaints().slice(complainedBefore.length);
    complainedBefore += complained;
    expect(complained).toBe('');
  });

  return {
    get server() {
      return server;
    },
    get browser() {
      return browser;
    },
    get last() {
      const last = opened.at(-1);
      if (!last) throw new Error('no page was opened in this test');
      return last;
    },
    async open(path, options = DESK) {
      const one = await openPage(browser, path.startsWith('/') ? `${server.address}${path}` : path, options);
      opened.push(one);
      return one;
    },
  };
};
