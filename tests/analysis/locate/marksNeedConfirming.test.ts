import { describe, expect, it } from 'vitest';
import { sureFrom } from '../../../analysis/locate/confidence.ts';
import type { MarkOrigin, Marks, Quad } from '../../../analysis/locate/marks.ts';
import { marksNeedConfirming } from '../../../analysis/locate/marksNeedConfirming.ts';

const quad: Quad = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];
const marked = (card: readonly [MarkOrigin, number], step: readonly [MarkOrigin, number]): Marks => ({
  card: [{ name: 'grey', quad, origin: card[0], confidence: card[1] }],
  steps: [{ seconds: 60, quad, origin: step[0], confidence: step[1] }],
});

describe('marks need a person’s yes', () => {
  it.each<[string, Marks, boolean]>([
    ['set by hand', marked(['hand', 1], ['hand', 1]), false],
    ['by hand, whatever their confidence says', marked(['hand', 0], ['hand', 0]), false],
    ['found at 0.95', marked(['free-form', 0.95], ['free-form', 0.95]), false],
    ['found at the threshold', marked(['free-form', sureFrom], ['sheet', sureFrom]), false],
    ['steps found at 0.59', marked(['hand', 1], ['free-form', 0.59]), true],
    ['card found at 0.59', marked(['free-form', 0.59], ['hand', 1]), true],
    ['found on the sheet at 0.3', marked(['sheet', 0.95], ['sheet', 0.3]), true],
    ['with no number for a confidence', marked(['free-form', Number.NaN], ['hand', 1]), true],
  ])('%s', (_, marks, needed) => {
    expect(marksNeedConfirming(marks)).toBe(needed);
  });
});
