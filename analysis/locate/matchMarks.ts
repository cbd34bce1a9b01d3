import { AnalysisError } from '../errors.ts';
import type { Strip } from '../level/card.ts';
import { phrase } from '../phrases.ts';
import type { Marks } from './marks.ts';

const SAME_SECONDS = 1e-6;

const isSame = (given: number, marked: number): boolean =>
  Math.abs(given - marked) <= SAME_SECONDS * Math.max(1, given);

/**
 * Do these marks belong to this strip? Every marked step must be one of the strip's exposures and every marked patch
 * one of the card's; marks may leave some of them out, and may name a patch twice where two cards lie in the photo.
 *
 * @throws AnalysisError `marks-invalid`, naming the mark that does not fit.
 */
export const matchMarks = (marks: Marks, strip: Strip): Marks => {
  const waiting = strip.steps.map((s) => s.seconds);
  for (const mark of marks.steps) {
    const at = waiting.findIndex((seconds) => isSame(seconds, mark.seconds));
    if (at < 0 && strip.steps.some(({ seconds }) => isSame(seconds, mark.seconds)))
      throw new AnalysisError(
        'marks-invalid',
        `The step of ${mark.seconds} s is marked more often than the strip has it. Mark each exposure once.`,
        { phrase: phrase('mark-twice', { seconds: mark.seconds }) },
      );
    if (at < 0)
      throw new AnalysisError(
        'marks-invalid',
        `A step of ${mark.seconds} s is marked, but the strip has ${strip.steps.map((s) => `${s.seconds} s`).join(', ')}. Mark each exposure once.`,
        {
          phrase: phrase('mark-of-no-step', {
            seconds: mark.seconds,
            known: strip.steps.map((s) => s.seconds),
          }),
        },
      );
    waiting.splice(at, 1);
  }
  const names = new Set(strip.card.patches.map((p) => p.name));
  const isChartColour = (name: string) => strip.card.kind === 'chart-24' && /^([1-9]|1\d|2[0-4])$/.test(name);
  for (const { name } of marks.card) {
    if (!names.has(name) && !isChartColour(name))
      throw new AnalysisError(
        'marks-invalid',
        `A card patch "${name}" is marked, but the card's patches are named ${[...names].join(', ')}.`,
        { phrase: phrase('mark-of-no-patch', { patch: name, known: [...names] }) },
      );
  }
  return marks;
};
