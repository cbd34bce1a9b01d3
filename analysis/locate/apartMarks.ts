import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import type { Marks } from './marks.ts';
import { containsPoint, quadCentre } from './quadGeometry.ts';

/**
 * Does every mark have a place of its own? Two that hold each other's middle would read one area twice, under two
 * names. The swatch may lie anywhere: a printer may want to match one of the steps.
 *
 * @returns the marks as they came.
 * @throws AnalysisError `marks-invalid`, naming the two.
 */
export const apartMarks = (marks: Marks): Marks => {
  const areas = [
    ...marks.card.map(({ name, quad }) => ({
      what: `card patch "${name}"`,
      of: { patch: name },
      quad,
      middle: quadCentre(quad),
    })),
    ...marks.steps.map(({ seconds, quad }) => ({
      what: `the step of ${seconds} s`,
      of: { seconds },
      quad,
      middle: quadCentre(quad),
    })),
  ];
  for (const [i, one] of areas.entries())
    for (const other of areas.slice(i + 1))
      if (containsPoint(one.quad, other.middle) && containsPoint(other.quad, one.middle))
        throw new AnalysisError(
          'marks-invalid',
          `The marks of ${one.what} and ${other.what} lie on the same place. Set each on its own area.`,
          { phrase: phrase('marks-on-one-place', { one: one.of, other: other.of }) },
        );
  return marks;
};
