import { beforeAll, describe, expect, it } from 'vitest';
import { type Measured, measure } from '../../bench/measure.ts';
import { HEIGHT_PX, rms, WIDTH_PX } from './scenes.ts';

const SURROUNDS = ['plain', 'patterned', 'dark'] as const;
const SCENES = 12;

let measured: readonly Measured[] = [];
beforeAll(async () => {
  const all: Measured[] = [];
  for (let i = 0; i < SCENES; i++)
    all.push(
      await measure(4001 + i, {
        card: 'white-grey-black',
        surround: SURROUNDS[i % SURROUNDS.length],
        widthPx: WIDTH_PX,
        heightPx: HEIGHT_PX,
      }),
    );
  measured = all;
}, 180_000);

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
};

describe('twelve photos with white, grey and black: four on a plain, four on a patterned, four on a dark table', () => {
  it('read L* with an RMSE whose median is at most 1.0', () => {
    expect(median(measured.map((m) => rms(m.errors)))).toBeLessThanOrEqual(1);
  });

  it('read L* on the four plain tables with an RMSE of at most 0.6 in the median', () => {
    const plain = measured.filter((m) => m.surround === 'plain');
    expect(plain).toHaveLength(4);
    expect(median(plain.map((m) => rms(m.errors)))).toBeLessThanOrEqual(0.6);
  });

  it('read better than decoding as sRGB and scaling by the grey patch: in the median, and on ten of twelve', () => {
    const pairs = measured.map((m) => [rms(m.errors), rms(m.greyScaled)]);
    expect(median(pairs.map(([own]) => own))).toBeLessThan(0.6 * median(pairs.map(([, grey]) => grey)));
    expect(pairs.filter(([own, grey]) => own < grey).length).toBeGreaterThanOrEqual(10);
  });

  it('read better than a line through all three patches, in the median', () => {
    expect(median(measured.map((m) => rms(m.errors)))).toBeLessThan(
      median(measured.map((m) => rms(m.lineScaled))),
    );
  });

  it('read each step within four stated uncertainties, or 1 L*, and within three on eleven photos', () => {
    const worst = measured.map((m) =>
      Math.max(...m.errors.map((e, i) => Math.abs(e) / Math.max(m.u[i], 1 / 3))),
    );
    expect(Math.max(...worst)).toBeLessThan(4);
    expect(worst.filter((off) => off < 3).length).toBeGreaterThanOrEqual(11);
  });

  it('hold the truth within 1.645 stated uncertainties in 78 % of steps or more, 90 % being meant', () => {
    const within = measured.flatMap((m) => m.errors.map((e, i) => Math.abs(e) <= 1.645 * m.u[i]));
    expect(within.length).toBeGreaterThan(60);
    expect(within.filter(Boolean).length / within.length).toBeGreaterThan(0.78);
  });

  it('answer a target inside the strip within 0.15 stop in the median, and nearer than the nearest step', () => {
    const asked = measured.flatMap((m) => (m.exposure && m.exposure.advised !== null ? [m.exposure] : []));
    expect(asked.length).toBeGreaterThanOrEqual(6);
    const off = (values: readonly (number | null)[]) => median(values.map((v) => Math.abs(v!)));
    expect(off(asked.map((e) => e.advised))).toBeLessThan(0.15);
    expect(off(asked.map((e) => e.advised))).toBeLessThan(off(asked.map((e) => e.nearestStep)));
  });
});
