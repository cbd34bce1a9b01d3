import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { RecordedCurve } from '../../../analysis/across/recorded.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import { fitCurve } from '../../../analysis/curve/fitCurve.ts';
import { type Known, knownL } from './knownCurve.ts';

/** Standard normal numbers, the same for the same seed. */
export function normals(seed: number): () => number {
  const random = xoroshiro128plus(seed);
  // The first numbers of seeds that lie close together are alike.
  for (let i = 0; i < 20; i++) uniformFloat64(random);
  return () =>
    Math.sqrt(-2 * Math.log(1 - uniformFloat64(random))) * Math.cos(2 * Math.PI * uniformFloat64(random));
}

/** A strip of eight steps of a known dye, each read with independent error, fitted with 100 drawn curves. */
export function noisyStrip(known: Known, uL: number, seed: number): RecordedCurve {
  const normal = normals(seed);
  const points = [0, 15, 30, 60, 120, 240, 480, 960].map((seconds) => ({
    seconds,
    L: knownL(known, seconds) + uL * normal(),
    a: 0,
    b: 0,
    uL,
  }));
  const outcome = fitCurve(points);
  if (outcome.kind !== 'fitted') throw new Error(outcome.message);
  return { curve: outcome.curve, set: bootstrapCurve(outcome.curve, { seed, count: 100 }) };
}
