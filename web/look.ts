import { signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { LookAnswer } from '../server/contracts/look.ts';
import type { Marks } from '../server/contracts/marks.ts';
import type { StripDescription } from '../server/contracts/strip.ts';
import { lookAtSteps, type PhotoSource } from './stripPhotos.ts';

export interface LookWish {
  readonly photos: readonly { readonly source: PhotoSource; readonly marks: Marks }[];
  readonly strip: StripDescription;
}

/**
 * Asks what the steps come to while marks are being moved: one question at a time, and after its answer the newest of
 * those that came meanwhile. A question that can't be answered leaves null.
 */
export const createLooker = (ask: typeof lookAtSteps = lookAtSteps) => {
  const steps = signal<LookAnswer['steps'] | null>(null);
  const stopping = new AbortController();
  let wanted: LookWish | null = null;
  let busy = false;

  const pump = async (): Promise<void> => {
    busy = true;
    while (wanted && !stopping.signal.aborted) {
      const { photos, strip } = wanted;
      wanted = null;
      try {
        const answer = await ask(photos, strip, stopping.signal);
        if (!stopping.signal.aborted) steps.value = answer.steps;
      } catch {
        if (!stopping.signal.aborted) steps.value = null;
      }
    }
    busy = false;
  };

  return {
    /** As the newest answer has them; null before the first, and where the marks can't be read. */
    steps,
    look: (wish: LookWish): void => {
      wanted = wish;
      if (!busy) pump();
    },
    stop: (): void => stopping.abort(),
  };
};

/** A looker that lives as long as what is drawn with it. */
export const useLooker = () => {
  const looker = useMemo(() => createLooker(), []);
  useEffect(() => looker.stop, []);
  return looker;
};
