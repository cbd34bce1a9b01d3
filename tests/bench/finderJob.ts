import { search } from './finderMeasure.ts';
import type { FinderScene } from './finderScene.ts';

// A child process of the bench: searches the photos that its parent names, one at a time.
process.on('message', async ({ id, seed, scene }: { id: number; seed: number; scene: FinderScene }) => {
  try {
    process.send?.({ id, measured: await search(seed, scene) });
  } catch (error) {
    process.send?.({ id, failure: `${scene.card}/${scene.surround}/${seed}: ${(error as Error).message}` });
  }
});
