import { applyMatrix3 } from '../colour/matrix3.ts';
import { AnalysisError, type Warning } from '../errors.ts';
import type { RgbProfile } from '../photo/photo.ts';
import { phrase } from '../phrases.ts';
import { robustMean } from '../tiles/robustMean.ts';
import type { Tiled, TiledPatch } from '../tiles/tile.ts';
import type { Strip } from './card.ts';
import { checkCard, type UsablePatch } from './cardCheck.ts';
import { CHART_24_COLOURS } from './chart24Colours.ts';
import { fitColourMatrix } from './colourMatrix.ts';
import type { Field } from './field.ts';
import type { Illumination, Levelled, LevelledStep, Tone } from './levelled.ts';
import { type LitTone, reflectances } from './reflectances.ts';
import { logOfRgb, type ToSceneLogs } from './sceneLogs.ts';
import { describeLight, lightField, lightSources, settleLight } from './tableLight.ts';
import { fitToneCurve, type ToneCurve, type ToneSample } from './toneCurve.ts';
import { toneReport } from './toneReport.ts';

/** Shares of perfect white tried as flare. */
const FLARES = [0, 0.002, 0.004, 0.007, 0.01, 0.014, 0.02, 0.028, 0.04, 0.056];
const ROUNDS = 2;
const asRecorded: ToSceneLogs = (recorded) => recorded;

const centreOf = (patches: readonly { readonly x: number; readonly y: number }[]): [number, number] => [
  patches.reduce((s, p) => s + p.x, 0) / patches.length,
  patches.reduce((s, p) => s + p.y, 0) / patches.length,
];

const toneSamples = (usable: readonly UsablePatch[], field: Field): ToneSample[] =>
  usable.map(({ patch, mean }) => {
    const [r, g, b] = field.logLight(mean.x, mean.y).map(Math.exp);
    return {
      name: patch.name,
      light: [patch.Y * r, patch.Y * g, patch.Y * b],
      recordedLog: logOfRgb(mean.rgb),
      knownU: patch.relativeU,
      recordedU: Math.max(...mean.relativeSe, 0.001),
    };
  });

const likeliest = (tones: readonly ToneCurve[]): ToneCurve =>
  tones.reduce((best, t) => (t.logEvidence > best.logEvidence ? t : best));

const sceneLogsBy = (tone: ToneCurve): ToSceneLogs => {
  const free = (log: number, channel: 0 | 1 | 2): number =>
    Math.log(Math.max(Math.exp(tone.logAt(log, channel)) - tone.flare, 1e-4));
  return ([red, green, blue]) => [free(red, 0), free(green, 1), free(blue, 2)];
};

const warningsOf = (illumination: Illumination, tone: Tone): Warning[] => {
  const warnings: Warning[] = [];
  if (!illumination.accepted)
    warnings.push({
      code: 'light-not-evened',
      message: `The table light could not be evened out well: ${illumination.reason}. Lay card and strip on a plain board that fills the photo.`,
      ...(illumination.phrase && {
        phrase: phrase('light-not-evened', { reason: illumination.phrase }),
      }),
    });
  for (const refused of tone.patchesRefused)
    warnings.push({
      code: 'card-patch-refused',
      message: `Card patch "${refused.name}" was left out: ${refused.reason}.`,
      ...(refused.phrase && {
        phrase: phrase('patch-left-out', { patch: refused.name, reason: refused.phrase }),
      }),
    });
  if (tone.relative)
    warnings.push({
      code: 'relative',
      message:
        'The usable card patches are of one lightness, so the camera’s tone is not known: lightness values are relative and their uncertainty is wide. A card with white, grey and black is better.',
      phrase: phrase('one-lightness', {}),
    });
  return warnings;
};

/** Lightest that a cloth can seem, brighteners and uneven light included, as a share of perfect white. */
const LIGHTEST_Y = 1.3;

/** @throws AnalysisError `card-unusable` where the card makes a step lighter than anything is, beyond its uncertainty. */
const refuseImpossible = (
  { steps, covarianceY }: Pick<Levelled, 'steps' | 'covarianceY'>,
  profile: RgbProfile,
): void => {
  steps.forEach((step, i) => {
    const Y = applyMatrix3(profile.toXyz65, step.reflectance)[1];
    const variance = Object.values(covarianceY).reduce((s, part) => s + part[i][i], 0);
    if (!(Y <= LIGHTEST_Y + 2 * Math.sqrt(Math.max(0, variance))))
      throw new AnalysisError(
        'card-unusable',
        `By this card the step of ${step.seconds} s would be far lighter than white. Check that the marks lie on the card, that it is the card described, and its values; look for a shadow on it.`,
        { phrase: phrase('card-beyond-white', { seconds: step.seconds }) },
      );
  });
};

