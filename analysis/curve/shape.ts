import type { BuildUpShape, CurveShape, LogisticShape, MonotoneShape } from './curve.ts';
import { ksFromLightness, lightnessFromKs } from './depthScale.ts';

/** L* of a shape after `seconds` of exposure (0 or more). */
export function shapeLightness(shape: CurveShape, seconds: number): number {
  switch (shape.model) {
    case 'build-up':
      return lightnessFromKs(buildUpKs(shape, seconds));
    case 'logistic':
      return logisticLightness(shape, seconds);
    case 'monotone':
      return hermite(shape, seconds);
  }
}

/** Seconds at which a shape first gets down to L*; null where it never does, or where L* is above its base. */
export function shapeExposure(shape: CurveShape, L: number): number | null {
  switch (shape.model) {
    case 'build-up': {
      const share = (ksFromLightness(L) - shape.ksBase) / shape.k;
      if (!(share >= 0 && share < 1)) return null;
      if (shape.delaySeconds !== undefined)
        return delayedExposure(shape, shape.delaySeconds, -Math.log1p(-share));
      return finite(shape.tauSeconds * (-Math.log1p(-share)) ** (1 / shape.p));
    }
    case 'logistic': {
      const share = logisticShare(shape, L);
      if (!(share >= 0 && share < 1)) return null;
      return finite(shape.halfSeconds * (share / (1 - share)) ** (1 / shape.n));
    }
    case 'monotone':
      return hermiteExposure(shape, L);
  }
}

/** L* of a shape without exposure. */
export function shapeBase(shape: CurveShape): number {
  return shape.model === 'build-up'
    ? lightnessFromKs(shape.ksBase)
    : shape.model === 'logistic'
      ? shape.baseL
      : shape.L[0];
}

/** Knots so near to the last, in L*, make up the plateau. */
const plateauL = 1;

/** The L* that a shape comes down to in the end: the asymptote, or the mean of the plateau. */
export function shapeDeepest(shape: CurveShape): number {
  return shape.model === 'build-up'
    ? lightnessFromKs(shape.ksBase + shape.k)
    : shape.model === 'logistic'
      ? shape.deepestL
      : plateauMean(shape.L);
}

function plateauMean(L: readonly number[]): number {
  const plateau = L.filter((value) => value <= L[L.length - 1] + plateauL);
  return plateau.reduce((sum, value) => sum + value, 0) / plateau.length;
}

/** Seconds E with (E + d·(exp(−E/d) − 1))/tau = z: between z·tau and z·tau + d. */
function delayedExposure(shape: BuildUpShape, d: number, z: number): number | null {
  let low = z * shape.tauSeconds;
  let high = low + d;
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2;
    if ((middle + d * Math.expm1(-middle / d)) / shape.tauSeconds < z) low = middle;
    else high = middle;
  }
  return finite(high);
}

function buildUpKs(shape: BuildUpShape, seconds: number): number {
  if (!(seconds > 0)) return shape.ksBase;
  if (shape.delaySeconds !== undefined) {
    const d = shape.delaySeconds;
    return shape.ksBase - shape.k * Math.expm1(-(seconds + d * Math.expm1(-seconds / d)) / shape.tauSeconds);
  }
  return shape.ksBase - shape.k * Math.expm1(-((seconds / shape.tauSeconds) ** shape.p));
}

function logisticLightness(shape: LogisticShape, seconds: number): number {
  if (!(seconds > 0)) return shape.baseL;
  const share = 1 / (1 + (shape.halfSeconds / seconds) ** shape.n);
  if (shape.over === 'L*') return shape.baseL - (shape.baseL - shape.deepestL) * share;
  const base = ksFromLightness(shape.baseL);
  return lightnessFromKs(base + (ksFromLightness(shape.deepestL) - base) * share);
}

function logisticShare(shape: LogisticShape, L: number): number {
  if (shape.over === 'L*') return (shape.baseL - L) / (shape.baseL - shape.deepestL);
  const base = ksFromLightness(shape.baseL);
  return (ksFromLightness(L) - base) / (ksFromLightness(shape.deepestL) - base);
}

function hermite(shape: MonotoneShape, seconds: number): number {
  const { x, L } = shape;
  const at = Math.log1p(Math.max(0, seconds) / shape.unitSeconds);
  const last = x.length - 1;
  if (!(at > x[0])) return L[0];
  if (at >= x[last]) return L[last];
  let piece = 0;
  while (at > x[piece + 1]) piece++;
  return hermitePiece(shape, piece, (at - x[piece]) / (x[piece + 1] - x[piece]));
}

function hermitePiece({ x, L, slopes }: MonotoneShape, i: number, t: number): number {
  const width = x[i + 1] - x[i];
  const s = 1 - t;
  return (
    L[i] * (1 + 2 * t) * s * s +
    slopes[i] * width * t * s * s +
    L[i + 1] * t * t * (3 - 2 * t) -
    slopes[i + 1] * width * t * t * s
  );
}

function hermiteExposure(shape: MonotoneShape, L: number): number | null {
  const { x } = shape;
  const last = x.length - 1;
  if (!(L <= shape.L[0] && L >= shape.L[last])) return null;
  let piece = 0;
  while (piece < last - 1 && shape.L[piece + 1] > L) piece++;
  let low = 0;
  let high = 1;
  for (let halving = 0; halving < 50; halving++) {
    const middle = (low + high) / 2;
    if (hermitePiece(shape, piece, middle) > L) low = middle;
    else high = middle;
  }
  return finite(shape.unitSeconds * Math.expm1(x[piece] + high * (x[piece + 1] - x[piece])));
}

function finite(seconds: number): number | null {
  return Number.isFinite(seconds) ? seconds : null;
}
