import { measure } from './measure.ts';

// A child process of the bench: measures the scenes that its parent names, one at a time.
process.on(
  'message',
  async ({ id, seed, options }: { id: number; seed: number; options: Parameters<typeof measure>[1] }) => {
    try {
      process.send?.({ id, measured: await measure(seed, options) });
    } catch (error) {
      process.send?.({
        id,
        failure: `${options.card}/${options.surround}/${seed}: ${(error as Error).message}`,
      });
    }
  },
);
