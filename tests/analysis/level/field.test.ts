import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { type FieldSample, fitField, type Place } from '../../../analysis/level/field.ts';
import { random } from '../../../fixtures/random.ts';
import { HALF_PX, HEIGHT_PX, type LogLight, scattered, type Texture, WIDTH_PX } from './scatter.ts';

const MIDDLE: Place = [WIDTH_PX / 2, HEIGHT_PX / 2];
/** Light from a lamp or two alone, which strays by 0.2 % from a smooth field. */
const LAMPS = 0.002;
const MATT: Texture = { sd: 0.005, length: 0, ownShare: 1, grain: null };
const PLACES: readonly Place[] = [0.02, 0.25, 0.5, 0.75, 0.98].flatMap((u) =>
  [0.05, 0.5, 0.95].map((v): Place => [u * WIDTH_PX, v * HEIGHT_PX]),
);

const uv = ([x, y]: Place) => [(x - MIDDLE[0]) / HALF_PX, (y - MIDDLE[1]) / HALF_PX] as const;
const largestError = (samples: readonly FieldSample[], light: LogLight, anchor = MIDDLE): number => {
  const field = fitField(WIDTH_PX, HEIGHT_PX, [{ samples, noise: MATT }], anchor, null, LAMPS);
  return Math.max(
    ...PLACES.flatMap((place) =>
      field.logLight(...place).map((log) => Math.abs(log - (light(...uv(place)) - light(...uv(anchor))))),
    ),
  );
};

describe('the light field', () => {
  const plane: LogLight = (u, v) => 0.7 + 0.2 * u - 0.1 * v;
  const bowl: LogLight = (u, v) => 0.2 * u + 0.05 * v - 0.2 * u * u + 0.08 * u * v - 0.12 * v * v;

  it('recovers a plane of ln light within 0.5 % from 60 places of a board of 0.5 %', () => {
    expect(largestError(scattered(1, 60, plane, MATT), plane)).toBeLessThan(0.005);
  });

  it('recovers a paraboloid of ln light that loses more than 30 % within 0.8 %', () => {
    const fallOff =
      Math.max(...PLACES.map((p) => bowl(...uv(p)))) - Math.min(...PLACES.map((p) => bowl(...uv(p))));
    expect(1 - Math.exp(-fallOff)).toBeGreaterThan(0.3);
    expect(largestError(scattered(2, 60, bowl, MATT), bowl)).toBeLessThan(0.008);
  });

  it('is relative to its anchor, wherever that lies: 0 there', () => {
    const anchor: Place = [200, 700];
    const samples = scattered(3, 60, bowl, MATT);
    const field = fitField(WIDTH_PX, HEIGHT_PX, [{ samples, noise: MATT }], anchor, null, LAMPS);
    expect(field.logLight(...anchor)).toEqual([0, 0, 0]);
    expect(largestError(samples, bowl, anchor)).toBeLessThan(0.008);
  });

  it('tells colour from brightness: light warmer by 0.05 in red and cooler by 0.05 in blue leaves green flat', () => {
    const samples = scattered(4, 60, () => 0, MATT).map(({ x, y, logs }): FieldSample => {
      const warmer = 0.05 * uv([x, y])[0];
      return { x, y, logs: [logs[0] + warmer, logs[1], logs[2] - warmer] };
    });
    const field = fitField(WIDTH_PX, HEIGHT_PX, [{ samples, noise: MATT }], MIDDLE, null, LAMPS);
    const [r, g, b] = field.logLight(WIDTH_PX, HEIGHT_PX / 2);
    expect(Math.abs(r - 0.05 * 0.8)).toBeLessThan(0.005);
    expect(Math.abs(b + 0.05 * 0.8)).toBeLessThan(0.005);
    expect(Math.abs(g)).toBeLessThan(0.005);
  });

  it('does not mind a surface’s own level: 1.5 ln more on one of two boards changes nothing', () => {
    const samples = scattered(5, 80, bowl, MATT);
    const [one, other] = [samples.slice(0, 40), samples.slice(40)];
    const lighter = other.map(
      ({ x, y, logs }): FieldSample => ({
        x,
        y,
        logs: [logs[0] + 1.5, logs[1] + 1.5, logs[2] + 1.5],
      }),
    );
    const besides = (second: readonly FieldSample[]) =>
      fitField(
        WIDTH_PX,
        HEIGHT_PX,
        [
          { samples: one, noise: MATT },
          { samples: second, noise: MATT },
        ],
        MIDDLE,
      );
    for (const place of PLACES)
      expect(
        Math.abs(besides(lighter).logLight(...place)[1] - besides(other).logLight(...place)[1]),
      ).toBeLessThan(1e-9);
  });

  it('takes no slope from a surface seen at a single place', () => {
    const sample: FieldSample = { x: 100, y: 100, logs: [-3, -3, -3] };
    const field = fitField(WIDTH_PX, HEIGHT_PX, [{ samples: [sample], noise: MATT }], MIDDLE);
    expect(field.logLight(0, 0)).toEqual([0, 0, 0]);
  });
});

