import { signal } from '@preact/signals';
import type { ComponentProps } from 'preact';
import { words } from '../words.ts';

type Editor = typeof import('./LiveEditor.tsx').LiveEditor;
type Taps = typeof import('./TapPhoto.tsx').TapPhoto;

/** What takes a hand to set right is fetched once it is asked for. */
const parts = signal<{ readonly LiveEditor: Editor; readonly TapPhoto: Taps } | null>(null);

const load = (): void => {
  if (parts.peek() === null)
    Promise.all([import('./LiveEditor.tsx'), import('./TapPhoto.tsx')]).then(
      ([{ LiveEditor }, { TapPhoto }]) => {
        parts.value = { LiveEditor, TapPhoto };
      },
      () => undefined,
    );
};

const Loading = () => <p role="status">{words.frame.loading}</p>;

export const LiveEditorPart = (props: ComponentProps<Editor>) => {
  load();
  const loaded = parts.value;
  return loaded ? <loaded.LiveEditor {...props} /> : <Loading />;
};

export const TapPhotoPart = (props: ComponentProps<Taps>) => {
  load();
  const loaded = parts.value;
  return loaded ? <loaded.TapPhoto {...props} /> : <Loading />;
};
