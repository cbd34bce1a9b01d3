import { measureSheet } from './sheetMeasure.ts';

// A child process of the bench: measures the sheets that its parent names, one at a time.
process.on(
  'message',
  async ({
    id,
    seed,
    options,
  }: {
    id: number;
    seed: number;
    options: Parameters<typeof measureSheet>[1];
  }) => {
    try {
      process.send?.({ id, measured: await measureSheet(seed, options) });
    } catch (error) {
      process.send?.({ id, failure: `sheet/${seed}: ${(error as Error).message}` });
    }
  },
);
