import { describe, expect, it } from 'vitest';
import { apartMarks } from '../../../analysis/locate/apartMarks.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';

/** A square of 40 px whose left edge is at x. */
const at = (x: number) => [
  [x, 10],
  [x + 40, 10],
  [x + 40, 50],
  [x, 50],
];
const marksAt = (grey: number, base: number, minute: number) =>
  parseMarks({
    card: [{ name: 'grey', quad: at(grey) }],
    steps: [
      { seconds: 0, quad: at(base) },
      { seconds: 60, quad: at(minute) },
    ],
  });

describe('marks', () => {
  it('side by side, edges touching, or overlapping by 40 % come back as they are', () => {
    for (const marks of [marksAt(0, 100, 140), marksAt(0, 100, 124)]) expect(apartMarks(marks)).toBe(marks);
  });

  it.each([
    ['two steps on one place', marksAt(0, 100, 100), 'the step of 0 s and the step of 60 s'],
    ['two steps 10 px apart', marksAt(0, 100, 110), 'the step of 0 s and the step of 60 s'],
    ['a card patch on a step', marksAt(100, 0, 100), 'card patch "grey" and the step of 60 s'],
  ])('are refused as marks-invalid with %s, naming the two', (_, marks, pair) => {
    expect(() => apartMarks(marks)).toThrow(
      expect.objectContaining({ code: 'marks-invalid', message: expect.stringContaining(pair) }),
    );
  });

  it('may have a swatch on a step, to match that step', () => {
    const marks = { ...marksAt(0, 100, 140), swatch: { quad: marksAt(0, 100, 140).steps[1].quad } };
    expect(apartMarks(marks)).toBe(marks);
  });
});
