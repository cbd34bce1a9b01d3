import { defineConfig } from 'vitest/config';

const include = (rooms: string): string[] => [`tests/${rooms}/**/*.test.ts`, `tests/${rooms}/**/*.test.tsx`];

export default defineConfig({
  test: {
    // Every core works; the default leaves one idle, which on two cores is half.
    maxWorkers: '100%',
    projects: [
      {
        test: {
          name: 'shared',
          // Nothing here keeps state between files, so the modules are loaded once for all of them.
          include: include('{analysis,fixtures,house,web,server/exchange,server/papers,server/record}'),
          isolate: false,
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'apart',
          include: [...include('{hostile,server/commands,server/store}'), 'tests/server/*.test.ts'],
          testTimeout: 30_000,
        },
      },
    ],
  },
});
