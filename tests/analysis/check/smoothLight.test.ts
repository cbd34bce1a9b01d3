import { describe, expect, it } from 'vitest';
import type { LightGroup } from '../../../analysis/check/lightGroups.ts';
import { bestEdge } from '../../../analysis/check/shadowEdge.ts';
import { smoothLight } from '../../../analysis/check/smoothLight.ts';
import { normalNumbers } from '../tiles/normalNumbers.ts';

/** Six patches in a row, 4 × 4 samples each, every one of a level of its own; ln light by a function of place. */
const patches = (lnLight: (u: number, v: number) => number, of: 'card' | 'step' = 'card'): LightGroup[] =>
  Array.from({ length: 6 }, (_, j) => ({
    of,
    index: j,
    sd: 0.01,
    samples: Array.from({ length: 16 }, (__, i) => {
      const u = -0.6 + 0.22 * j + 0.04 * (i % 4);
      const v = -0.1 + 0.06 * Math.floor(i / 4);
      return { u, v, value: -0.7 * j + lnLight(u, v) };
    }),
  }));

const fallOff = (u: number, v: number) => 0.2 * u - 0.1 * v - 0.1 * u * u + 0.05 * u * v;

describe('smooth light', () => {
  it('of second order is taken out of patches of unknown level: less than 0.5 % is left of 30 %', () => {
    const light = smoothLight(patches(fallOff));
    expect(Math.max(...light.left.map(Math.abs))).toBeLessThan(0.005);
    // From one end of the row to the other.
    const wanted = fallOff(0.6, 0) - fallOff(-0.6, 0);
    expect(Math.abs(light.at(0.6, 0) - light.at(-0.6, 0) - wanted)).toBeLessThan(0.03);
  });

  it('leaves nothing of the patches’ own levels', () => {
    const light = smoothLight(patches(() => 0));
    expect(light.squares).toBeLessThan(1e-12);
    expect(light.at(0.5, 0.5)).toBeCloseTo(0, 9);
  });

  it('explains a planted shape by its size: 0.08 within 5 %, and all of what is left', () => {
    const bump = (u: number, v: number) => Math.exp(-((u - 0.12) ** 2 + v ** 2) / 0.05 ** 2);
    const light = smoothLight(patches((u, v) => 0.08 * bump(u, v)));
    const shape = Float64Array.from(light.u, (u, k) => bump(u, light.v[k]));
    const { size, gain } = light.explain(shape);
    expect(Math.abs(size / 0.08 - 1)).toBeLessThan(0.05);
    expect(gain / light.squares).toBeGreaterThan(0.95);
  });

  it('explains noise by no shape: a gain of about 1, as a squared normal number has', () => {
    const next = normalNumbers(3);
    const gains = Array.from({ length: 200 }, () => {
      // Sixteen samples count as six, so noise of sd 0.01 weighs 6/16 of its squares.
      const light = smoothLight(patches(() => 0.01 * Math.sqrt(16 / 6) * next()));
      return light.explain(Float64Array.from(light.u, (u) => 1 / (1 + Math.exp(-u / 0.02)))).gain;
    });
    const mean = gains.reduce((s, g) => s + g, 0) / gains.length;
    // The mean of 200 squared normal numbers is 1 ± 0.1.
    expect(Math.abs(mean - 1)).toBeLessThan(0.3);
  });
});

describe('the edge of a shadow', () => {
  const shadow = (lnStep: number, angle: number, at: number, softness: number) => (u: number, v: number) =>
    lnStep / (1 + Math.exp((-4 * (u * Math.cos(angle) + v * Math.sin(angle) - at)) / softness));

  it.each([
    [-0.4, 0, 0.12, 0.06],
    [-0.25, 0.4, -0.1, 0.1],
    [0.5, -0.5, 0.3, 0.05],
  ])(
    'of ln step %s at angle %s, place %s, softness %s is found through the fall-off of a lamp',
    (...planted) => {
      const [lnStep, angle, at] = planted;
      const edge = bestEdge(smoothLight(patches((u, v) => fallOff(u, v) + shadow(...planted)(u, v))));
      // An edge that is crossed the other way round has the opposite direction, step and place.
      const sign = Math.cos(edge!.angle - angle) > 0 ? 1 : -1;
      expect(Math.abs(sign * edge!.lnStep - lnStep)).toBeLessThan(0.1 * Math.abs(lnStep) + 0.02);
      expect(Math.abs(sign * edge!.at - at)).toBeLessThan(0.04);
      expect(edge!.gain).toBeGreaterThan(50);
    },
  );

  it('is not seen in a fall-off alone: less than 2 % of light', () => {
    expect(bestEdge(smoothLight(patches(fallOff)))?.lnSpan ?? 0).toBeLessThan(0.02);
  });
});
