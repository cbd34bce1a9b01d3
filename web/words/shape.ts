import type { english } from './english.ts';

/** Literal sentences become strings, so that a second language fits the same shape. */
type Widened<T> = T extends string
  ? string
  : T extends (...given: infer Given) => unknown
    ? (...given: Given) => string
    : { readonly [K in keyof T]: Widened<T[K]> };

/** All words of the page. A further language is a value of this type: a missing word does not compile. */
export type Words = Widened<typeof english>;
