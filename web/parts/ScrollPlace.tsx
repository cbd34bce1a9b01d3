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
  // biome-ignore lint/a11y/useSemanticElements: a fieldset would be a group of fields
  <div class="table-place" role="group" aria-labelledby={labelledBy} tabIndex={0}>
    {children}
  </div>
);
