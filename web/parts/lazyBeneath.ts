import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';

type Behind = typeof import('./Beneath.tsx');

const behind = signal<Behind | null>(null);

/** What stands behind an answer, fetched once the answer itself has been drawn; null until then. */
export const useBehind = (): Behind | null => {
  useEffect(() => {
    if (behind.peek() === null)
      import('./Beneath.tsx').then(
        (loaded) => {
          behind.value = loaded;
        },
        () => undefined,
      );
  }, []);
  return behind.value;
};
