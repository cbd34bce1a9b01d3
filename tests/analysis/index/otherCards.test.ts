import { beforeAll, describe, expect, it } from 'vitest';
import type { SampleOptions } from '../../../fixtures/sample.ts';
import { drawn, errorsL, type ReadScene, readSpec, rms } from './scenes.ts';

interface Case {
  readonly name: string;
  readonly seed: number;
  readonly options: SampleOptions;
  /** L* that the steps' errors may have together; about twice what they had when this was written. */
  readonly rmsBoundL: number;
}

const CASES: readonly Case[] = [
  {
    name: 'a grey scale on a plain board beside purple on silk',
    seed: 303,
    options: {
      card: 'grey-scale',
      surround: 'plain',
      pieces: 'contiguous',
      cloth: 'silk',
      dye: 'purple',
      steps: 7,
      base: true,
    },
    rmsBoundL: 0.9,
  },
  {
    name: 'a grey scale on dark felt beside scraps of blue on linen',
    seed: 304,
    options: {
      card: 'grey-scale',
      surround: 'dark',
      pieces: 'scraps',
      cloth: 'linen',
      dye: 'blue',
      steps: 6,
      base: true,
    },
    rmsBoundL: 0.6,
  },
  {
    name: 'a 24-patch chart beside red on cotton',
    seed: 305,
    options: {
      card: 'chart-24',
      surround: 'plain',
      pieces: 'contiguous',
      cloth: 'cotton',
      dye: 'red',
      steps: 7,
      base: true,
    },
    rmsBoundL: 0.5,
  },
  {
    name: 'a printer’s own greys beside green on linen with a stain, without a base, on a sheet over a patterned table',
    seed: 306,
    options: {
      card: 'own',
      surround: 'sheet',
      pieces: 'contiguous',
      cloth: 'linen',
      dye: 'green',
      steps: 6,
      base: false,
      defects: true,
    },
    rmsBoundL: 0.7,
  },
  {
    name: 'two white-grey-black cards on dark felt beside yellow on hemp',
    seed: 308,
    options: {
      card: 'white-grey-black',
      secondCard: true,
      surround: 'dark',
      pieces: 'contiguous',
      cloth: 'hemp',
      dye: 'yellow',
      steps: 6,
      base: true,
    },
    rmsBoundL: 0.8,
  },
];

const GREY_18: Case = {
  name: 'a single grey patch beside black on cotton',
  seed: 307,
  options: {
    card: 'grey-18',
    surround: 'plain',
    pieces: 'contiguous',
    cloth: 'cotton',
    dye: 'black',
    steps: 6,
    base: true,
  },
  rmsBoundL: 4,
};

const read = new Map<string, ReadScene>();
beforeAll(async () => {
  for (const { name, seed, options } of [...CASES, GREY_18])
    read.set(name, await readSpec(drawn(seed, options)));
}, 120_000);

describe.each([...CASES, GREY_18])('a photo of $name', ({ name, options, rmsBoundL }) => {
  it(`reads L* with an RMSE within ${rmsBoundL}`, () => {
    expect(rms(errorsL(read.get(name)!))).toBeLessThan(rmsBoundL);
  });

  it('reads each step’s L* within three stated uncertainties, or 1 L*', () => {
    const { reading } = read.get(name)!;
    errorsL(read.get(name)!).forEach((error, i) => {
      expect(Math.abs(error)).toBeLessThan(Math.max(3 * reading.steps[i].uL, 1));
    });
  });

  it('gives the steps in rising exposure, as many as were exposed, with what the strip says of itself', () => {
    const { scene, reading } = read.get(name)!;
    expect(reading.steps.map((s) => s.seconds)).toEqual(scene.truth.steps.map((s) => s.seconds));
    expect(reading.strip).toMatchObject({ dye: options.dye, cloth: options.cloth, card: options.card });
  });
});

describe('the stated uncertainty of the five photos with three patches or more', () => {
  const ratios = () =>
    CASES.flatMap(({ name }) => {
      const one = read.get(name)!;
      return errorsL(one).map((error, i) => Math.abs(error) / one.reading.steps[i].uL);
    });

  it('holds the truth within 1.645 u in 80 to 100 % of steps, 90 % being meant', () => {
    const all = ratios();
    expect(all.length).toBeGreaterThan(30);
    expect(all.filter((r) => r <= 1.645).length / all.length).toBeGreaterThan(0.8);
  });

  it('is not idle: one step in six is off by more than half of it, and its median is below 0.6 L*', () => {
    const all = ratios();
    expect(all.filter((r) => r > 0.5).length / all.length).toBeGreaterThan(1 / 6);
    const u = CASES.flatMap(({ name }) => read.get(name)!.reading.steps.map((s) => s.uL)).sort(
      (a, b) => a - b,
    );
    expect(u[u.length >> 1]).toBeLessThan(0.6);
  });

  it('is the root of its four parts’ squares, and of the covariance’s diagonal', () => {
    for (const { name } of CASES)
      read.get(name)!.reading.steps.forEach(({ uL, budget }, i) => {
        expect(Math.hypot(budget.step, budget.card, budget.illumination, budget.tone)).toBeCloseTo(uL, 6);
        expect(Math.sqrt(read.get(name)!.reading.covarianceL[i][i])).toBeCloseTo(uL, 10);
      });
  });
});

describe('what a reading says of its card', () => {
  it('with a single grey patch is relative, with a warning and an uncertainty above 4 L* at the base', () => {
    const { reading } = read.get(GREY_18.name)!;
    expect(reading.tone.relative).toBe(true);
    expect(reading.tone.leaveOneOutL).toBeNull();
    expect(reading.warnings.map((w) => w.code)).toContain('relative');
    expect(reading.steps[0].uL).toBeGreaterThan(4);
  });

  it('with three patches or more is not relative, all patches used', () => {
    for (const { name, options } of CASES) {
      const { reading, scene } = read.get(name)!;
      const neutrals = options.card === 'chart-24' ? 6 : scene.marks.card.length;
      expect(reading.tone.relative).toBe(false);
      expect(reading.tone.patchesUsed).toBe(neutrals);
    }
  });

  it('with ten greys: each patch predicted by the nine others within 1.5 L*, with two cards by its twin', () => {
    for (const i of [0, 1, 4]) expect(read.get(CASES[i].name)!.reading.tone.leaveOneOutL).toBeLessThan(1.5);
  });

  it('with a 24-patch chart tells how well its colours are met: below 3 ΔE00 as used', () => {
    const { colour } = read.get(CASES[2].name)!.reading;
    expect(colour).not.toBeNull();
    expect(colour!.applied ? colour!.withDeltaE : colour!.withoutDeltaE).toBeLessThan(3);
    for (const row of [0, 3, 6])
      expect(colour!.matrix.slice(row, row + 3).reduce((s, v) => s + v, 0)).toBeCloseTo(1, 9);
    for (const i of [0, 1, 3, 4]) expect(read.get(CASES[i].name)!.reading.colour).toBeNull();
  });
});
