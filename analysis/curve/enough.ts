import { deltaE00 } from '../colour/difference.ts';
import { phrase } from '../phrases.ts';
import type { CurveOutcome, CurvePoint } from './curve.ts';

/** Least difference from the base, in L* and in standard uncertainties, that shows that light did something. */
const leastL = 1;
const leastTimesU = 2;
const leastDeltaE = 3;

/** Two exposed steps of different time and a third point are the least that a curve can be laid through. */
export function tooFewSteps(points: readonly CurvePoint[]): CurveOutcome | null {
  const times = new Set(points.map((point) => point.seconds));
  const hasBase = times.has(0);
  const exposed = times.size - (hasBase ? 1 : 0);
  if (exposed >= 2 && times.size >= 3) return null;
  const longest = Math.max(0, ...times);
  const base = hasBase ? '' : ' and an unexposed piece of the same cloth';
  const add =
    exposed === 0
      ? `Expose at least two steps${hasBase ? '' : ', and keep an unexposed piece'}.`
      : exposed === 1
        ? `Add at least one step of another time, such as ${clean(longest / 2)} s or ${clean(longest * 2)} s${base}.`
        : 'Add an unexposed piece of the same cloth, or a third step.';
  const have = `${exposed === 0 ? 'no exposed step' : exposed === 1 ? 'one exposed step' : 'two exposed steps'}${
    hasBase ? ' and the base' : ''
  }`;
  return {
    kind: 'too-few-steps',
    points,
    message: `Too few steps for a curve: there ${exposed === 2 ? 'are' : 'is'} ${have}. ${add}`,
    phrase: phrase('too-few-steps', {
      exposed,
      base: hasBase,
      suggested: exposed === 1 ? [longest / 2, longest * 2] : [],
    }),
  };
}

/** Where no step has come away from the base there is no curve, and the light is the first suspect. */
export function nothingToSee(
  points: readonly CurvePoint[],
  covarianceL: readonly (readonly number[])[],
): CurveOutcome | null {
  const lightest = points.reduce((best, point, i) => (point.L > points[best].L ? i : best), 0);
  const hasBase = points[0].seconds === 0;
  const from = hasBase ? 0 : lightest;
  const fell = (i: number) => {
    const u = Math.sqrt(Math.max(0, covarianceL[i][i] + covarianceL[from][from] - 2 * covarianceL[i][from]));
    return points[from].L - points[i].L >= Math.max(leastL, leastTimesU * u);
  };
  if (points.some((point, i) => point.seconds > 0 && fell(i))) return null;
  if (!hasBase) {
    return {
      kind: 'too-few-steps',
      points,
      message:
        'All steps look alike and there is no unexposed piece beside them: they may all be blank or all at full depth. ' +
        'Add an unexposed piece and much shorter steps; if the cloth is pale, check the light source first.',
      phrase: phrase('all-alike', {}),
    };
  }
  const mostDeltaE = Math.max(...points.map((point) => deltaE00(points[0], point)));
  if (mostDeltaE >= leastDeltaE) {
    return {
      kind: 'blank',
      points,
      message:
        `No step is darker than the base, though the colour moves by up to ${mostDeltaE.toFixed(1)} ΔE00. ` +
        'A lightness curve cannot time this dye; check the light source first, then the order of the steps.',
      phrase: phrase('colour-moves', { deltaE: mostDeltaE }),
    };
  }
  return {
    kind: 'blank',
    points,
    message:
      'The strip is blank: no step can be told from the base. Check the light source first (is it a lamp this dye ' +
      'answers to, switched on and warm?), then the coating and the wash.',
    phrase: phrase('blank-strip', {}),
  };
}

function clean(seconds: number): string {
  return String(Number(seconds.toPrecision(3)));
}
