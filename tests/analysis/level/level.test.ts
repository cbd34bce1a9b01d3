import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AnalysisError } from '../../../analysis/errors.ts';
import { level } from '../../../analysis/level/level.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import type { Rgb } from '../../../analysis/photo/photo.ts';
import { assumedSrgb } from '../../../analysis/photo/srgb.ts';
import { readSteps } from '../../../analysis/steps/readSteps.ts';
import type { Tiled, TiledPatch } from '../../../analysis/tiles/tile.ts';
import { random } from '../../../fixtures/random.ts';
import { runs } from '../../helpers/runs.ts';
import { HEIGHT_PX, WIDTH_PX } from './scatter.ts';

const RUNS = runs('photos of random light', 60, 20);

const PROFILE = assumedSrgb(255, 255);
const SIDE = 6;

/** A mark of 36 tiles of 20 pixels about a place, each tile lit as its place is. */
const marked = (x: number, y: number, rgbAt: (x: number, y: number) => Rgb): TiledPatch => {
  const half = 60;
  const quad: Quad = [
    [x - half, y - half],
    [x + half, y - half],
    [x + half, y + half],
    [x - half, y + half],
  ];
  const tiles = Array.from({ length: SIDE * SIDE }, (_, i) => {
    const [column, row] = [i % SIDE, Math.floor(i / SIDE)];
    const [tx, ty] = [x + 20 * (column - 2.5), y + 20 * (row - 2.5)];
    return { x: tx, y: ty, column, row, rgb: rgbAt(tx, ty), pixels: 400, clippedShare: 0 };
  });
  return { quad, columns: SIDE, rows: SIDE, tiles };
};

/** What a camera records of light: gains, flare and a power; worked out here. */
interface Scene {
  readonly light: (x: number, y: number) => number;
  readonly camera: (light: number, channel: 0 | 1 | 2) => number;
  readonly table: number | null;
}
const CARD = [0.9, 0.18, 0.035];
const STEPS = [0.6, 0.35, 0.15, 0.06];

const photographed = ({ light, camera, table }: Scene): Tiled => {
  const rng = random(7, 1);
  const seen =
    (Y: number) =>
    (x: number, y: number): Rgb => {
      const lit = Y * light(x, y) * (1 + 0.004 * rng.normal());
      return [camera(lit, 0), camera(lit, 1), camera(lit, 2)];
    };
  const surround =
    table === null
      ? []
      : Array.from({ length: 28 * 21 }, (_, i) => {
          const [x, y] = [((i % 28) + 0.5) * (WIDTH_PX / 28), (Math.floor(i / 28) + 0.5) * (HEIGHT_PX / 21)];
          return { x, y, rgb: seen(table)(x, y), texture: 0.01 };
        }).filter(({ y }) => y < 120 || y > 780 || (y > 400 && y < 500));
  return {
    widthPx: WIDTH_PX,
    heightPx: HEIGHT_PX,
    card: CARD.map((Y, i) => ({
      name: ['white', 'grey', 'black'][i],
      ...marked(300 + 250 * i, 280, seen(Y)),
    })),
    steps: STEPS.map((Y, i) => ({ seconds: 60 * i, ...marked(250 + 220 * i, 640, seen(Y)) })),
    surround,
    bands: [],
    swatch: null,
  };
};
const STRIP = parseStrip({ card: 'white-grey-black', steps: STEPS.map((_, i) => ({ seconds: 60 * i })) });

const slanted = (x: number, y: number) => Math.exp((0.35 * x) / WIDTH_PX - (0.15 * y) / HEIGHT_PX);
const even = () => 0.8;
const straight: Scene['camera'] = (light, c) => [0.8, 0.7, 0.6][c] * light;
const contrasty: Scene['camera'] = (light, c) => ([0.8, 0.7, 0.6][c] * (light + 0.01)) ** 1.2;

const readY = (tiled: Tiled): number[] =>
  level(tiled, STRIP, PROFILE, 1).steps.map(({ reflectance }) => reflectance[1]);

