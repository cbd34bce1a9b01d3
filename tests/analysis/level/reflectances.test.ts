import { describe, expect, it } from 'vitest';
import { fitField, type Place } from '../../../analysis/level/field.ts';
import { type LitTone, reflectances } from '../../../analysis/level/reflectances.ts';
import { fitToneCurve } from '../../../analysis/level/toneCurve.ts';
import { assumedSrgb } from '../../../analysis/photo/srgb.ts';
import type { PatchMean } from '../../../analysis/tiles/robustMean.ts';
import { HEIGHT_PX, WIDTH_PX } from './scatter.ts';

const PROFILE = assumedSrgb(255, 255);
/** The prior alone: light that nothing tells of, 16 % per half diagonal. */
const UNKNOWN_LIGHT = fitField(WIDTH_PX, HEIGHT_PX, [], [WIDTH_PX / 2, HEIGHT_PX / 2]);

/** A step or patch of grey Y, recorded by a camera that halves all light. */
const seen = ([x, y]: Place, Y: number, relativeSe = 0): PatchMean => ({
  x,
  y,
  rgb: [Y / 2, Y / 2, Y / 2],
  relativeSe: [relativeSe, relativeSe, relativeSe],
  unevenness: 0,
  clippedShare: 0,
  tilesUsed: 64,
  tilesDropped: 0,
});

const toneOf = (patches: readonly { readonly place: Place; readonly Y: number }[], flare = 0): LitTone => {
  const cardPlaces = patches.map((p) => p.place);
  const samples = patches.map(({ Y }) => ({
    name: `Y ${Y}`,
    light: [Y, Y, Y] as const,
    recordedLog: [Math.log(Y / 2), Math.log(Y / 2), Math.log(Y / 2)] as const,
    knownU: 0.01,
    recordedU: 0.001,
  }));
  const covariance = cardPlaces.map((a) => cardPlaces.map((b) => UNKNOWN_LIGHT.covariance(a, b)));
  return { tone: fitToneCurve(samples, flare, covariance), field: UNKNOWN_LIGHT, cardPlaces };
};

const CORNER: Place = [150, 150];
const NEAR: Place = [180, 150];
const FAR: Place = [1050, 750];
const uOf = (variance: number) => Math.sqrt(Math.max(0, variance));
const at = (...places: readonly Place[]) =>
  places.map((place, i) => ({ seconds: i, mean: seen(place, 0.18) }));

describe('the light’s part in the uncertainty of a step beside a single patch of the same grey', () => {
  const { covarianceY } = reflectances(
    at(CORNER, NEAR, FAR),
    [toneOf([{ place: CORNER, Y: 0.18 }])],
    PROFILE,
  );
  const [inPlace, near, far] = [0, 1, 2].map((i) => uOf(covarianceY.illumination[i][i]) / 0.18);

  it('is nothing in the patch’s own place, though the light there is unknown to 16 %: below 0.5 % of Y', () => {
    expect(uOf(UNKNOWN_LIGHT.covariance(CORNER, CORNER))).toBeGreaterThan(0.1);
    expect(inPlace).toBeLessThan(0.005);
  });

  it('is small beside it, below 2 % of Y, and in the opposite corner that of the light from there to here', () => {
    expect(near).toBeLessThan(0.02);
    const between =
      UNKNOWN_LIGHT.covariance(CORNER, CORNER) +
      UNKNOWN_LIGHT.covariance(FAR, FAR) -
      2 * UNKNOWN_LIGHT.covariance(CORNER, FAR);
    expect(far / Math.sqrt(between)).toBeGreaterThan(0.95);
    expect(far / Math.sqrt(between)).toBeLessThan(1.05);
  });

  it('is shared by two steps in one place: correlation above 0.999', () => {
    const pair = reflectances(at(FAR, FAR), [toneOf([{ place: CORNER, Y: 0.18 }])], PROFILE).covarianceY
      .illumination;
    expect(pair[0][1] / pair[0][0]).toBeGreaterThan(0.999);
  });
});

describe('the other parts', () => {
  const card = [0.9, 0.5, 0.18, 0.08, 0.035].map((Y) => ({ place: CORNER, Y }));

  it('of a step are its tiles’ standard error, carried through a straight camera: 2 % of Y, not shared', () => {
    const steps = [CORNER, CORNER].map((place, i) => ({ seconds: i, mean: seen(place, 0.3, 0.02) }));
    const { covarianceY } = reflectances(steps, [toneOf(card)], PROFILE);
    expect(uOf(covarianceY.step[0][0]) / 0.3).toBeGreaterThan(0.018);
    expect(uOf(covarianceY.step[0][0]) / 0.3).toBeLessThan(0.022);
    expect(covarianceY.step[0][1]).toBe(0);
  });

  it('of the card are its 1 %: between 0.4 % with five patches and 1 % with one', () => {
    const five = reflectances(at(CORNER), [toneOf(card)], PROFILE).covarianceY.card[0][0];
    const one = reflectances(at(CORNER), [toneOf([card[2]])], PROFILE).covarianceY.card[0][0];
    expect(uOf(one) / 0.18).toBeGreaterThan(0.008);
    expect(uOf(one) / 0.18).toBeLessThan(0.0105);
    expect(uOf(five)).toBeLessThan(uOf(one));
    expect(uOf(five) / 0.18).toBeGreaterThan(0.004);
  });

  it('of the tone are the mean over three flares, and the spread between them: the law of total variance', () => {
    const flares = [0, 0.01, 0.02].map((flare) => toneOf([card[2]], flare));
    const dark = [{ seconds: 0, mean: seen(CORNER, 0.03) }];
    const single = flares.map((f) => reflectances(dark, [f], PROFILE));
    // Each flare stands for half the way to its neighbours: 0.005, 0.01 and 0.005.
    const raw = flares.map(({ tone }, i) => Math.exp(tone.logEvidence) * [0.005, 0.01, 0.005][i]);
    const total = raw.reduce((s, w) => s + w, 0);
    const mean = (values: readonly number[]) => values.reduce((s, v, i) => s + (raw[i] / total) * v, 0);
    const Y = single.map(({ steps }) => steps[0].reflectance[1]);
    const within = mean(single.map(({ covarianceY }) => covarianceY.tone[0][0]));
    const between = mean(Y.map((v) => (v - mean(Y)) ** 2));

    const all = reflectances(dark, flares, PROFILE);
    expect(all.steps[0].reflectance[1]).toBeCloseTo(mean(Y), 10);
    expect(all.covarianceY.tone[0][0]).toBeCloseTo(within + between, 10);
    expect(between / within).toBeGreaterThan(0.01);
  });
});
