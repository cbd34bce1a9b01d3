import type { Reading } from '../../server/contracts/reading.ts';

const apart = (names: readonly string[]): boolean =>
  new Set(names.map((name) => name.trim().toLocaleLowerCase())).size > 1;

/** What beside the dye differs between strips: then a difference need not be the dye's. */
export const mixedOf = (
  strips: readonly { readonly reading: { readonly strip: Pick<Reading['strip'], 'cloth' | 'light'> } }[],
): readonly ('cloth' | 'light')[] =>
  (['cloth', 'light'] as const).filter((what) => apart(strips.map(({ reading }) => reading.strip[what])));
