import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { words } from './words.ts';

const OpeningView = () => (
  <main class="opening" id="main" tabIndex={-1}>
    <p role="status">{words.frame.loading}</p>
  </main>
);

/** A view whose script is fetched when it is first shown, so that the first load stays small. */
export const lazyView = (
  load: () => Promise<ComponentType>,
  Meanwhile: ComponentType = OpeningView,
): ComponentType => {
  const loaded = signal<{ readonly View: ComponentType } | null>(null);
  let loading = false;
  return () => {
    if (loaded.value) {
      const { View } = loaded.value;
      return <View />;
    }
    if (!loading) {
      loading = true;
      load().then(
        (View) => {
          loaded.value = { View };
        },
        () => {
          loading = false;
        },
      );
    }
    return <Meanwhile />;
  };
};
