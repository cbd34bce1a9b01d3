import { beforeAll, describe, expect, it } from 'vitest';
import { phrase } from '../../analysis/phrases.ts';
import { plainReason } from '../../web/sentences/plainReason.ts';
import { speak } from '../../web/words.ts';

beforeAll(() => speak('en'));

const chosen = (alike: boolean, scatterL: number | null) =>
  phrase('curve-chosen', {
    model: 'build-up',
    aicc: 29.4,
    other: 'logistic',
    otherAicc: 33.3,
    alike,
    scatterL,
  });

describe('why this curve', () => {
  it('is said without the statistics of the comparison: that it fits better, or that both fit', () => {
    expect(plainReason(chosen(false, null))).toBe(
      'It fits the steps better than the other shape that was tried.',
    );
    expect(plainReason(chosen(true, null))).toMatch(/fits the steps as well/);
  });

  it('keeps in sight that the steps scatter by 0.8 L* too much', () => {
    expect(plainReason(chosen(false, 0.8))).toMatch(/better.* scatter by 0\.8 L\* more/);
  });

  it('is left as it stands for another reason, and for a reading of before without one', () => {
    expect(plainReason(phrase('curve-interpolated', { scatterL: 1, mostL: 2, misfit: 3 }))).toBeNull();
    expect(plainReason(undefined)).toBeNull();
  });
});
