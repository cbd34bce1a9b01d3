import { describe, expect, test } from 'vitest';
import {
  type ComparedFigure,
  compareDyes,
  type DyeComparison,
  type DyeEntry,
} from '../../../analysis/across/compare.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import { INDIGO, type Known, knownCurve, knownSeconds } from './knownCurve.ts';
import { noisyStrip } from './noise.ts';

const MADDER: Known = { ...INDIGO, halfSeconds: 240, deepestL: 45, base: [1, 6], deepest: [30, 10] };
const invalid = expect.objectContaining({ code: 'comparison-invalid' });

function entry(name: string, known: Known, rest: Partial<DyeEntry> = {}): DyeEntry {
  const curve = knownCurve(known);
  return { name, cloth: 'silk', light: 'tubes', curve, set: bootstrapCurve(curve, { count: 200 }), ...rest };
}

function compared(comparison: DyeComparison) {
  if (comparison.kind !== 'compared') throw new Error(comparison.reason);
  const of = (figure: ComparedFigure) => comparison.pairs[0].differences.find((d) => d.figure === figure);
  return { ...comparison, of };
}

describe('indigo against a madder of half the speed that ends 15 L* paler', () => {
  const comparison = compared(
    compareDyes([entry('indigo', INDIGO), entry('madder', MADDER)], { targetL: 60 }),
  );
  const [indigo, madder] = comparison.dyes;

  test('reads every figure of indigo as the formula has it', () => {
    expect(indigo.secondsToDepth.value).toBeCloseTo(120, 6);
    expect(indigo.secondsTo90.value).toBeCloseTo(120 * 9 ** (1 / 1.5), 6);
    expect(indigo.contrastLPerStop.value).toBeCloseTo((58 * 1.5 * Math.LN2) / 4, 6);
    expect(indigo.exposureScaleStops.value).toBeCloseTo((2 * Math.log2(9)) / 1.5, 6);
    expect(indigo.deepestL.value).toBe(30);
    expect(indigo.secondsToTarget.value).toBeCloseTo(knownSeconds(INDIGO, 28 / 58), 6);
    expect(madder.secondsToTarget.value).toBeCloseTo(knownSeconds(MADDER, 28 / 43), 6);
  });

  test('reads chroma and hue where it is deepest: b* −33.4 over a* −1.9 at the longest step', () => {
    const depth = 1 / (1 + (120 / 960) ** 1.5);
    const [a, b] = [-2 * depth, 4 - 38 * depth];
    expect(indigo.deepestChroma.value).toBeCloseTo(Math.hypot(a, b), 6);
    expect(indigo.deepestHue.value).toBeCloseTo((Math.atan2(b, a) * 180) / Math.PI + 360, 6);
  });

  test('calls speed (−1 stop), depth (15 L*), hue and contrast different, and the exposure scale not', () => {
    expect(comparison.of('secondsToDepth')).toMatchObject({ unit: 'stops', verdict: 'different' });
    expect(comparison.of('secondsToDepth')?.difference.value).toBeCloseTo(-1, 6);
    expect(comparison.of('deepestL')?.difference.value).toBeCloseTo(15, 6);
    expect(comparison.of('deepestL')?.verdict).toBe('different');
    expect(comparison.of('deepestHue')?.verdict).toBe('different');
    expect(comparison.of('contrastLPerStop')?.verdict).toBe('different');
    expect(comparison.of('exposureScaleStops')?.verdict).toBe('not-separable');
  });

  test('says that madder is slower and paler, with the numbers on one side', () => {
    expect(comparison.pairs[0].sentence).toMatch(
      /^Madder is 1\.00 stops slower \(0\.\d+ to 1\.\d+\) than indigo at 50 % depth; madder ends 15\.00 L\* paler \(1\d\.\d+ to 1\d\.\d+\)\.$/,
    );
  });

  test('turned round, every difference turns its sign and no verdict changes', () => {
    const other = compared(compareDyes([entry('madder', MADDER), entry('indigo', INDIGO)], { targetL: 60 }));
    for (const { figure, difference, verdict } of comparison.pairs[0].differences) {
      expect(other.of(figure)?.difference.value).toBeCloseTo(-(difference.value ?? 0), 9);
      expect(other.of(figure)?.verdict).toBe(verdict);
    }
  });
});

test('a dye that never gets to L* 40 has no time to it, and the difference is unknown', () => {
  const pale = compared(compareDyes([entry('indigo', INDIGO), entry('weld', MADDER)], { targetL: 40 }));
  expect(pale.dyes[1].secondsToTarget).toEqual({ value: null, low: null, high: null });
  expect(pale.of('secondsToTarget')?.verdict).toBe('unknown');
});

test('a greyish dye of chroma 3 has no hue to compare', () => {
  const grey = compared(
    compareDyes([entry('indigo', INDIGO), entry('iron', { ...INDIGO, base: [0, 2], deepest: [1, 3] })]),
  );
  expect(grey.dyes[1].deepestHue.value).toBeNull();
  expect(grey.of('deepestHue')?.verdict).toBe('unknown');
});

test('hues of 2° and 358° are 4° apart and not 356°', () => {
  const at = (degrees: number): Known => ({
    ...INDIGO,
    base: [0, 0],
    deepest: [50 * Math.cos((degrees * Math.PI) / 180), 50 * Math.sin((degrees * Math.PI) / 180)],
  });
  const near = compared(compareDyes([entry('one', at(358)), entry('other', at(2))]));
  expect(near.of('deepestHue')?.difference.value).toBeCloseTo(4, 6);
  expect(near.of('deepestHue')?.verdict).toBe('different');
});

test('read twice with ±0.5 L*, one dye is called different from itself in at most 2 % of 240 figures', () => {
  let [asked, called] = [0, 0];
  for (let seed = 1; seed <= 30; seed++) {
    const [one, other] = [seed, seed + 1000].map((s) => noisyStrip(INDIGO, 0.5, s));
    const twice = compared(
      compareDyes(
        [
          { name: 'first', cloth: 'silk', light: 'tubes', ...one },
          { name: 'second', cloth: 'Silk ', light: 'tubes', ...other },
        ],
        { targetL: 60 },
      ),
    );
    for (const { verdict } of twice.pairs[0].differences) {
      asked++;
      if (verdict === 'different') called++;
    }
  }
  expect(asked).toBe(240);
  expect(called / asked).toBeLessThanOrEqual(0.02);
});

test('strips on two cloths or under two lights are not compared, with the reason', () => {
  const cloths = compareDyes([entry('indigo', INDIGO), entry('madder', MADDER, { cloth: 'hemp' })]);
  expect(cloths).toMatchObject({ kind: 'not-comparable' });
  expect(cloths.kind === 'not-comparable' && cloths.reason).toContain('silk, hemp');
  expect(compareDyes([entry('indigo', INDIGO), entry('madder', MADDER, { light: 'sun' })]).kind).toBe(
    'not-comparable',
  );
});

test('one dye, two of one name, a depth of 0 or a target of 100 is refused', () => {
  const two = [entry('indigo', INDIGO), entry('madder', MADDER)];
  expect(() => compareDyes(two.slice(1))).toThrowError(invalid);
  expect(() => compareDyes([two[0], two[0]])).toThrowError(invalid);
  expect(() => compareDyes(two, { depthPercent: 0 })).toThrowError(invalid);
  expect(() => compareDyes(two, { targetL: 100 })).toThrowError(invalid);
});