/**
 * Takes table light, white balance and the camera's tone out: recorded light → reflectance.
 *
 * Light field and tone depend on each other, since a tone curve stretches the fall-off too; they are fitted in turn.
 *
 * @param tiled what was measured from the pixels. @param strip its card. @param profile of the photo.
 * @param seed of the search for the surround.
 * @throws AnalysisError `card-unusable`, `marks-invalid`.
 */
export const level = (tiled: Tiled, strip: Strip, profile: RgbProfile, seed: number): Levelled => {
  const anchor = centreOf(tiled.card.flatMap((p) => p.tiles));
  const sources = lightSources(tiled, seed);
  const first = lightField(settleLight(tiled, sources, asRecorded, false, anchor), asRecorded);

  const meanOf = (patch: TiledPatch) => {
    const at = first.logLight(...centreOf(patch.tiles));
    return robustMean(patch, (x, y) => {
      const here = first.logLight(x, y);
      return [Math.exp(here[0] - at[0]), Math.exp(here[1] - at[1]), Math.exp(here[2] - at[2])];
    });
  };
  const steps = tiled.steps.map((p) => ({ seconds: p.seconds, mean: meanOf(p) }));
  const patches = tiled.card.map((p) => ({ name: p.name, mean: meanOf(p) }));
  const card = checkCard(strip.card, patches, (x, y) => Math.exp(first.logLight(x, y)[1]));

  const cardPlaces = card.usable.map(({ mean }) => [mean.x, mean.y] as const);
  const openAtCard = ({ covariance }: Pick<Field, 'covariance'>) =>
    cardPlaces.map((a) => cardPlaces.map((b) => covariance(a, b)));
  const openAtFirst = openAtCard(first);
  const likeliestTone = (field: Field) => {
    const samples = toneSamples(card.usable, field);
    const open = openAtCard(field);
    return likeliest(FLARES.map((flare) => fitToneCurve(samples, flare, open)));
  };

  const roughScene = sceneLogsBy(likeliestTone(first));
  const roughLight = lightField(settleLight(tiled, sources, roughScene, false, anchor), roughScene);
  const settled = settleLight(tiled, sources, sceneLogsBy(likeliestTone(roughLight)), true, anchor);
  // Flare changes what a dark table tells of the light, so each flare gets a light field of its own.
  const open = openAtCard(settled.field);
  const toneUnder = (field: Field, flare: number) =>
    fitToneCurve(toneSamples(card.usable, field), flare, open);
  const candidates = FLARES.map((flare): LitTone => {
    let field = first;
    let tone = fitToneCurve(toneSamples(card.usable, first), flare, openAtFirst);
    for (let round = 0; round < ROUNDS; round++) {
      field = lightField(settled, sceneLogsBy(tone));
      tone = toneUnder(field, flare);
    }
    return { tone, field, cardPlaces };
  });
  const best = candidates.reduce((b, c) => (c.tone.logEvidence > b.tone.logEvidence ? c : b));

  const { steps: read, covarianceY, slantCovarianceY } = reflectances(steps, candidates, profile);
  refuseImpossible({ steps: read, covarianceY }, profile);
  const colours = patches.flatMap(({ name, mean }) => {
    const xyz = strip.card.kind === 'chart-24' ? CHART_24_COLOURS.get(name) : undefined;
    return xyz ? [{ name, xyz, seconds: 0, mean }] : [];
  });
  const levelledColours = reflectances(colours, [best], profile).steps;
  const colour = fitColourMatrix(
    colours.map(({ name, xyz }, i) => ({ name, xyz, reflectance: levelledColours[i].reflectance })),
    profile,
  );
  const corrected = (steps: readonly LevelledStep[]): readonly LevelledStep[] =>
    colour?.applied
      ? steps.map((s) => ({ ...s, reflectance: applyMatrix3(colour.matrix, s.reflectance) }))
      : steps;
  const swatch = tiled.swatch
    ? corrected(reflectances([{ seconds: 0, mean: meanOf(tiled.swatch) }], [best], profile).steps)[0]
        .reflectance
    : null;
  const stepPlaces = steps.map((s) => [s.mean.x, s.mean.y] as const);
  const illumination = describeLight(settled, best.field, [...stepPlaces, ...cardPlaces]);
  const tone = toneReport(toneSamples(card.usable, best.field), best.tone, card);
  return {
    steps: corrected(read),
    swatch,
    covarianceY,
    // Where the table told of the light, what is left open is the table's own pattern, which may turn with the strip.
    slantCovarianceY: illumination.accepted
      ? slantCovarianceY.map((row) => row.map(() => 0))
      : slantCovarianceY,
    illumination,
    tone,
    colour,
    warnings: warningsOf(illumination, tone),
  };
};
