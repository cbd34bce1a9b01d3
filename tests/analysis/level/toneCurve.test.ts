import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { lightnessFromY } from '../../../analysis/colour/lightness.ts';
import { fitToneCurve, type Recorded, type ToneSample } from '../../../analysis/level/toneCurve.ts';

type Camera = (sceneLight: number) => number;

/** Cameras worked out here, from light (perfect white 1) to recorded light; none has the curve's own form. */
const CAMERAS: Readonly<Record<string, Camera>> = {
  'straight camera': (x) => x,
  'camera with power 1.2': (x) => x ** 1.2,
  'camera with power 0.8': (x) => x ** 0.8,
  'camera with an S-curve': (x) => {
    const rolledOff = (1.5 * x) / (1 + 0.5 * x);
    const v = Math.sqrt(rolledOff);
    return (v + 0.3 * (v * v * (3 - 2 * v) - v)) ** 2;
  },
};
const THREE = [0.9, 0.18, 0.035];
const SIX = [0.9, 0.59, 0.36, 0.19, 0.09, 0.031];
const TEN = Array.from({ length: 10 }, (_, i) => 10 ** -(0.05 + 0.2 * i));
const BETWEEN = [0.75, 0.5, 0.3, 0.12, 0.06, 0.045];
type Gains = readonly [number, number, number];
const GAINS: Gains = [0.8, 0.62, 0.7];

const recordedLog = (camera: Camera, flare: number, Y: number, gains: Gains): [number, number, number] => {
  const of = (gain: number) => Math.log(camera(gain * (Y + flare)));
  return [of(gains[0]), of(gains[1]), of(gains[2])];
};

const photographed = (
  values: readonly number[],
  camera: Camera,
  flare = 0,
  gains: Gains = GAINS,
): ToneSample[] =>
  values.map((Y) => ({
    name: `Y ${Y}`,
    light: [Y, Y, Y],
    recordedLog: recordedLog(camera, flare, Y, gains),
    knownU: 0.01,
    recordedU: 0.001,
  }));

const CHANNELS = [0, 1, 2] as const;
const GREEN = 1;

/** L* that a card photographed by this camera makes of a grey of reflectance Y, per channel. */
const readGrey = (card: readonly ToneSample[], camera: Camera, flare: number, Y: number, gains = GAINS) => {
  const logs = recordedLog(camera, flare, Y, gains);
  const answer = fitToneCurve(card, flare).read(CHANNELS.map((c) => ({ log: logs[c], channel: c })));
  return {
    L: answer.logs.map((log) => lightnessFromY(Math.exp(log) - flare)),
    uLog: Math.sqrt(answer.covariance[GREEN][GREEN]),
  };
};

const largestError = (
  card: readonly ToneSample[],
  camera: Camera,
  flare: number,
  values: readonly number[],
) =>
  Math.max(
    ...values.flatMap((Y) => readGrey(card, camera, flare, Y).L.map((L) => Math.abs(L - lightnessFromY(Y)))),
  );

const smallestEigenvalue = (rows: readonly (readonly number[])[]): number =>
  Math.min(...new EigenvalueDecomposition(new Matrix(rows.map((r) => [...r]))).realEigenvalues);

describe.each(Object.entries(CAMERAS))('the tone of a %s', (_, camera) => {
  it.each([0, 0.02])('gives three patches back within 0.15 L* in each channel, at flare %d', (flare) => {
    expect(largestError(photographed(THREE, camera, flare), camera, flare, THREE)).toBeLessThan(0.15);
  });

  it.each([0, 0.02])('gives greys between three patches within 0.25 L*, at flare %d', (flare) => {
    expect(largestError(photographed(THREE, camera, flare), camera, flare, BETWEEN)).toBeLessThan(0.25);
  });

  it.each([
    ['six', SIX],
    ['ten', TEN],
  ] as const)('gives greys between %s patches within 0.1 L*', (_count, values) => {
    expect(largestError(photographed(values, camera, 0.02), camera, 0.02, BETWEEN)).toBeLessThan(0.1);
  });

  it('errs with one patch by no more than 2.5 stated uncertainties at Y 0.75, 0.3 and 0.045', () => {
    const card = photographed([0.18], camera);
    for (const Y of [0.75, 0.3, 0.045]) {
      const { L, uLog } = readGrey(card, camera, 0, Y);
      const lnError = Math.abs(Math.log(((L[GREEN] + 16) / 116) ** 3) - Math.log(Y));
      expect(lnError).toBeLessThan(2.5 * uLog);
    }
  });
});

