import type { ComponentChildren } from 'preact';

/** Holds a table that may be wider than a phone: it scrolls by itself, by finger and by keys. */
export const ScrollPlace = ({
  labelledBy,
  children,
}: {
  labelledBy: string;
  children: ComponentChildren;
}) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls has to be reached by keys
  <section class="table-place" aria-labelledby={labelledBy} tabIndex={0}>
    {children}
  </section>
);
