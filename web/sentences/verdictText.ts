import { depthPercent, exposureFor, lightnessAt } from '../../analysis/curve/evaluate.ts';
import type { Curve, CurveOutcome, StepReading } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { phraseText } from './phraseText.ts';

/** The thresholds that readings are judged by, docs/method.md §7. */
const LEAST_DELTA_E = 1;
const FULL_WITHIN_L = 1;
/** A step that stands off the curve by more uncertainties than this is judged by its own L*. */
const OFF_CURVE_TIMES = 3;

const one = (value: number): string => formatNumber(value, 1);

const byCurve = (step: StepReading, curve: Curve): string => {
  const { verdict, seconds, uL } = step;
  const deepest = one(curve.deepestL);
  const onCurve = lightnessAt(curve, seconds);
  const L = Math.abs(step.L - onCurve) <= OFF_CURVE_TIMES * Math.max(uL, 0.3) ? onCurve : step.L;
  const depth = formatNumber(depthPercent(curve, L), 0);
  switch (verdict) {
    case 'washed-out':
      return words.sentences.pale(depth);
    case 'building':
      return words.sentences.building(depth, one(L - curve.deepestL), deepest);
    case 'full-depth':
      return words.sentences.deepest(deepest);
    case 'overexposed': {
      if (curve.reversedFromSeconds !== null && seconds >= curve.reversedFromSeconds)
        return words.sentences.reversed(one(step.L), deepest);
      const fullAt = exposureFor(curve, curve.deepestL + FULL_WITHIN_L);
      return fullAt === null
        ? words.sentences.deepest(deepest)
        : words.sentences.over(formatTime(fullAt), one(Math.log2(seconds / fullAt)));
    }
  }
};

/** Why a step has its verdict, from its numbers, in the language that is spoken. */
export const verdictText = (step: StepReading, outcome: CurveOutcome): string => {
  const { seconds, L, uL, deltaEToBase, verdict } = step;
  const said = phraseText(step.phrase);
  if (said !== null) return said;
  if (seconds === 0) return words.sentences.base(one(L));
  if (verdict === 'washed-out' && deltaEToBase !== null) {
    if (deltaEToBase < LEAST_DELTA_E)
      return words.sentences.notTold(one(deltaEToBase), formatNumber(LEAST_DELTA_E, 0));
    if (deltaEToBase < 2 * uL) return words.sentences.withinUncertainty(one(deltaEToBase), one(uL));
  }
  if (outcome.kind === 'fitted') return byCurve(step, outcome.curve);
  return deltaEToBase === null ? words.sentences.noBase(one(L)) : words.sentences.noCurve(one(deltaEToBase));
};
