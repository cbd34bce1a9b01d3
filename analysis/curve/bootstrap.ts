import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Curve, CurveShape } from './curve.ts';
import { familyOf } from './families.ts';
import { priorFor, refitter } from './familyFit.ts';
import { monotoneShape } from './monotone.ts';
import { totalCovariance } from './totalCovariance.ts';
import { rootOf, subset, whiten, whitenerOf } from './whiten.ts';

/** Curves that the strip could as well have shown: the spread of anything read off them is its uncertainty. Plain data. */
export interface BootstrapSet {
  readonly seed: number;
  readonly shapes: readonly CurveShape[];
}

export interface BootstrapOptions {
  readonly seed?: number;
  readonly count?: number;
}

const defaultCount = 400;

/**
 * Which other curves could have given this strip? Parametric bootstrap: the points are drawn anew with the errors that
 * their covariance allows (common to all or single), their times with the timer's error, the weak prior within its
 * spread, and the chosen model or the runner-up by their share of belief; each draw is fitted again.
 *
 * `seed`: same seed, same curves. `count`: draws, 400 unless told. Compute once per curve; a moved target only reads
 * the set again.
 */
export function bootstrapCurve(curve: Curve, options: BootstrapOptions = {}): BootstrapSet {
  const seed = options.seed ?? 1;
  const count = options.count ?? defaultCount;
  const random = xoroshiro128plus(seed);
  const normal = () =>
    Math.sqrt(-2 * Math.log(1 - uniformFloat64(random))) * Math.cos(2 * Math.PI * uniformFloat64(random));

  const seconds = curve.used.map((i) => curve.points[i].seconds);
  const L = curve.used.map((i) => curve.points[i].L);
  const covariance = totalCovariance(
    subset(curve.covarianceL, curve.used),
    seconds,
    curve.shape,
    curve.timer,
    curve.extraScatterL,
  );
  const root = rootOf(covariance);
  const redraw = () => {
    const errors = whiten(root, seconds.map(normal));
    return L.map((value, i) => value + errors[i]);
  };

  if (curve.shape.model === 'monotone') {
    const variances = covariance.map((row, i) => row[i]);
    return {
      seed,
      shapes: Array.from({ length: count }, () => monotoneShape(seconds, redraw(), variances)),
    };
  }
  const W = whitenerOf(covariance);
  const models = [{ shape: curve.shape, weight: curve.shapeWeight }, ...curve.alternatives].flatMap(
    ({ shape, weight }) => {
      if (shape.model === 'monotone') return [];
      const family = familyOf(shape);
      const prior = priorFor(family, seconds);
      return [
        { family, weight, prior, refit: refitter(family, { seconds, W }, prior.spread, family.free(shape)) },
      ];
    },
  );
  const pick = () => {
    let left = uniformFloat64(random);
    for (const model of models) {
      left -= model.weight;
      if (left < 0) return model;
    }
    return models[0];
  };
  const shapes = Array.from({ length: count }, () => {
    const { family, prior, refit } = pick();
    const drawn = redraw();
    const middle = prior.middle.map((value, j) => value + prior.spread[j] * normal());
    return family.shape(refit(drawn, middle));
  });
  return { seed, shapes };
}
