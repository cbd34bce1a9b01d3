import type { Advice, Curve, CurveOutcome } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { phraseText } from './phraseText.ts';

/** A number with one decimal, or none where it is whole. */
const plain = (value: number): string =>
  formatNumber(value, Number.isInteger(Number(value.toFixed(1))) ? 0 : 1);

const targetText = ({ target, targetL }: Advice): string => {
  const L = formatNumber(targetL ?? 0, 1);
  switch (target.kind) {
    case 'L':
      return words.sentences.lightness(plain(target.L));
    case 'depth':
      return words.sentences.depth(plain(target.percent), L);
    case 'full':
      return words.sentences.full(L);
    case 'swatch':
      return words.sentences.swatch(L);
  }
};

const insideText = (advice: Advice, curve: Curve): readonly string[] => {
  const { roundedSeconds, roundedL, roundedDepthPercent, seconds, low, high, highOpen } = advice;
  if (roundedSeconds === null || roundedL === null || roundedDepthPercent === null) return [];
  return [
    words.sentences.expose(
      formatTime(roundedSeconds),
      targetText(advice),
      formatNumber(roundedL, 1),
      formatNumber(roundedDepthPercent, 0),
    ),
    ...(low === null || high === null
      ? []
      : [
          highOpen
            ? words.sentences.orLonger(formatTime(low))
            : words.sentences.between(formatTime(low), formatTime(high)),
        ]),
    ...(seconds !== null && seconds < curve.shortestSeconds
      ? [words.sentences.shorterThanShortest(formatTime(curve.shortestSeconds))]
      : []),
  ];
};

const beyondText = (advice: Advice, curve: Curve): readonly string[] => {
  const { seconds, roundedSeconds } = advice;
  const target = targetText(advice);
  return [
    seconds !== null && seconds < curve.shortestSeconds
      ? words.sentences.stripBegins(formatTime(curve.shortestSeconds), target)
      : words.sentences.stripEnds(formatTime(curve.longestSeconds), target),
    roundedSeconds === null ? words.sentences.tooFar : words.sentences.about(formatTime(roundedSeconds)),
  ];
};

const unattainableText = (advice: Advice, curve: Curve): string => {
  const target = targetText(advice);
  if (advice.targetL !== null && advice.targetL > curve.baseL)
    return words.sentences.lighterThanCloth(target, formatNumber(curve.baseL, 1));
  if (advice.target.kind === 'depth') return words.sentences.neverArrives(target);
  const u = curve.deepestU === null ? null : formatNumber(1.645 * curve.deepestU, 1);
  return words.sentences.deeperThanDye(target, formatNumber(curve.deepestL, 1), u);
};

/** The advice in a sentence or two, from its numbers, in the language that is spoken. */
export const adviceText = (advice: Advice, outcome: CurveOutcome): string => {
  const said = outcome.kind === 'fitted' ? null : phraseText(outcome.phrase);
  if (said !== null) return said;
  if (outcome.kind === 'blank') return words.sentences.blankStrip;
  if (outcome.kind === 'too-few-steps') return words.sentences.tooFewSteps;
  if (outcome.kind === 'count-differs') return words.sentences.countDiffers;
  const { curve } = outcome;
  const sentences =
    advice.status === 'inside'
      ? insideText(advice, curve)
      : advice.status === 'beyond'
        ? beyondText(advice, curve)
        : [unattainableText(advice, curve)];
  const swatch =
    advice.swatchDeltaE !== null && advice.status !== 'unattainable'
      ? [words.sentences.swatchAway(formatNumber(advice.swatchDeltaE, 1))]
      : [];
  return [...sentences, ...swatch].join(' ');
};
