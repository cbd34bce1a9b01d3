import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Normal numbers, mean 0, standard deviation 1; the same seed gives the same ones (Box and Muller 1958). */
export const normalNumbers = (seed: number): (() => number) => {
  const generator = xoroshiro128plus(seed);
  return () =>
    Math.sqrt(-2 * Math.log(1 - uniformFloat64(generator))) *
    Math.cos(2 * Math.PI * uniformFloat64(generator));
};
