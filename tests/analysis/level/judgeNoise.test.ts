import { describe, expect, it } from 'vitest';
import { judgeNoise } from '../../../analysis/level/judgeNoise.ts';
import type { SurfaceNoise } from '../../../analysis/level/surfaceNoise.ts';
import { HEIGHT_PX, type LogLight, scattered, type Texture, WIDTH_PX } from './scatter.ts';

const light: LogLight = (u, v) => 0.15 * u - 0.1 * v + 0.05 * u * u;
const SEEDS = [1, 2, 3, 4, 5, 6];

/** What is judged of one texture on six tables. The first idea of its size is a third too large. */
const judged = (texture: Texture): SurfaceNoise[] =>
  SEEDS.map((seed) =>
    judgeNoise(WIDTH_PX, HEIGHT_PX, scattered(seed, 80, light, texture), 1.33 * texture.sd),
  );
const middle = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[2] + sorted[3]) / 2;
};

describe('the noise of a surface, judged from 80 places on each of six tables', () => {
  const board = judged({ sd: 0.02, length: 0, ownShare: 1, grain: null });
  const cloth = judged({ sd: 0.05, length: 0.35, ownShare: 0.1, grain: null });

  /** Correlation of two places a tenth of a half diagonal apart, across any grain. */
  const together = ({ ownShare, length }: SurfaceNoise) => (1 - ownShare) * Math.exp(-0.1 / length);

  it('of a board whose noise is independent correlates by less than 0.1 over a tenth of the field', () => {
    expect(middle(board.map(together))).toBeLessThan(0.1);
    expect(board.filter((n) => together(n) < 0.1).length).toBeGreaterThanOrEqual(5);
  });

  it('of a cloth whose noise correlates by 0.68 over a tenth of the field correlates by more than 0.35', () => {
    expect(middle(cloth.map(together))).toBeGreaterThan(0.35);
    expect(cloth.filter((n) => together(n) > 0.3).length).toBeGreaterThanOrEqual(5);
  });

  it('has the size it has, within a third: 0.02 and 0.05', () => {
    expect(Math.abs(middle(board.map((n) => n.sd)) / 0.02 - 1)).toBeLessThan(0.34);
    expect(Math.abs(middle(cloth.map((n) => n.sd)) / 0.05 - 1)).toBeLessThan(0.34);
  });

  it.each([25, 110])(
    'of wood with its grain at %d° has the grain there, within 25°, on five of six',
    (degrees) => {
      const wood = judged({ sd: 0.1, length: 0.12, ownShare: 0.1, grain: (degrees * Math.PI) / 180 });
      const off = wood.map(({ grain }) =>
        grain === null ? 90 : Math.abs((((grain * 180) / Math.PI - degrees + 270) % 180) - 90),
      );
      expect(off.filter((d) => d < 25).length).toBeGreaterThanOrEqual(5);
    },
  );

  it('is the same for the same places, and unmoved by the surface’s own level', () => {
    const samples = scattered(8, 60, light, { sd: 0.03, length: 0.1, ownShare: 0.5, grain: null });
    const once = judgeNoise(WIDTH_PX, HEIGHT_PX, samples, 0.03);
    const darker = samples.map(({ x, y, logs }) => ({
      x,
      y,
      logs: [logs[0] - 1, logs[1] - 1, logs[2] - 1] as const,
    }));
    expect(judgeNoise(WIDTH_PX, HEIGHT_PX, samples, 0.03)).toEqual(once);
    const { strays, ...form } = judgeNoise(WIDTH_PX, HEIGHT_PX, darker, 0.03);
    expect({ ...once, strays: null }).toEqual({ ...form, strays: null });
    expect(strays).toBeCloseTo(once.strays, 12);
  });
});
