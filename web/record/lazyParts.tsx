import { signal } from '@preact/signals';
import type { KeptReading } from '../../server/contracts/recordReadings.ts';
import type { Shown } from '../session.ts';

type Parts = typeof import('./KeepForm.tsx') & typeof import('./KeptNotes.tsx');

/** What belongs to the book is fetched once a strip is on show that can be kept. */
const parts = signal<Parts | null>(null);

const load = (): void => {
  if (parts.peek() === null)
    Promise.all([import('./KeepForm.tsx'), import('./KeptNotes.tsx')]).then(
      ([form, notes]) => {
        parts.value = { ...form, ...notes };
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