describe('the uncertainty of the tone', () => {
  const camera = CAMERAS['camera with an S-curve'];
  const uAt = (values: readonly number[], Y: number) =>
    readGrey(photographed(values, camera), camera, 0, Y).uLog;

  it('is wide with one patch: more than 12 % of Y one and a half stops up, more than 20 % two stops down', () => {
    expect(uAt([0.18], 0.5)).toBeGreaterThan(0.12);
    expect(uAt([0.18], 0.045)).toBeGreaterThan(0.2);
  });

  it('is at one patch itself that of the patch: 1 % of Y and the channels’ 1 %', () => {
    expect(uAt([0.18], 0.18)).toBeGreaterThan(0.009);
    expect(uAt([0.18], 0.18)).toBeLessThan(0.016);
  });

  it('falls from 1 to 3 patches to less than a tenth at Y 0.5, and on with 6 and 10', () => {
    const [one, three, six, ten] = [[0.18], THREE, SIX, TEN].map((values) => uAt(values, 0.5));
    expect(three).toBeLessThan(one / 8);
    expect(six).toBeLessThan(three);
    expect(ten).toBeLessThan(six);
  });

  it('grows outside the card: three times as large at Y 0.004 as at Y 0.1', () => {
    expect(uAt(THREE, 0.004)).toBeGreaterThan(3 * uAt(THREE, 0.1));
  });

  it('grows with the light’s uncertainty at the patches: 5 % of light on one patch is 5 % of Y', () => {
    const tone = fitToneCurve(photographed([0.18], camera), 0, [[0.05 ** 2]]);
    const [log] = photographed([0.18], camera)[0].recordedLog;
    const { covariance, lightWeights } = tone.read([{ log, channel: 0 }]);
    expect(Math.sqrt(covariance[0][0])).toBeGreaterThan(0.045);
    expect(Math.sqrt(covariance[0][0])).toBeLessThan(0.055);
    expect(lightWeights[0][0]).toBeGreaterThan(0.95);
    expect(lightWeights[0][0]).toBeLessThan(1.05);
  });

  it('is positive semi-definite as a whole, in its card part and in what the card leaves open', () => {
    const values: Recorded[] = BETWEEN.flatMap((Y) =>
      CHANNELS.map((channel) => ({ log: recordedLog(camera, 0.01, Y, GAINS)[channel], channel })),
    );
    for (const card of [[0.18], THREE, TEN]) {
      const { covariance, cardCovariance } = fitToneCurve(photographed(card, camera, 0.01), 0.01).read(
        values,
      );
      const rest = covariance.map((row, i) => row.map((v, j) => v - cardCovariance[i][j]));
      expect(smallestEigenvalue(covariance)).toBeGreaterThan(-1e-10);
      expect(smallestEigenvalue(cardCovariance)).toBeGreaterThan(-1e-10);
      expect(smallestEigenvalue(rest)).toBeGreaterThan(-1e-10);
      // An unsound split would put more into the card than there is.
      for (let i = 0; i < values.length; i++) expect(cardCovariance[i][i]).toBeLessThan(covariance[i][i]);
    }
  });
});

describe('the same card photographed otherwise', () => {
  const camera = CAMERAS['camera with power 1.2'];
  const BRIGHTER: Gains = [1.12, 0.868, 0.98];
  const CAST: Gains = [0.9, 0.55, 0.58];

  it.each([
    ['40 % brighter', BRIGHTER],
    ['through another white balance, red +13 %, blue −17 %', CAST],
  ])('%s reads greys the same within 0.2 L*', (_, gains) => {
    for (const Y of BETWEEN) {
      const before = readGrey(photographed(THREE, camera), camera, 0, Y).L;
      const after = readGrey(photographed(THREE, camera, 0, gains), camera, 0, Y, gains).L;
      for (const c of CHANNELS) expect(Math.abs(after[c] - before[c])).toBeLessThan(0.2);
    }
  });
});

describe('the evidence for a flare', () => {
  it.each([0, 0.01, 0.028])(
    'is largest near a true flare of %d with ten patches and a straight camera',
    (flare) => {
      const card = photographed(TEN, (x) => x, flare);
      const tried = [0, 0.004, 0.01, 0.02, 0.028, 0.04, 0.056];
      const evidence = tried.map((f) => fitToneCurve(card, f).logEvidence);
      const likeliest = tried[evidence.indexOf(Math.max(...evidence))];
      expect(Math.abs(likeliest - flare)).toBeLessThanOrEqual(0.01);
    },
  );
});