describe('the light field’s uncertainty', () => {
  it('is the prior’s without samples: in the corner 0.16 per slope and 0.09 per curvature', () => {
    const field = fitField(WIDTH_PX, HEIGHT_PX, [], MIDDLE, null, 1e-6);
    const corner: Place = [0, 0];
    const [u, v] = [0.8, 0.6];
    const smooth = 0.16 ** 2 * (u * u + v * v) + 0.09 ** 2 * (u ** 4 + (u * v) ** 2 + v ** 4);
    expect(field.logLight(...corner)).toEqual([0, 0, 0]);
    expect(field.covariance(corner, corner)).toBeCloseTo(smooth, 9);
    expect(field.slantCovariance(corner, corner)).toBeCloseTo(0.16 ** 2 * (u * u + v * v), 9);
  });

  it('counts light that strays by 3 % at both ends: 4.2 to 5 % between places half a photo apart', () => {
    const [one, other]: [Place, Place] = [
      [0.25 * WIDTH_PX, HEIGHT_PX / 2],
      [0.75 * WIDTH_PX, HEIGHT_PX / 2],
    ];
    const variance = (strays: number) =>
      fitField(WIDTH_PX, HEIGHT_PX, [], one, null, strays).covariance(other, other);
    const strayed = Math.sqrt(variance(0.03) - variance(1e-6));
    expect(strayed).toBeGreaterThan(0.042);
    expect(strayed).toBeLessThan(0.05);
  });

  it('is 0 at the anchor, and between the anchor and any other place', () => {
    const anchor: Place = [300, 300];
    const field = fitField(WIDTH_PX, HEIGHT_PX, [], anchor);
    expect(field.covariance(anchor, anchor)).toBe(0);
    for (const place of PLACES) expect(field.covariance(anchor, place)).toBeCloseTo(0, 15);
  });

  it('is symmetric and positive semi-definite over 15 places', () => {
    const field = fitField(
      WIDTH_PX,
      HEIGHT_PX,
      [{ samples: scattered(6, 30, () => 0, MATT), noise: MATT }],
      [300, 300],
    );
    const rows = PLACES.map((a) => PLACES.map((b) => field.covariance(a, b)));
    rows.forEach((row, i) => {
      row.forEach((value, j) => {
        expect(value).toBeCloseTo(rows[j][i], 12);
      });
    });
    expect(Math.min(...new EigenvalueDecomposition(new Matrix(rows)).realEigenvalues)).toBeGreaterThan(
      -1e-12,
    );
  });

  it('halves when four times as many places of a rough table are seen', () => {
    const rough: Texture = { sd: 0.1, length: 0, ownShare: 1, grain: null };
    const place: Place = [900, 450];
    const u = (count: number) => {
      const samples = scattered(7, count, () => 0, rough);
      const field = fitField(WIDTH_PX, HEIGHT_PX, [{ samples, noise: rough }], MIDDLE, null, LAMPS);
      return Math.sqrt(field.covariance(place, place));
    };
    expect(u(200) / u(50)).toBeGreaterThan(0.4);
    expect(u(200) / u(50)).toBeLessThan(0.65);
  });

  it.each([
    ['independent from place to place', { sd: 0.08, length: 0, ownShare: 1, grain: null }],
    ['hanging together over 0.3 half diagonals', { sd: 0.08, length: 0.3, ownShare: 0.1, grain: null }],
  ] as const)('holds for a texture %s: errors are 0.8 to 1.2 times as large as stated', (_, texture) => {
    const squares: number[] = [];
    for (let seed = 1; seed <= 60; seed++) {
      const rng = random(seed, 9);
      const [a, b] = [0.16 * rng.normal(), 0.16 * rng.normal()];
      const [c, d, e] = [0.09 * rng.normal(), 0.09 * rng.normal(), 0.09 * rng.normal()];
      const light: LogLight = (u, v) => a * u + b * v + c * u * u + d * u * v + e * v * v;
      const samples = scattered(seed, 40, light, texture);
      const field = fitField(WIDTH_PX, HEIGHT_PX, [{ samples, noise: texture }], MIDDLE, null, LAMPS);
      for (const place of [PLACES[3], PLACES[11]]) {
        const error = field.logLight(...place)[1] - light(...uv(place));
        squares.push(error ** 2 / field.covariance(place, place));
      }
    }
    const ratio = Math.sqrt(squares.reduce((s, v) => s + v, 0) / squares.length);
    expect(ratio).toBeGreaterThan(0.8);
    expect(ratio).toBeLessThan(1.2);
  });
});
