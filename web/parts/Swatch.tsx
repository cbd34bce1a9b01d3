import { cssColour } from '../trueColour.ts';

/** A measured colour on the neutral mat. */
export const Swatch = ({
  L,
  a,
  b,
  class: extra = '',
}: {
  L: number;
  a: number;
  b: number;
  class?: string;
}) => (
  <span class={`swatch ${extra}`} style={{ backgroundColor: cssColour({ L, a, b }) }} aria-hidden="true" />
);
