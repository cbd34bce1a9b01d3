import { describe, expect, it } from 'vitest';
import { type Lab, labToXyz } from '../../../analysis/colour/lab.ts';
import { applyMatrix3, inverseMatrix3 } from '../../../analysis/colour/matrix3.ts';
import type { Levelled } from '../../../analysis/level/levelled.ts';
import type { Rgb } from '../../../analysis/photo/photo.ts';
import { assumedSrgb } from '../../../analysis/photo/srgb.ts';
import { readSteps } from '../../../analysis/steps/readSteps.ts';
import type { Step } from '../../../analysis/steps/step.ts';
import { numbers, table } from '../../reference/table.ts';

const profile = assumedSrgb(255, 255);

/** Relative standard uncertainty of Y by source, the same for all steps and independent between them. */
interface Sources {
  readonly step: number;
  readonly card: number;
  readonly illumination: number;
  readonly tone: number;
}
const NONE: Sources = { step: 0, card: 0, illumination: 0, tone: 0 };

/** Steps of known reflectance in linear sRGB, as the level stage hands them on. */
const levelledOf = (
  steps: readonly { readonly seconds: number; readonly reflectance: Rgb; readonly unevenness?: number }[],
  relativeU: Sources = NONE,
): Levelled => {
  const Y = steps.map((s) => applyMatrix3(profile.toXyz65, s.reflectance)[1]);
  const own = (u: number) => steps.map((_, i) => steps.map((__, j) => (i === j ? (u * Y[i]) ** 2 : 0)));
  return {
    steps: steps.map(({ seconds, reflectance, unevenness = 0 }) => ({
      seconds,
      reflectance,
      mean: {
        x: 0,
        y: 0,
        rgb: reflectance,
        relativeSe: [0, 0, 0],
        unevenness,
        clippedShare: 0.002,
        tilesUsed: 60,
        tilesDropped: 4,
      },
    })),
    slantCovarianceY: own(0),
    covarianceY: {
      step: own(relativeU.step),
      card: own(relativeU.card),
      illumination: own(relativeU.illumination),
      tone: own(relativeU.tone),
    },
    illumination: { method: 'within-patches', accepted: false, reason: '', fallOffRatio: null, relativeU: 0 },
    tone: { patchesUsed: 1, patchesRefused: [], exponent: 1, flare: 0, leaveOneOutL: null, relative: true },
    colour: null,
    swatch: null,
    warnings: [],
  };
};

const read = (steps: Parameters<typeof levelledOf>[0], relativeU?: Sources): readonly Step[] =>
  readSteps(levelledOf(steps, relativeU), profile).steps;

const neutral = (Y: number): Rgb => [Y, Y, Y];
/** Linear sRGB of a CIELAB colour; may leave 0..1. */
const reflectanceOf = (lab: Lab): Rgb => applyMatrix3(inverseMatrix3(profile.toXyz65), labToXyz(lab));

describe('lightness', () => {
  it('of a neutral step of Y = 0.18 is L* 49.50, without colour', () => {
    const [step] = read([{ seconds: 0, reflectance: neutral(0.18) }]);
    // Source: CIE 15; 116·∛0.18 − 16 = 49.4961 (tests/reference/lstar.csv).
    expect(step.L).toBeCloseTo(49.4961, 4);
    expect(step.Y).toBeCloseTo(0.18, 9);
    expect(step.chroma).toBeLessThan(1e-6);
  });

  // Source: tests/reference/lstar.csv (CIE 15).
  it('of neutral steps is the tabulated L* from Y = 0.5 % to 100 %, within 1e-6', () => {
    const rows = table('lstar.csv')
      .filter(({ kind }) => kind === 'Y_to_L')
      .map((row) => numbers(row, 'Y_percent', 'Lstar'))
      .filter(([percent]) => percent >= 0.5 && percent <= 100);
    expect(rows.length).toBeGreaterThan(10);
    for (const [percent, L] of rows)
      expect(read([{ seconds: 0, reflectance: neutral(percent / 100) }])[0].L).toBeCloseTo(L, 6);
  });
});

