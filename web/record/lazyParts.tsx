import { signal } from '@preact/signals';
import type { KeptReading } from '../../server/contracts/recordReadings.ts';
import type { Shown } from '../session.ts';

type Parts = typeof import('./keepParts.tsx');

/** What belongs to the book is fetched once a strip is on show that can be kept. */
const parts = signal<Parts | null>(null);

const load = (): void => {
  if (parts.peek() === null)
    import('./keepParts.tsx').then(
      (loaded) => {
        parts.value = loaded;
      },
      () => undefined,
    );
};

export const KeepPart = ({ shown }: { shown: Shown }) => {
  load();
  const loaded = parts.value;
  return loaded && <loaded.KeepForm key={shown.key} shown={shown} />;
};

export const KeptPart = ({ kept }: { kept: KeptReading }) => {
  load();
  const loaded = parts.value;
  return loaded && <loaded.KeptNotes key={kept.line.id} kept={kept} />;
};
