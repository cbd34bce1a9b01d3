import { describe, expect, it } from 'vitest';
import { AnalysisError } from '../../../analysis/errors.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import type { Marks } from '../../../analysis/locate/marks.ts';
import { matchMarks } from '../../../analysis/locate/matchMarks.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';

const QUAD = [
  [10, 10],
  [50, 10],
  [50, 50],
  [10, 50],
];
const marksOf = (names: readonly string[], seconds: readonly number[]): Marks =>
  parseMarks({
    card: names.map((name) => ({ name, quad: QUAD })),
    steps: seconds.map((s) => ({ seconds: s, quad: QUAD })),
  });
const stripOf = (card: unknown, seconds: readonly number[]) =>
  parseStrip({ card, steps: seconds.map((s) => ({ seconds: s })) });

const STRIP = stripOf('white-grey-black', [0, 60, 120]);
const ALL = ['white', 'grey', 'black'];

const refusal = (marks: Marks, strip = STRIP): AnalysisError => {
  try {
    matchMarks(marks, strip);
  } catch (error) {
    if (error instanceof AnalysisError) return error;
    throw error;
  }
  throw new Error('was not refused');
};

describe('marks belong to a strip', () => {
  it.each([
    ['with every step and patch', marksOf(ALL, [0, 60, 120])],
    ['with a step and a patch left out', marksOf(['white', 'black'], [0, 120])],
    ['with a patch twice, for two cards', marksOf([...ALL, 'white'], [0, 60])],
    ['with a time rounded in the seventh digit', marksOf(ALL, [0, 60.00003, 120])],
  ])('%s, and come back as they are', (_, marks) => {
    expect(matchMarks(marks, STRIP)).toBe(marks);
  });

  it('with a repeated exposure marked as often as the strip has it', () => {
    const repeated = stripOf('grey-18', [0, 60, 60]);
    const marks = marksOf(['grey'], [0, 60, 60]);
    expect(matchMarks(marks, repeated)).toBe(marks);
    expect(refusal(marksOf(['grey'], [60, 60, 60]), repeated).code).toBe('marks-invalid');
  });

  it('with the colours of a 24-patch chart, 1 to 18, beside its greys', () => {
    const chart = stripOf('chart-24', [0, 60]);
    const marks = marksOf(['1', '18', '19', '24'], [0, 60]);
    expect(matchMarks(marks, chart)).toBe(marks);
    for (const name of ['0', '25', '01', '1.5'])
      expect(refusal(marksOf([name], [0]), chart).code).toBe('marks-invalid');
  });
});

describe('marks of another strip are refused as marks-invalid', () => {
  it('with a step of 90 s that the strip has not, naming it and those it has', () => {
    const error = refusal(marksOf(ALL, [0, 90]));
    expect(error.code).toBe('marks-invalid');
    expect(error.message).toContain('A step of 90 s');
    expect(error.message).toContain('0 s, 60 s, 120 s');
  });

  it('with a step marked twice', () => {
    const error = refusal(marksOf(ALL, [60, 60]));
    expect(error.code).toBe('marks-invalid');
    expect(error.message).toContain('The step of 60 s is marked more often than the strip has it');
  });

  it('with a time a thousandth off: 60.06 s', () => {
    expect(refusal(marksOf(ALL, [60.06])).code).toBe('marks-invalid');
  });

  it('with a patch that the card has not, naming it and those it has', () => {
    const error = refusal(marksOf(['white', 'D0.05'], [0]));
    expect(error.code).toBe('marks-invalid');
    expect(error.message).toContain('"D0.05"');
    expect(error.message).toContain('white, grey, black');
  });

  it('with a chart’s colour on another card', () => {
    expect(refusal(marksOf(['7'], [0])).code).toBe('marks-invalid');
  });
});