describe('u(L*)', () => {
  const sources: Sources = { step: 0.01, card: 0.02, illumination: 0.03, tone: 0.04 };
  const [step] = read([{ seconds: 0, reflectance: neutral(0.18) }], sources);
  // dL*/dlnY = (116/3)·∛Y = 21.832 at Y = 0.18. Source: CIE 15, differentiated.
  const perLn = (116 / 3) * Math.cbrt(0.18);

  it('by source is the relative uncertainty of Y times 21.83: 2 % of card make 0.437 L*', () => {
    expect(step.budget.card).toBeCloseTo(0.02 * perLn, 3);
    expect(step.budget.illumination).toBeCloseTo(0.03 * perLn, 3);
    expect(step.budget.tone).toBeCloseTo(0.04 * perLn, 3);
  });

  it('of the step itself holds the file’s rounding too: 0.05 L* where the tiles say nothing', () => {
    expect(step.budget.step).toBeCloseTo(Math.hypot(0.01 * perLn, 0.05), 3);
    expect(read([{ seconds: 0, reflectance: neutral(0.18) }])[0].budget.step).toBeCloseTo(0.05, 9);
  });

  it('adds its parts in quadrature', () => {
    const { budget } = step;
    expect(step.uL).toBeCloseTo(Math.hypot(budget.step, budget.card, budget.illumination, budget.tone), 9);
  });

  it('is the root of the covariance’s diagonal, and steps that share a card error share it off the diagonal', () => {
    const levelled = levelledOf([
      { seconds: 0, reflectance: neutral(0.6) },
      { seconds: 30, reflectance: neutral(0.1) },
    ]);
    const shared = [
      [0.012 ** 2, 0.012 * 0.002],
      [0.012 * 0.002, 0.002 ** 2],
    ];
    const { steps, covarianceL } = readSteps(
      { ...levelled, covarianceY: { ...levelled.covarianceY, card: shared } },
      profile,
    );
    for (const i of [0, 1]) expect(covarianceL[i][i]).toBeCloseTo(steps[i].uL ** 2, 12);
    // Both are off by 2 % at once: full correlation of the card's part.
    expect(covarianceL[0][1]).toBeCloseTo(steps[0].budget.card * steps[1].budget.card, 9);
    expect(covarianceL[1][0]).toBe(covarianceL[0][1]);
  });
});

describe('colour difference', () => {
  // Pairs 1, 7 and 17 of Sharma, Wu and Dalal 2005: tests/reference/ciede2000_sharma.csv. The steps' reflectances are
  // worked back from their CIELAB values; some lie outside sRGB, which must not matter.
  it.each([0, 6, 16])('to the base and to the step before is the published ΔE00 of pair %i', (pair) => {
    const [L1, a1, b1, L2, a2, b2, wanted] = numbers(
      table('ciede2000_sharma.csv')[pair],
      'L1',
      'a1',
      'b1',
      'L2',
      'a2',
      'b2',
      'dE00',
    );
    const one = reflectanceOf({ L: L1, a: a1, b: b1 });
    const other = reflectanceOf({ L: L2, a: a2, b: b2 });
    const steps = read([
      { seconds: 0, reflectance: one },
      { seconds: 20, reflectance: other },
      { seconds: 40, reflectance: other },
      { seconds: 80, reflectance: one },
    ]);
    expect(steps.map((s) => s.deltaEToBase)).toEqual([
      0,
      expect.closeTo(wanted, 4),
      expect.closeTo(wanted, 4),
      expect.closeTo(0, 6),
    ]);
    expect(steps.map((s) => s.deltaEToPrevious)).toEqual([
      null,
      expect.closeTo(wanted, 4),
      expect.closeTo(0, 6),
      expect.closeTo(wanted, 4),
    ]);
  });

  it('to the base is not given where the strip has none', () => {
    const steps = read([
      { seconds: 10, reflectance: neutral(0.5) },
      { seconds: 20, reflectance: neutral(0.3) },
    ]);
    expect(steps.map((s) => s.deltaEToBase)).toEqual([null, null]);
    expect(steps[1].deltaEToPrevious).toBeGreaterThan(10);
  });
});

