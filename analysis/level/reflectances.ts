import type { Rgb, RgbProfile } from '../photo/photo.ts';
import type { PatchMean } from '../tiles/robustMean.ts';
import type { Field, Place } from './field.ts';
import { dot } from './fieldBasis.ts';
import type { Levelled, LevelledStep } from './levelled.ts';
import { logOfRgb } from './sceneLogs.ts';
import type { Recorded, ToneCurve } from './toneCurve.ts';

/** A tone curve and the table light fitted together with it, for one assumed flare. */
export interface LitTone {
  readonly tone: ToneCurve;
  readonly field: Field;
  /** Centres of the card patches that the tone was fitted to. */
  readonly cardPlaces: readonly Place[];
}

type MeanStep = { readonly seconds: number; readonly mean: PatchMean };

const placeOf = ({ mean }: { readonly mean: PatchMean }): Place => [mean.x, mean.y];

const CHANNELS = [0, 1, 2] as const;

const square = (n: number): number[][] => Array.from({ length: n }, () => new Array<number>(n).fill(0));

/** Covariances of ln light that is not known, at the card's patches and the steps. */
interface OpenLight {
  readonly betweenCards: readonly (readonly number[])[];
  /** Steps × card patches. */
  readonly cardToStep: readonly (readonly number[])[];
  readonly betweenSteps: readonly (readonly number[])[];
}

const openLight = (
  covariance: Field['covariance'],
  cards: readonly Place[],
  steps: readonly Place[],
): OpenLight => ({
  betweenCards: cards.map((a) => cards.map((b) => covariance(a, b))),
  cardToStep: steps.map((s) => cards.map((p) => covariance(p, s))),
  betweenSteps: steps.map((a) => steps.map((b) => covariance(a, b))),
});

/** Reflectance and covariances of Y under one assumed flare. */
const underOne = (
  steps: readonly MeanStep[],
  { tone, field, cardPlaces }: LitTone,
  open: { readonly all: OpenLight; readonly slant: OpenLight },
  weightsY: Rgb,
) => {
  const values = steps.flatMap(({ mean }) => {
    const logs = logOfRgb(mean.rgb);
    return CHANNELS.map((channel): Recorded => ({ log: logs[channel], channel }));
  });
  const answer = tone.read(values);
  const light = steps.map(({ mean }) => field.logLight(mean.x, mean.y).map(Math.exp));
  const reflectance = steps.map((_, j): Rgb => {
    const of = (c: 0 | 1 | 2) => (Math.exp(answer.logs[3 * j + c]) - tone.flare) / light[j][c];
    return [of(0), of(1), of(2)];
  });
  /** dY / d ln(scene light) per step and channel. */
  const slope = steps.map((_, j) =>
    CHANNELS.map((c) => (weightsY[c] * Math.exp(answer.logs[3 * j + c])) / light[j][c]),
  );
  const Y = reflectance.map((r) => weightsY[0] * r[0] + weightsY[1] * r[1] + weightsY[2] * r[2]);
  const propagate = (covariance: readonly (readonly number[])[]) =>
    steps.map((_, i) =>
      steps.map((_, j) => {
        let sum = 0;
        for (const c of CHANNELS)
          for (const d of CHANNELS) sum += slope[i][c] * slope[j][d] * covariance[3 * i + c][3 * j + d];
        return sum;
      }),
    );
  /** d ln(scene) / d ln(recorded) at each value, for carrying a step's own noise through the tone curve. */
  const nudged = tone.logsAt(values.map((v) => ({ ...v, log: v.log + 0.02 })));
  const step = steps.map(({ mean }, j) => {
    // Channels of one tile brighten and darken together: their errors add, they do not average.
    const sum = CHANNELS.reduce<number>(
      (s, c) => s + slope[j][c] * ((nudged[3 * j + c] - answer.logs[3 * j + c]) / 0.02) * mean.relativeSe[c],
      0,
    );
    return sum * sum;
  });
  const card = propagate(answer.cardCovariance);
  const total = propagate(answer.covariance);

  // An error of light at the card enters through the tone curve, one at the step directly; they hang together.
  const viaCard = steps.map((_, j) =>
    cardPlaces.map((_, p) =>
      CHANNELS.reduce<number>((s, c) => s + slope[j][c] * answer.lightWeights[3 * j + c][p], 0),
    ),
  );
  const ofLight = ({ betweenCards, cardToStep, betweenSteps }: OpenLight) => {
    const card = steps.map((_, i) =>
      steps.map((_, j) => viaCard[i].reduce((s, w, p) => s + w * dot(betweenCards[p], viaCard[j]), 0)),
    );
    const both = steps.map((_, i) =>
      steps.map(
        (_, j) =>
          card[i][j] -
          Y[j] * dot(viaCard[i], cardToStep[j]) -
          Y[i] * dot(viaCard[j], cardToStep[i]) +
          Y[i] * Y[j] * betweenSteps[i][j],
      ),
    );
    return { card, both };
  };
  const { card: cardLight, both: illumination } = ofLight(open.all);
  const slant = ofLight(open.slant).both;
  const toneOnly = total.map((row, i) => row.map((v, j) => v - card[i][j] - cardLight[i][j]));
  return { reflectance, Y, step, card, tone: toneOnly, illumination, slant };
};

