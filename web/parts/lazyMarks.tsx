import { signal } from '@preact/signals';
import type { ComponentProps } from 'preact';
import { words } from '../words.ts';

type Editor = typeof import('./MarkEditor.tsx').MarkEditor;
type Taps = typeof import('./TapPhoto.tsx').TapPhoto;

/** What takes a hand to set right is fetched once it is asked for. */
const parts = signal<{ readonly MarkEditor: Editor; readonly TapPhoto: Taps } | null>(null);

const load = (): void => {
  if (parts.peek() === null)
    Promise.all([import('./MarkEditor.tsx'), import('./TapPhoto.tsx')]).then(
      ([{ MarkEditor }, { TapPhoto }]) => {
        parts.value = { MarkEditor, TapPhoto };
      },
      () => undefined,
    );
};

const Loading = () => <p role="status">{words.frame.loading}</p>;

export const MarkEditorPart = (props: ComponentProps<Editor>) => {
  load();
  const loaded = parts.value;
  return loaded ? <loaded.MarkEditor {...props} /> : <Loading />;
};

export const TapPhotoPart = (props: ComponentProps<Taps>) => {
  load();
  const loaded = parts.value;
  return loaded ? <loaded.TapPhoto {...props} /> : <Loading />;
};
