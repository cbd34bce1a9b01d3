import type { Curve } from '../curve/curve.ts';
import type { Target } from './advice.ts';
import { clock } from './settable.ts';

/** The target as a printer says it. */
export function targetWords(target: Target, targetL: number): string {
  switch (target.kind) {
    case 'L':
      return `L* ${plain(target.L)}`;
    case 'depth':
      return `${plain(target.percent)} % depth (L* ${targetL.toFixed(1)})`;
    case 'full':
      return `full depth (L* ${targetL.toFixed(1)}, within 1 of the deepest)`;
    case 'swatch':
      return `the swatch (nearest at L* ${targetL.toFixed(1)})`;
  }
}

export interface Answer {
  readonly seconds: number;
  readonly low: number;
  readonly high: number;
  readonly highOpen: boolean;
  readonly roundedSeconds: number;
  readonly roundedL: number;
  readonly roundedDepthPercent: number;
}

/** The advice where the target lies on the strip: time, what it gives, interval. */
export function insideSentence(curve: Curve, words: string, answer: Answer): string {
  const expose = `Expose for ${clock(answer.roundedSeconds)} to get ${words}: that gives L* ${answer.roundedL.toFixed(1)}, ${answer.roundedDepthPercent.toFixed(0)} % depth.`;
  const sure = answer.highOpen
    ? `Nine times in ten the right time is ${clock(answer.low)} or longer; how much longer this strip can't tell.`
    : `Nine times in ten the right time lies between ${clock(answer.low)} and ${clock(answer.high)}.`;
  const short =
    answer.seconds < curve.shortestSeconds
      ? ` It is shorter than the shortest step, ${clock(curve.shortestSeconds)}, where the strip says little.`
      : '';
  return `${expose} ${sure}${short}`;
}

/** The advice where the target lies off the strip; `answer` is null where no time may be given. */
export function beyondSentence(curve: Curve, words: string, answer: Answer | null): string {
  const ends =
    answer && answer.seconds < curve.shortestSeconds
      ? `The strip begins at ${clock(curve.shortestSeconds)}, already deeper than ${words}.`
      : `The strip ends at ${clock(curve.longestSeconds)}, before ${words}.`;
  return answer
    ? `${ends} By the curve it takes about ${clock(answer.roundedSeconds)}, which no step has tested: make the next strip before you trust it.`
    : `${ends} It lies more than a stop away from any step, so there is no time to give: make the next strip.`;
}

/** The advice where no exposure gives the target, and what to choose instead. */
export function unattainableSentence(curve: Curve, target: Target, words: string, targetL: number): string {
  if (targetL > curve.baseL)
    return `${capital(words)} is lighter than the unexposed cloth, L* ${curve.baseL.toFixed(1)}: no exposure gives it.`;
  if (target.kind === 'depth')
    return `The curve nears ${words} but never quite arrives: ask for "full", which is within 1 L* of the deepest, or for less.`;
  const u = curve.deepestU === null ? '' : ` ± ${(1.645 * curve.deepestU).toFixed(1)}`;
  return `${capital(words)} is deeper than this dye goes on this cloth: its deepest is L* ${curve.deepestL.toFixed(1)}${u}. Choose a lighter target or a stronger bath.`;
}

function plain(value: number): string {
  return String(Number(value.toFixed(1)));
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