/**
 * Reflectance of every step, averaged over the flares that the card allows, and the covariance of Y by source.
 *
 * @param candidates tone and table light, one pair per flare tried.
 */
export const reflectances = (
  steps: readonly MeanStep[],
  candidates: readonly LitTone[],
  profile: RgbProfile,
): Pick<Levelled, 'steps' | 'covarianceY' | 'slantCovarianceY'> => {
  const weightsY: Rgb = [profile.toXyz65[3], profile.toXyz65[4], profile.toXyz65[5]];
  const n = steps.length;
  const tones = candidates.map((c) => c.tone);
  const best = Math.max(...tones.map((t) => t.logEvidence));
  // Flares are not evenly spaced: each stands for the stretch half-way to its neighbours.
  const stretch = tones.map((t, i) =>
    tones.length === 1 ? 1 : ((tones[i + 1]?.flare ?? t.flare) - (tones[i - 1]?.flare ?? t.flare)) / 2,
  );
  const raw = tones.map((t, i) => Math.exp(t.logEvidence - best) * stretch[i]);
  const total = raw.reduce((s, v) => s + v, 0);
  const used = candidates.flatMap((c, i) =>
    raw[i] / total > 1e-3 ? [{ ...c, weight: raw[i] / total }] : [],
  );
  const places = steps.map(placeOf);
  // Light fields of one photo share what they leave open, whatever the flare.
  const known = new Map<Field['covariance'], { readonly all: OpenLight; readonly slant: OpenLight }>();
  const openUnder = ({ field, cardPlaces }: LitTone) => {
    const open = known.get(field.covariance) ?? {
      all: openLight(field.covariance, cardPlaces, places),
      slant: openLight(field.slantCovariance, cardPlaces, places),
    };
    known.set(field.covariance, open);
    return open;
  };
  const parts = used.map((c) => ({ weight: c.weight, ...underOne(steps, c, openUnder(c), weightsY) }));
  const sumWeight = parts.reduce((s, p) => s + p.weight, 0);
  const averaged = (pick: (p: (typeof parts)[number]) => number) =>
    parts.reduce((s, p) => s + p.weight * pick(p), 0) / sumWeight;

  const Y = steps.map((_, j) => averaged((p) => p.Y[j]));
  const covarianceY = { step: square(n), card: square(n), illumination: square(n), tone: square(n) };
  const slantCovarianceY = square(n);
  for (let i = 0; i < n; i++) {
    covarianceY.step[i][i] = averaged((p) => p.step[i]);
    for (let j = 0; j < n; j++) {
      slantCovarianceY[i][j] = averaged((p) => p.slant[i][j]);
      covarianceY.card[i][j] = averaged((p) => p.card[i][j]);
      covarianceY.tone[i][j] =
        averaged((p) => p.tone[i][j]) + averaged((p) => (p.Y[i] - Y[i]) * (p.Y[j] - Y[j]));
      covarianceY.illumination[i][j] = averaged((p) => p.illumination[i][j]);
    }
  }
  return {
    steps: steps.map(
      (s, j): LevelledStep => ({
        ...s,
        reflectance: [0, 1, 2].map((c) => averaged((p) => p.reflectance[j][c])) as unknown as Rgb,
      }),
    ),
    covarianceY,
    slantCovarianceY,
  };
};