describe('chroma and hue', () => {
  it.each([
    [30, 40, 50, 53.130102],
    [-30, 40, 50, 126.869898],
    [-30, -40, 50, 233.130102],
    [30, -40, 50, 306.869898],
  ])('of a* %d, b* %d are %d and %d°', (a, b, chroma, hue) => {
    const [step] = read([{ seconds: 0, reflectance: reflectanceOf({ L: 50, a, b }) }]);
    expect(step.chroma).toBeCloseTo(chroma, 6);
    expect(step.hue).toBeCloseTo(hue, 5);
  });
});

describe('density and K/S', () => {
  it('density is −log10 Y: 0.7447 at 18 %, 2 at 1 %', () => {
    const steps = read([
      { seconds: 0, reflectance: neutral(0.18) },
      { seconds: 30, reflectance: neutral(0.01) },
    ]);
    // Source: ISO 5-4.
    expect(steps[0].density).toBeCloseTo(0.7447, 4);
    expect(steps[1].density).toBeCloseTo(2, 9);
  });

  // K/S = (1 − R)² / 2R: 4.05 at 0.1, 0.025 at 0.8. Source: Kubelka and Munk 1931, tests/reference/kubelka_munk.csv.
  it.each([
    ['a blue dye, which absorbs red', [0.1, 0.5, 0.7]],
    ['a red dye, which absorbs green', [0.7, 0.1, 0.5]],
    ['a yellow dye, which absorbs blue', [0.7, 0.6, 0.1]],
  ] as const)('K/S of %s goes by that channel: 4.05 − 0.025 above the base', (_, deep) => {
    const steps = read([
      { seconds: 0, reflectance: neutral(0.8) },
      { seconds: 60, reflectance: deep },
    ]);
    expect(steps[0].ksIndex).toBe(0);
    expect(steps[1].ksIndex).toBeCloseTo(4.025, 9);
  });

  it('K/S is given as it is where the strip has no base', () => {
    const steps = read([
      { seconds: 10, reflectance: neutral(0.8) },
      { seconds: 60, reflectance: [0.1, 0.5, 0.7] },
    ]);
    expect(steps.map((s) => s.ksIndex)).toEqual([expect.closeTo(0.025, 9), expect.closeTo(4.05, 9)]);
  });

  it('reflectance above white and below black gives finite numbers', () => {
    for (const step of read([
      { seconds: 0, reflectance: neutral(1.1) },
      { seconds: 60, reflectance: [-0.01, -0.002, 0.01] },
    ]))
      for (const value of [step.L, step.a, step.b, step.density, step.ksIndex, step.uL])
        expect(Number.isFinite(value)).toBe(true);
  });
});

it('a step’s unevenness of 2 % in light is 0.44 L* at Y = 0.18; clipped share and tiles are passed on', () => {
  const [step] = read([{ seconds: 0, reflectance: neutral(0.18), unevenness: 0.02 }]);
  expect(step.unevennessL).toBeCloseTo(0.02 * (116 / 3) * Math.cbrt(0.18), 3);
  expect(step).toMatchObject({ clippedShare: 0.002, tilesUsed: 60, tilesDropped: 4 });
});

describe('a step whose pixels are clipped', () => {
  const burnt = (clippedShare: number): Step => {
    const levelled = levelledOf([{ seconds: 0, reflectance: [0.85, 0.85, 0.85] }]);
    const [step] = levelled.steps;
    const steps = [{ ...step, mean: { ...step.mean, rgb: [1, 1, 1] as const, clippedShare } }];
    return readSteps({ ...levelled, steps }, profile).steps[0];
  };

  it('is unsure by more than 10 L* where all of them are burnt out, and by less than 0.2 where a fiftieth is', () => {
    expect(burnt(1).uL).toBeGreaterThan(10);
    expect(burnt(1).budget.step).toBeCloseTo(burnt(1).uL, 10);
    expect(burnt(0.02).uL).toBeLessThan(0.2);
    expect(burnt(0).uL).toBeCloseTo(0.05, 10);
  });
});
