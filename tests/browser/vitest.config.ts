import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

/** Tests of the built page in a real Chromium: `npm test -- --browser`. */
export default defineConfig({
  root: resolve(import.meta.dirname, '../..'),
  test: {
    include: ['tests/browser/**/*.test.ts'],
    globalSetup: ['tests/browser/build.ts', 'tests/browser/sharedServer.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Two at once fill the waits of one another; files that count what lies in a book have a server of their own.
    maxWorkers: 2,
  },
});
