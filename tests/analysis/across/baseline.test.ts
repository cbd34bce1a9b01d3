import { describe, expect, test } from 'vitest';
import { baselineTexts } from '../../../analysis/across/baseline.ts';

const scrap = (lampHours: number | null, setup = 'bench', batchId: string | null = 'May') => ({
  setup,
  batchId,
  lampHours,
});
/** Numbers of the baselines in place of their texts. */
const baselines = (scraps: Parameters<typeof baselineTexts>[0]): number[] => {
  const texts = baselineTexts(scraps);
  return texts.map((text) => [...new Set(texts)].indexOf(text));
};

describe('control scraps in the order of time', () => {
  test('with a meter at 100, 120 and 140 h stand on one baseline', () => {
    expect(baselines([scrap(100), scrap(120), scrap(140)])).toEqual([0, 0, 0]);
  });

  test('start anew where the meter goes back from 900 to 20 h, and once only', () => {
    expect(baselines([scrap(880), scrap(900), scrap(20), scrap(40), scrap(910)])).toEqual([0, 0, 1, 1, 1]);
  });

  test('without a noted meter between 900 and 20 h still start anew', () => {
    expect(baselines([scrap(900), scrap(null), scrap(20)])).toEqual([0, 0, 1]);
  });

  test('start anew with another setup and with another batch', () => {
    expect(baselines([scrap(1), scrap(2, 'bench, new glass'), scrap(3, 'bench', 'June')])).toEqual([0, 1, 2]);
  });
});
