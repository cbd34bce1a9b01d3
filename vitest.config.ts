import { defineConfig } from 'vitest/config';

/** Nothing here keeps state between files, so the modules are loaded once for all of them. */
const SHARED = [
  'tests/{analysis,fixtures,house,web,server/exchange,server/papers,server/record}/**/*.test.{ts,tsx}',
  'tests/server/*.test.ts',
];

export default defineConfig({
  test: {
    // Every core works; the default leaves one idle, which on two cores is half.
    maxWorkers: '100%',
    projects: [
      { test: { name: 'shared', include: SHARED, isolate: false, testTimeout: 30_000, hookTimeout: 30_000 } },
      {
        test: {
          name: 'apart',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/browser/**', ...SHARED],
          testTimeout: 30_000,
          hookTimeout: 30_000,
        },
      },
    ],
  },
});
