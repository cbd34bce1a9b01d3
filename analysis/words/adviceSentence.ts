import type { Advice } from '../advice/advice.ts';
import type { Curve, CurveOutcome } from '../curve/curve.ts';
import type { Phrase } from '../phrases.ts';
import type { Formats } from './formats.ts';

/** The sentences of an advice in one language; numbers and times come written. */
export interface AdviceWords {
  readonly full: (L: string) => string;
  readonly depth: (percent: string, L: string) => string;
  readonly lightness: (L: string) => string;
  readonly swatch: (L: string) => string;
  readonly expose: (time: string, target: string, L: string, depth: string) => string;
  readonly between: (low: string, high: string) => string;
  readonly orLonger: (low: string) => string;
  readonly shorterThanShortest: (time: string) => string;
  readonly stripBegins: (time: string, target: string) => string;
  readonly stripEnds: (time: string, target: string) => string;
  readonly about: (time: string) => string;
  readonly tooFar: string;
  readonly lighterThanCloth: (target: string, L: string) => string;
  readonly neverArrives: (target: string) => string;
  readonly deeperThanDye: (target: string, L: string, u: string | null) => string;
  readonly swatchAway: (deltaE: string) => string;
  readonly tooFewSteps: string;
  readonly blankStrip: string;
  readonly countDiffers: string;
}

/** A language: its words, how it writes numbers, and a sentence of the analysis in it; null where it has none. */
export interface AdviceLanguage {
  readonly words: AdviceWords;
  readonly formats: Formats;
  readonly said: (phrase: Phrase | undefined) => string | null;
}

/** z of a two-sided 90 % interval of the normal distribution. */
const Z90 = 1.645;

const targetText = ({ target, targetL }: Advice, { words, formats: { number } }: AdviceLanguage): string => {
  /** A number with one decimal, or none where it is whole. */
  const plain = (value: number) => number(value, Number.isInteger(Number(value.toFixed(1))) ? 0 : 1);
  const L = number(targetL ?? 0, 1);
  switch (target.kind) {
    case 'L':
      return words.lightness(plain(target.L));
    case 'depth':
      return words.depth(plain(target.percent), L);
    case 'full':
      return words.full(L);
    case 'swatch':
      return words.swatch(L);
  }
};

const insideText = (advice: Advice, curve: Curve, language: AdviceLanguage): readonly string[] => {
  const { words, formats } = language;
  const { number, time } = formats;
  const { roundedSeconds, roundedL, roundedDepthPercent, seconds, low, high, highOpen } = advice;
  if (roundedSeconds === null || roundedL === null || roundedDepthPercent === null) return [];
  return [
    words.expose(
      time(roundedSeconds),
      targetText(advice, language),
      number(roundedL, 1),
      number(roundedDepthPercent, 0),
    ),
    ...(low === null || high === null
      ? []
      : [highOpen ? words.orLonger(time(low)) : words.between(time(low), time(high))]),
    ...(seconds !== null && seconds < curve.shortestSeconds
      ? [words.shorterThanShortest(time(curve.shortestSeconds))]
      : []),
  ];
};

const beyondText = (advice: Advice, curve: Curve, language: AdviceLanguage): readonly string[] => {
  const { words, formats } = language;
  const { seconds, roundedSeconds } = advice;
  const target = targetText(advice, language);
  return [
    seconds !== null && seconds < curve.shortestSeconds
      ? words.stripBegins(formats.time(curve.shortestSeconds), target)
      : words.stripEnds(formats.time(curve.longestSeconds), target),
    roundedSeconds === null ? words.tooFar : words.about(formats.time(roundedSeconds)),
  ];
};

const unattainableText = (advice: Advice, curve: Curve, language: AdviceLanguage): string => {
  const { words, formats } = language;
  const target = targetText(advice, language);
  if (advice.targetL !== null && advice.targetL > curve.baseL)
    return words.lighterThanCloth(target, formats.number(curve.baseL, 1));
  if (advice.target.kind === 'depth') return words.neverArrives(target);
  const u = curve.deepestU === null ? null : formats.number(Z90 * curve.deepestU, 1);
  return words.deeperThanDye(target, formats.number(curve.deepestL, 1), u);
};

/**
 * How does an advice read in this language? Made of its numbers, so that kept readings can be told in any.
 *
 * @param advice what a reading advises.
 * @param outcome the curve that it was read from, or why there is none.
 */
export const adviceSentence = (advice: Advice, outcome: CurveOutcome, language: AdviceLanguage): string => {
  const { words, formats, said } = language;
  if (outcome.kind !== 'fitted') {
    const reason = said(outcome.phrase);
    if (reason !== null) return reason;
    if (outcome.kind === 'blank') return words.blankStrip;
    return outcome.kind === 'too-few-steps' ? words.tooFewSteps : words.countDiffers;
  }
  const { curve } = outcome;
  const sentences =
    advice.status === 'inside'
      ? insideText(advice, curve, language)
      : advice.status === 'beyond'
        ? beyondText(advice, curve, language)
        : [unattainableText(advice, curve, language)];
  const swatch =
    advice.swatchDeltaE !== null && advice.status !== 'unattainable'
      ? [words.swatchAway(formats.number(advice.swatchDeltaE, 1))]
      : [];
  return [...sentences, ...swatch].join(' ');
};
