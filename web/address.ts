import { signal } from '@preact/signals';

/** The views of the page that have an address of their own. */
export const VIEWS = [
  'answer',
  'plan',
  'run',
  'read',
  'book',
  'today',
  'compare',
  'drift',
  'evenness',
  'archive',
  'settings',
] as const;
export type View = (typeof VIEWS)[number];

/** Views that belong to the book. */
export const BOOK_VIEWS = [
  'book',
  'today',
  'compare',
  'drift',
  'evenness',
  'archive',
] as const satisfies readonly View[];

/** Where the visitor is: a view, and what it shows (a strip's key), where it can show several. */
export interface Place {
  readonly view: View;
  readonly detail: string | null;
}

/** Reads `#/view/detail`; anything else is the start, the answer. */
export const placeOf = (hash: string): Place => {
  const [, view = '', detail = ''] = /^#\/([a-z]+)(?:\/([^/]+))?$/.exec(hash) ?? [];
  const known = VIEWS.find((name) => name === view);
  if (!known) return { view: 'answer', detail: null };
  return { view: known, detail: detail === '' ? null : decodeURIComponent(detail) };
};

export const hashOf = ({ view, detail }: Place): string =>
  `#/${view}${detail === null ? '' : `/${encodeURIComponent(detail)}`}`;

export const place = signal<Place>(placeOf(location.hash));

addEventListener('popstate', () => {
  if (location.hash === '' || location.hash.startsWith('#/')) place.value = placeOf(location.hash);
  // A link within a view has moved the focus; the address goes on naming the view, for a reload.
  else history.replaceState(null, '', hashOf(place.value));
});

/** Goes to a view; Back leads where one came from. */
export const goTo = (view: View, detail: string | null = null): void => {
  const next = { view, detail };
  if (hashOf(next) !== location.hash) history.pushState(null, '', hashOf(next));
  place.value = next;
  scrollTo({ top: 0 });
};

/** Gives the place on show its full address without a step in the history. */
export const nameDetail = (detail: string | null): void => {
  const next = { view: place.value.view, detail };
  history.replaceState(null, '', hashOf(next));
  place.value = next;
};
