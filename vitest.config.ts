import { defineConfig } from 'vitest/config';

const include = (rooms: string): string[] => [`tests/${rooms}/**/*.test.ts`, `tests/${rooms}/**/*.test.tsx`];

export default defineConfig({
  test: {
    // Every core works; the default leaves one idle, which on two cores is half.
    maxWorkers: '100%',
    projects: [
      {
        test: {
          name: 'pure',
          // Nothing here keeps state between files, so the modules are loaded once for all of them.
          include: include('{analysis,fixtures,web}'),
          isolate: false,
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'rest',
          include: include('*'),
          exclude: ['tests/browser/**', 'tests/analysis/**', 'tests/fixtures/**', 'tests/web/**'],
          testTimeout: 30_000,
        },
      },
    ],
  },
});
