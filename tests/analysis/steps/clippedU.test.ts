import { describe, expect, it } from 'vitest';
import { clippedU } from '../../../analysis/steps/clippedU.ts';

const WEIGHTS = [0.2126, 0.7152, 0.0722] as const;

describe('what clipped pixels leave open of a step’s Y', () => {
  it('is nothing where no pixel is clipped', () => {
    expect(clippedU([0.95, 0.95, 0.95], [0.85, 0.85, 0.85], WEIGHTS, 0)).toBe(0);
  });

  it('is a third of the light where a white is burnt out throughout: it is only known to be at least so light', () => {
    expect(clippedU([1, 1, 1], [0.9, 0.9, 0.9], WEIGHTS, 1)).toBeCloseTo(0.9 * 0.33, 12);
  });

  it('is a thousandth where 3 % of a white’s pixels are burnt out', () => {
    expect(clippedU([0.95, 0.95, 0.95], [0.9, 0.9, 0.9], WEIGHTS, 0.03)).toBeCloseTo(0.9 * 0.03 * 0.039, 12);
  });

  it('counts only the channel that ran out: red at zero under a deep blue leaves 0.2 % of white open', () => {
    expect(clippedU([0, 0.05, 0.3], [0, 0.04, 0.25], WEIGHTS, 1)).toBeCloseTo(0.2126 * 0.01, 12);
  });

  it('does not touch channels in the middle of the range', () => {
    expect(clippedU([0.3, 0.3, 0.3], [0.3, 0.3, 0.3], WEIGHTS, 1)).toBe(0);
  });
});
