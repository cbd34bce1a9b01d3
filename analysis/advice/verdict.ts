import type { Curve, CurveOutcome } from '../curve/curve.ts';
import { depthPercent, exposureFor, lightnessAt } from '../curve/evaluate.ts';
import { type Phrase, phrase } from '../phrases.ts';
import type { Verdict } from './advice.ts';
import { clock } from './settable.ts';

/** What a verdict needs of a step. */
export interface JudgedStep {
  readonly seconds: number;
  readonly L: number;
  readonly uL: number;
  /** ΔE00 to the base; null where the strip has none. */
  readonly deltaEToBase: number | null;
}

export interface VerdictSettings {
  /** ΔE00 to the base below which a step is washed out. */
  readonly leastDeltaE: number;
  /** The same, in standard uncertainties of the step. */
  readonly leastTimesU: number;
  /** Depth in percent below which a step is washed out. */
  readonly leastDepthPercent: number;
  /** L* short of the deepest that still counts as full. */
  readonly fullWithinL: number;
  /** Stops beyond the shortest full exposure from which a step is overexposed. */
  readonly overexposedStops: number;
}

export const defaultVerdictSettings: VerdictSettings = {
  leastDeltaE: 1,
  leastTimesU: 2,
  leastDepthPercent: 10,
  fullWithinL: 1,
  overexposedStops: 0.5,
};

export interface Judgement {
  readonly verdict: Verdict;
  /** Why, in one sentence with the numbers. */
  readonly reason: string;
  readonly phrase: Phrase;
}

/** Uncertainties by which a step must stand off the curve before its own reading is believed rather than the curve. */
const offCurveTimes = 3;

/**
 * What became of each step: washed out, building, at full depth or overexposed? One judgement per step, in their order;
 * there is one for any strip, also without a base or a curve. `settings`: thresholds other than the defaults.
 * Source: docs/method.md §7.
 */
export function judgeSteps(
  steps: readonly JudgedStep[],
  outcome: CurveOutcome,
  settings: Partial<VerdictSettings> = {},
): Judgement[] {
  const limits = { ...defaultVerdictSettings, ...settings };
  return steps.map((step) => {
    if (step.seconds === 0) return judgeBase(step);
    const pale = tooPale(step, limits);
    if (pale) return pale;
    return outcome.kind === 'fitted'
      ? judgeByCurve(step, outcome.curve, limits)
      : judgeAlone(step, outcome.kind);
  });
}

function judgeBase({ L }: JudgedStep): Judgement {
  return {
    verdict: 'washed-out',
    reason: `This is the unexposed base, L* ${L.toFixed(1)}: what the steps are compared with.`,
    phrase: phrase('step-base', { L }),
  };
}

function tooPale({ deltaEToBase, uL }: JudgedStep, limits: VerdictSettings): Judgement | null {
  if (deltaEToBase === null) return null;
  if (deltaEToBase < limits.leastDeltaE) {
    return {
      verdict: 'washed-out',
      reason: `It differs from the base by ΔE00 ${deltaEToBase.toFixed(1)}, less than ${limits.leastDeltaE}: it can't be told apart.`,
      phrase: phrase('step-not-told', { deltaE: deltaEToBase, least: limits.leastDeltaE }),
    };
  }
  if (deltaEToBase < limits.leastTimesU * uL) {
    return {
      verdict: 'washed-out',
      reason: `It differs from the base by ΔE00 ${deltaEToBase.toFixed(1)}, less than ${limits.leastTimesU} times its uncertainty of ${uL.toFixed(1)}.`,
      phrase: phrase('step-within-u', { deltaE: deltaEToBase, times: limits.leastTimesU, u: uL }),
    };
  }
  return null;
}

function judgeAlone({ deltaEToBase, L }: JudgedStep, kind: CurveOutcome['kind']): Judgement {
  if (kind === 'count-differs') {
    return {
      verdict: 'building',
      reason: `Its L* is ${L.toFixed(1)}; which time it had is not sure, so nothing says how near that is to full depth.`,
      phrase: phrase('step-time-unsure', { L }),
    };
  }
  return {
    verdict: 'building',
    reason:
      deltaEToBase === null
        ? `Its L* is ${L.toFixed(1)}; without a base and more steps nothing says how near that is to full depth.`
        : `It differs from the base by ΔE00 ${deltaEToBase.toFixed(1)}; too few steps to say how near that is to full depth.`,
    phrase:
      deltaEToBase === null
        ? phrase('step-no-base', { L })
        : phrase('step-no-curve', { deltaE: deltaEToBase }),
  };
}

function judgeByCurve(step: JudgedStep, curve: Curve, limits: VerdictSettings): Judgement {
  const onCurve = lightnessAt(curve, step.seconds);
  if (curve.reversedFromSeconds !== null && step.seconds >= curve.reversedFromSeconds) {
    return {
      verdict: 'overexposed',
      reason: `At L* ${step.L.toFixed(1)} it is lighter again than the deepest, L* ${curve.deepestL.toFixed(1)}: more light takes depth away.`,
      phrase: phrase('step-reversed', { L: step.L, deepestL: curve.deepestL }),
    };
  }
  const L = Math.abs(step.L - onCurve) <= offCurveTimes * Math.max(step.uL, 0.3) ? onCurve : step.L;
  const depth = depthPercent(curve, L);
  if (depth < limits.leastDepthPercent) {
    return {
      verdict: 'washed-out',
      reason: `It has ${depth.toFixed(0)} % of the depth attainable, less than ${limits.leastDepthPercent} %.`,
      phrase: phrase('step-pale', { depth, least: limits.leastDepthPercent }),
    };
  }
  const short = L - curve.deepestL;
  if (short > limits.fullWithinL) {
    return {
      verdict: 'building',
      reason: `It has ${depth.toFixed(0)} % of the depth attainable and is ${short.toFixed(1)} L* short of the deepest, L* ${curve.deepestL.toFixed(1)}.`,
      phrase: phrase('step-building', { depth, short, deepestL: curve.deepestL }),
    };
  }
  const fullAt = exposureFor(curve, curve.deepestL + limits.fullWithinL);
  const stopsBeyond = fullAt !== null && fullAt > 0 ? Math.log2(step.seconds / fullAt) : 0;
  if (fullAt !== null && stopsBeyond > limits.overexposedStops) {
    return {
      verdict: 'overexposed',
      reason: `Full depth is reached at ${clock(fullAt)}, ${stopsBeyond.toFixed(1)} stops earlier: more light only opens up the protected areas and the edges.`,
      phrase: phrase('step-over', { fullSeconds: fullAt, stops: stopsBeyond }),
    };
  }
  return {
    verdict: 'full-depth',
    reason: `Within ${limits.fullWithinL} L* of the deepest attainable, L* ${curve.deepestL.toFixed(1)}.`,
    phrase: phrase('step-deepest', { within: limits.fullWithinL, deepestL: curve.deepestL }),
  };
}
