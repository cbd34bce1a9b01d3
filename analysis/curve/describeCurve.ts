import { type Phrase, phrase } from '../phrases.ts';
import type { Choice } from './chooseModel.ts';
import { colourPath } from './colourPath.ts';
import type { Curve, CurvePoint, CurveShape, Parameter, TimerError } from './curve.ts';
import type { FamilyFit } from './familyFit.ts';
import { landmarksOf } from './landmarks.ts';
import { shapeBase, shapeDeepest, shapeLightness } from './shape.ts';

/** Uncertainty of the deepest L* from which it is called poorly known. */
const poorlyKnownL = 2;
/** A rise from the last knot but one, in L*, below which interpolation has arrived on a plateau. */
const levelL = 1;

const units: Readonly<Record<string, string>> = {
  ksBase: 'K/S',
  k: 'K/S',
  tauSeconds: 's',
  p: '1',
  delaySeconds: 's',
  baseL: 'L*',
  deepestL: 'L*',
  halfSeconds: 's',
  n: '1',
};

/** The curve as a plain value with all that a reader asks of it. */
export function describeCurve(
  points: readonly CurvePoint[],
  used: readonly number[],
  covarianceL: readonly (readonly number[])[],
  timer: TimerError,
  choice: Choice,
): Curve {
  const { shape, fit } = choice;
  const usedPoints = used.map((i) => points[i]);
  const exposed = usedPoints.filter((point) => point.seconds > 0).map((point) => point.seconds);
  const longestSeconds = exposed[exposed.length - 1];
  const baseSeen = points[0].seconds === 0;
  const baseL = shapeBase(shape);
  const deepestL = shapeDeepest(shape);
  const depths = usedPoints.map(
    (point) => (baseL - shapeLightness(shape, point.seconds)) / (baseL - deepestL),
  );
  const deepestU = fit ? uncertaintyOf(fit, shapeDeepest) : plateauU(shape, covarianceL, used);
  const reversedFromSeconds = used.length < points.length ? points[used.length].seconds : null;
  const remarks = remarksOn(fit, baseSeen, baseL, deepestL, deepestU, reversedFromSeconds);
  return {
    model: shape.model,
    reason: choice.reason,
    phrase: choice.phrase,
    runnerUp: choice.runnerUp,
    parameters: fit ? parametersOf(shape, fit) : {},
    points,
    covarianceL,
    used,
    timer,
    shape,
    shapeWeight: choice.shapeWeight,
    alternatives: choice.alternatives,
    chiSquared: choice.chiSquared,
    degreesOfFreedom: choice.degreesOfFreedom,
    extraScatterL: choice.extraScatterL,
    colour: colourPath(
      depths,
      usedPoints.map((point) => point.a),
      usedPoints.map((point) => point.b),
    ),
    baseSeen,
    baseL,
    baseU: fit ? uncertaintyOf(fit, shapeBase) : Math.sqrt(covarianceL[used[0]][used[0]]),
    deepestL,
    deepestU,
    shortestSeconds: exposed[0],
    longestSeconds,
    ...landmarksOf(shape, 2 * longestSeconds),
    reversed: reversedFromSeconds !== null,
    reversedFromSeconds,
    remarks: remarks.map(({ text }) => text),
    remarkPhrases: remarks.map((remark) => remark.phrase),
  };
}

/** By the derivatives of a number of the curve with respect to the free numbers of its fit. */
function uncertaintyOf(fit: FamilyFit, number: (shape: CurveShape) => number): number | null {
  const { covariance, free, family } = fit;
  if (!covariance) return null;
  const h = 1e-4;
  const gradient = free.map((value, j) => {
    const at = (shifted: number) => number(family.shape(free.map((v, k) => (k === j ? shifted : v))));
    return (at(value + h) - at(value - h)) / (2 * h);
  });
  const variance = gradient.reduce(
    (sum, one, i) => sum + gradient.reduce((part, other, j) => part + one * other * covariance[i][j], 0),
    0,
  );
  return Math.sqrt(Math.max(0, variance));
}

function parametersOf(shape: CurveShape, fit: FamilyFit): Record<string, Parameter> {
  const numbers = shape as unknown as Record<string, unknown>;
  return Object.fromEntries(
    Object.entries(numbers).flatMap(([name, value]) => {
      if (typeof value !== 'number') return [];
      const u = uncertaintyOf(fit, (other) => (other as unknown as Record<string, number>)[name]);
      return [[name, { value, u, unit: units[name] }]];
    }),
  );
}

/** Of the plateau's mean; null where interpolation ends while still falling. */
function plateauU(
  shape: CurveShape,
  covarianceL: readonly (readonly number[])[],
  used: readonly number[],
): number | null {
  if (shape.model !== 'monotone') return null;
  const { L } = shape;
  if (L[L.length - 2] - L[L.length - 1] > levelL) return null;
  const last = used[used.length - 1];
  return Math.sqrt(covarianceL[last][last]);
}

interface Remark {
  readonly text: string;
  readonly phrase: Phrase;
}

function remarksOn(
  fit: FamilyFit | null,
  baseSeen: boolean,
  baseL: number,
  deepestL: number,
  deepestU: number | null,
  reversedFromSeconds: number | null,
): Remark[] {
  const remarks: Remark[] = [];
  if (fit && !fit.converged)
    remarks.push({
      text: 'The search for the curve did not settle: take it as a sketch, and make the next strip.',
      phrase: phrase('curve-unsettled', {}),
    });
  if (!baseSeen)
    remarks.push({
      text: `There is no unexposed step: the base, L* ${baseL.toFixed(0)}, is an estimate. Keep an unexposed piece next time.`,
      phrase: phrase('base-estimated', { L: baseL }),
    });
  if (deepestU === null || deepestU > poorlyKnownL)
    remarks.push(
      deepestU === null
        ? {
            text: 'The strip ends while it still gets deeper: its deepest is not known.',
            phrase: phrase('deepest-open', {}),
          }
        : {
            text: `The deepest, L* ${deepestL.toFixed(0)}, is known only to ±${(1.645 * deepestU).toFixed(0)} L*: the strip does not reach a plateau.`,
            phrase: phrase('deepest-rough', { L: deepestL, range: 1.645 * deepestU }),
          },
    );
  if (reversedFromSeconds !== null)
    remarks.push({
      text:
        `From ${Number(reversedFromSeconds.toPrecision(4))} s on the steps get lighter again; they are left out of the curve. ` +
        'Photograph again after a day or two of drying before calling it reversal: bleaching or loss in the wash look alike.',
      phrase: phrase('reversed', { seconds: reversedFromSeconds }),
    });
  return remarks;
}
