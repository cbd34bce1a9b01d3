import { advise } from '../../analysis/advice/advise.ts';
import { exposureFor } from '../../analysis/curve/evaluate.ts';
import { fitCurve } from '../../analysis/curve/fitCurve.ts';
import { rootOf, whiten } from '../../analysis/curve/whiten.ts';
import type { Reading } from '../../analysis/reading.ts';
import type { RenderedScene } from '../../fixtures/render.ts';
import { normals } from '../analysis/across/noise.ts';

/** Where an exposure's error comes from: errors in stops of the same fit to other L*; null where it gives no time. */
export interface ExposureParts {
  /** The steps' true L*: what the fit itself gets wrong. */
  readonly exactL: number | null;
  /** True L* and errors drawn from the stated covariance: what a perfect estimator with this photo has to expect. */
  readonly statedNoise: number | null;
  /** True L*, all off by the mean of the reading's errors: card, tone and light, which all steps share. */
  readonly sharedError: number | null;
  /** The reading without that mean: what differs from step to step. */
  readonly ownErrors: number | null;
}

/** How long for full depth, against the truth; null where no time is given. */
export interface FullResult {
  readonly error: number;
  readonly inInterval: boolean;
  readonly widthStops: number;
}

const fitted = (reading: Reading, L: readonly number[], targetL: number): number | null => {
  const outcome = fitCurve(
    reading.steps.map(({ seconds, a, b, uL }, i) => ({ seconds, L: L[i], a, b, uL })),
    { covarianceL: reading.covarianceL },
  );
  return outcome.kind === 'fitted' ? exposureFor(outcome.curve, targetL) : null;
};

export const exposureParts = (
  reading: Reading,
  scene: RenderedScene,
  target: { readonly L: number; readonly seconds: number },
  seed: number,
): ExposureParts => {
  const truth = scene.truth.steps.map((step) => step.L);
  const errors = reading.steps.map((step, i) => step.L - truth[i]);
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  const normal = normals(seed);
  const drawn = whiten(rootOf(reading.covarianceL), errors.map(normal));
  const stopsOff = (added: readonly number[]): number | null => {
    const seconds = fitted(
      reading,
      truth.map((L, i) => L + added[i]),
      target.L,
    );
    return seconds !== null && seconds > 0 ? Math.log2(seconds / target.seconds) : null;
  };
  return {
    exactL: stopsOff(errors.map(() => 0)),
    statedNoise: stopsOff(drawn),
    sharedError: stopsOff(errors.map(() => mean)),
    ownErrors: stopsOff(errors.map((error) => error - mean)),
  };
};

export const fullDepth = (reading: Reading, scene: RenderedScene): FullResult | null => {
  const truth = scene.truth.exposureForL(scene.truth.deepestL + 1);
  const { seconds, low, high, highOpen } = advise(reading.curve, { kind: 'full' });
  if (truth === null || truth <= 0 || seconds === null || low === null || high === null) return null;
  return {
    error: Math.log2(seconds / truth),
    inInterval: low <= truth && (truth <= high || highOpen),
    widthStops: Math.log2(high / low),
  };
};
