import { describe, expect, it } from 'vitest';
import {
  BRIGHTNESS,
  between,
  brightnessWeights,
  type Channels,
  channelNoise,
  GREY_NOISE,
} from '../../../analysis/level/channels.ts';
import { type FieldSample, fitField } from '../../../analysis/level/field.ts';
import { normals } from '../across/noise.ts';

const [WIDTH_PX, HEIGHT_PX] = [1600, 1200];
const MIDDLE = [WIDTH_PX / 2, HEIGHT_PX / 2] as const;

/** Wood: grain that is darker, and redder: ln light falls by 0.6 in red, 0.75 in green and 0.85 in blue. Invented. */
const GRAIN: Channels = [0.6, 0.75, 0.85];

const grainy = (count: number, seed: number): Channels[] => {
  const normal = normals(seed);
  return Array.from({ length: count }, (): Channels => {
    const share = normal() * 0.3;
    const own = () => 0.006 * normal();
    return [share * GRAIN[0] + own(), share * GRAIN[1] + own(), share * GRAIN[2] + own()];
  });
};

const sum = (w: readonly number[]): number => w.reduce((s, v) => s + v, 0);

describe('how a surface’s noise divides among the channels', () => {
  it('weighs grey noise equally: a third for each channel', () => {
    for (const w of brightnessWeights(GREY_NOISE)) expect(w).toBeCloseTo(1 / 3, 12);
  });

  it('weights add up to 1, and the estimate of brightness has the variance 1', () => {
    const q = channelNoise(grainy(200, 5));
    expect(sum(brightnessWeights(q))).toBeCloseTo(1, 9);
    expect(between(BRIGHTNESS, q, BRIGHTNESS)).toBeCloseTo(1, 9);
  });

  it('weighs channels so that reddish grain goes out: less than a tenth of what green alone shows of it', () => {
    const [r, g, b] = brightnessWeights(channelNoise(grainy(200, 5)));
    const left = r * GRAIN[0] + g * GRAIN[1] + b * GRAIN[2];
    expect(Math.abs(left)).toBeLessThan(0.1 * GRAIN[1]);
  });

  it('finds light that falls by 0.2 across grain of 0.2 1.5 times as well as by all alike, over 20 tables', () => {
    const offs = { tinted: 0, grey: 0 };
    for (let seed = 1; seed <= 20; seed++) {
      const normal = normals(100 + seed);
      const texture = grainy(90, seed);
      const samples = texture.map((logs): FieldSample => {
        const x = (0.5 + 0.28 * normal()) * WIDTH_PX;
        const y = (0.5 + 0.28 * normal()) * HEIGHT_PX;
        const light = (0.2 * (x - MIDDLE[0])) / WIDTH_PX;
        return { x, y, logs: [logs[0] + light, logs[1] + light, logs[2] + light] };
      });
      for (const [name, channels, sd] of [
        ['tinted', channelNoise(texture), 0.03],
        ['grey', GREY_NOISE, 0.2],
      ] as const) {
        const noise = { sd, length: 0, ownShare: 1, grain: null, channels };
        const field = fitField(WIDTH_PX, HEIGHT_PX, [{ samples, noise }], MIDDLE, null, 0.006);
        offs[name] += (field.logLight(WIDTH_PX, MIDDLE[1])[1] - 0.1) ** 2;
      }
    }
    expect(Math.sqrt(offs.tinted)).toBeLessThan(Math.sqrt(offs.grey) / 1.5);
  });
});