describe('reflectance of four steps beside white, grey and black', () => {
  it.each([
    ['a straight camera under even light', { light: even, camera: straight, table: 0.5 }, 0.02],
    [
      'a straight camera under light that falls off by 40 %',
      { light: slanted, camera: straight, table: 0.5 },
      0.02,
    ],
    [
      'a camera with power 1.2 and 1 % flare under that light',
      { light: slanted, camera: contrasty, table: 0.5 },
      0.04,
    ],
    ['the same on a table of 6 %', { light: slanted, camera: contrasty, table: 0.06 }, 0.05],
  ] as const)('comes back from %s', (_, scene, within) => {
    readY(photographed(scene)).forEach((Y, i) => {
      expect(Math.abs(Y / STEPS[i] - 1)).toBeLessThan(within);
    });
  });

  it('is neutral where the cloth is: channels within 1 %', () => {
    const { steps } = level(
      photographed({ light: slanted, camera: contrasty, table: 0.5 }),
      STRIP,
      PROFILE,
      1,
    );
    for (const { reflectance } of steps)
      for (const c of [0, 2] as const)
        expect(Math.abs(reflectance[c] / reflectance[1] - 1)).toBeLessThan(0.01);
  });

  it('is refused as card-unusable where the card would make a step ten times as light as white', () => {
    const tiled = photographed({ light: even, camera: (light, c) => 0.08 * straight(light, c), table: 0.5 });
    const steps = tiled.steps.map((s) => ({
      ...s,
      tiles: s.tiles.map((t) => ({ ...t, rgb: [16 * t.rgb[0], 16 * t.rgb[1], 16 * t.rgb[2]] as const })),
    }));
    expect(() => readY({ ...tiled, steps })).toThrow(
      expect.objectContaining({
        code: 'card-unusable',
        message: expect.stringContaining('the step of 0 s would be far lighter than white'),
      }),
    );
    expect(readY(tiled)).toHaveLength(STEPS.length);
  });

  it('is called relative where two cards show one patch twice, as with a single patch', () => {
    const tiled = photographed({ light: even, camera: straight, table: 0.5 });
    const greys = [
      tiled.card[1],
      { ...tiled.card[1], ...marked(900, 280, () => tiled.card[1].tiles[0].rgb) },
    ];
    for (const card of [greys, greys.slice(0, 1)]) {
      const { tone, warnings } = level({ ...tiled, card }, STRIP, PROFILE, 1);
      expect(tone.relative).toBe(true);
      expect(warnings.map((w) => w.code)).toContain('relative');
    }
    expect(level(tiled, STRIP, PROFILE, 1).tone.relative).toBe(false);
    expect(level({ ...tiled, card: tiled.card.slice(1) }, STRIP, PROFILE, 1).tone.relative).toBe(false);
  });

  it('leaves more open without a table, and says so: within-patches, an illumination part twice as large', () => {
    const withTable = level(
      photographed({ light: slanted, camera: straight, table: 0.5 }),
      STRIP,
      PROFILE,
      1,
    );
    const without = level(photographed({ light: slanted, camera: straight, table: null }), STRIP, PROFILE, 1);
    expect(withTable.illumination.method).toBe('surround');
    expect(withTable.illumination.accepted).toBe(true);
    expect(without.illumination.method).toBe('within-patches');
    expect(without.illumination.accepted).toBe(false);
    expect(without.warnings.map((w) => w.code)).toContain('light-not-evened');
    for (let i = 0; i < STEPS.length; i++)
      expect(without.covarianceY.illumination[i][i]).toBeGreaterThan(
        4 * withTable.covarianceY.illumination[i][i],
      );
  });

  it('says how far the light falls off over card and steps: within 5 % of its true ratio', () => {
    const tiled = photographed({ light: slanted, camera: straight, table: 0.5 });
    const places = [...tiled.card, ...tiled.steps].map(({ quad }) =>
      slanted((quad[0][0] + quad[2][0]) / 2, (quad[0][1] + quad[2][1]) / 2),
    );
    const { fallOffRatio } = level(tiled, STRIP, PROFILE, 1).illumination;
    expect(fallOffRatio! / (Math.max(...places) / Math.min(...places))).toBeGreaterThan(0.95);
    expect(fallOffRatio! / (Math.max(...places) / Math.min(...places))).toBeLessThan(1.05);
  });

  it('gives L*, u and their covariance as finite numbers, or refuses, whatever light the tiles recorded', () => {
    const channel = fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(0, 1));
    const rgb = fc.tuple(channel, channel, channel);
    let read = 0;
    fc.assert(
      fc.property(
        fc.array(rgb, { minLength: 3, maxLength: 3 }),
        fc.array(rgb, { minLength: 4, maxLength: 4 }),
        fc.boolean(),
        fc.option(rgb),
        (card, cloth, inOrder, table) => {
          const shades = inOrder ? [...card].sort((a, b) => b[1] - a[1]) : card;
          const tiled: Tiled = {
            ...photographed({ light: even, camera: straight, table: null }),
            card: shades.map((v, i) => ({
              name: ['white', 'grey', 'black'][i],
              ...marked(300 + 250 * i, 280, () => v),
            })),
            steps: cloth.map((v, i) => ({ seconds: 60 * i, ...marked(250 + 220 * i, 640, () => v) })),
            surround: table
              ? Array.from({ length: 40 }, (_, i) => ({ x: 30 * i, y: 40 + (i % 7), rgb: table, texture: 0 }))
              : [],
          };
          try {
            const levelled = level(tiled, STRIP, PROFILE, 1);
            const { steps, covarianceL } = readSteps(levelled, PROFILE);
            read++;
            for (const step of steps)
              for (const value of [step.L, step.a, step.b, step.uL, step.density, step.ksIndex])
                expect(Number.isFinite(value)).toBe(true);
            expect(covarianceL.flat().every(Number.isFinite)).toBe(true);
            expect(levelled.tone.exponent).toBeGreaterThan(0);
            expect(levelled.tone.exponent).toBeLessThanOrEqual(100);
            expect(Number.isFinite(levelled.tone.leaveOneOutL ?? 0)).toBe(true);
            expect(Number.isFinite(levelled.illumination.relativeU)).toBe(true);
            for (const step of steps) expect(step.uL).toBeGreaterThan(0);
          } catch (error) {
            if (!(error instanceof AnalysisError)) throw error;
            expect(error.code).toBe('card-unusable');
          }
        },
      ),
      { numRuns: RUNS, seed: 13 },
    );
    expect(read).toBeGreaterThan(RUNS / 4);
  }, 60_000);
});
