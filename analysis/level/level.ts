import type { Warning } from '../errors.ts';
import type { Rgb, RgbProfile } from '../photo/photo.ts';
import { robustMean } from '../tiles/robustMean.ts';
import type { SurroundCell, Tiled, TiledPatch } from '../tiles/tile.ts';
import type { Strip } from './card.ts';
import { type CardCheck, checkCard, type UsablePatch } from './cardCheck.ts';
import { type Field, type FieldGroup, fitField, type SurfaceNoise } from './field.ts';
import type { Illumination, Levelled } from './levelled.ts';
import { type LitTone, reflectances } from './reflectances.ts';
import { settleSurface, surroundGroup, surroundSurface, type ToSceneLogs } from './surroundField.ts';
import { fitToneCurve, type ToneCurve, type ToneSample } from './toneCurve.ts';
import { toneReport } from './toneReport.ts';

/** Shares of perfect white tried as flare. */
const FLARES = [0, 0.002, 0.004, 0.007, 0.01, 0.014, 0.02, 0.028, 0.04, 0.056];
const ROUNDS = 2;
/** Relative uncertainty of the light in a step beyond which the reader is warned. */
const WELL_EVENED = 0.05;

type Settled = { readonly cells: readonly SurroundCell[]; readonly noise: SurfaceNoise };

const asRecorded: ToSceneLogs = (recorded) => recorded;
const log3 = (rgb: Rgb): [number, number, number] => [
  Math.log(Math.max(rgb[0], 1e-5)),
  Math.log(Math.max(rgb[1], 1e-5)),
  Math.log(Math.max(rgb[2], 1e-5)),
];

/** Tiles within each mark: dye and cloth vary over a step as light does, so a tile's spread counts threefold. */
const withinGroups = (tiled: Tiled, toScene: ToSceneLogs): FieldGroup[] =>
  [...tiled.card, ...tiled.steps].map((patch) => {
    const samples = patch.tiles.map((t) => ({ x: t.x, y: t.y, logs: toScene(log3(t.rgb)) }));
    const mean = samples.reduce((s, l) => s + l.logs[1], 0) / samples.length;
    const sd = Math.sqrt(
      samples.reduce((s, l) => s + (l.logs[1] - mean) ** 2, 0) / Math.max(1, samples.length - 1),
    );
    return { samples, noise: { sd: 3 * Math.max(sd, 0.01), length: 0, ownShare: 1, grain: null } };
  });

const centreOf = (patches: readonly { readonly x: number; readonly y: number }[]): [number, number] => [
  patches.reduce((s, p) => s + p.x, 0) / patches.length,
  patches.reduce((s, p) => s + p.y, 0) / patches.length,
];

const toneSamples = (usable: readonly UsablePatch[], field: Field): ToneSample[] =>
  usable.map(({ patch, mean }) => {
    const light = field.logLight(mean.x, mean.y);
    return {
      name: patch.name,
      light: [patch.Y * Math.exp(light[0]), patch.Y * Math.exp(light[1]), patch.Y * Math.exp(light[2])],
      recordedLog: log3(mean.rgb),
      knownU: patch.relativeU,
      recordedU: Math.max(...mean.relativeSe, 0.001),
    };
  });

const likeliest = (tones: readonly ToneCurve[]): ToneCurve =>
  tones.reduce((best, t) => (t.logEvidence > best.logEvidence ? t : best));

const sceneLogsBy =
  (tone: ToneCurve): ToSceneLogs =>
  (recorded) => {
    const logs = tone.logsAt(recorded.map((log, channel) => ({ log, channel: channel as 0 | 1 | 2 })));
    const free = (i: number) => Math.log(Math.max(Math.exp(logs[i]) - tone.flare, 1e-4));
    return [free(0), free(1), free(2)];
  };

const illuminationOf = (
  surface: Settled | { readonly reason: string },
  field: Field,
  places: readonly (readonly [number, number])[],
): Illumination => {
  const logs = places.map(([x, y]) => field.logLight(x, y)[1]);
  const relativeU = Math.sqrt(Math.max(...places.map((p) => field.covariance(p, p))));
  const fallOffRatio = Math.exp(Math.max(...logs) - Math.min(...logs));
  if ('cells' in surface)
    return {
      method: 'surround',
      accepted: relativeU < WELL_EVENED,
      reason: `the table around card and strip varies by ${(100 * surface.noise.sd).toFixed(1)} % of itself, which leaves ${(100 * relativeU).toFixed(1)} % open`,
      fallOffRatio,
      relativeU,
    };
  return {
    method: 'within-patches',
    accepted: false,
    reason: `${surface.reason}, so only the change of light within each patch and step could be used`,
    fallOffRatio,
    relativeU,
  };
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
  const surface = surroundSurface(tiled, seed);
  const settledBy = (toScene: ToSceneLogs): Settled | { readonly reason: string } =>
    'cells' in surface ? settleSurface(tiled, surface, toScene) : surface;
  const fieldBy = (settled: Settled | { readonly reason: string }, toScene: ToSceneLogs): Field =>
    fitField(
      tiled.widthPx,
      tiled.heightPx,
      'cells' in settled
        ? [surroundGroup(settled.cells, settled.noise, toScene)]
        : withinGroups(tiled, toScene),
      cardCentre,
    );

  const cardCentre = centreOf(tiled.card.flatMap((p) => p.tiles));
  const first = fieldBy(settledBy(asRecorded), asRecorded);
  const evenness = first.logLight;
  const meanOf = (patch: TiledPatch) => {
    const [cx, cy] = centreOf(patch.tiles);
    const at = evenness(cx, cy);
    return robustMean(patch, (x, y) => {
      const here = evenness(x, y);
      return [Math.exp(here[0] - at[0]), Math.exp(here[1] - at[1]), Math.exp(here[2] - at[2])];
    });
  };
  const card: CardCheck = checkCard(
    strip.card,
    tiled.card.map((p) => ({ name: p.name, mean: meanOf(p) })),
  );
  const steps = tiled.steps.map((p) => ({ seconds: p.seconds, mean: meanOf(p) }));

  const cardPlaces = card.usable.map(({ mean }) => [mean.x, mean.y] as const);
  const toneUnder = (field: Field, flare: number) =>
    fitToneCurve(
      toneSamples(card.usable, field),
      flare,
      cardPlaces.map((a) => cardPlaces.map((b) => field.covariance(a, b))),
    );
  const likeliestTone = (field: Field) => likeliest(FLARES.map((flare) => toneUnder(field, flare)));
  let tone = likeliestTone(first);
  let settled = settledBy(sceneLogsBy(tone));
  tone = likeliestTone(fieldBy(settled, sceneLogsBy(tone)));
  settled = settledBy(sceneLogsBy(tone));
  // Flare changes what a dark table tells of the light, so each flare gets a light field of its own.
  const candidates = FLARES.map((flare): LitTone => {
    let field = first;
    let curve = toneUnder(field, flare);
    for (let round = 0; round < ROUNDS; round++) {
      field = fieldBy(settled, sceneLogsBy(curve));
      curve = toneUnder(field, flare);
    }
    return { tone: curve, field, cardPlaces };
  });
  const best = candidates.reduce((b, c) => (c.tone.logEvidence > b.tone.logEvidence ? c : b));

  const places = steps.map((s) => [s.mean.x, s.mean.y] as const);
  const { steps: read, covarianceY } = reflectances(steps, candidates, profile);
  const illumination = illuminationOf(settled, best.field, [...places, ...cardPlaces]);
  const warnings: Warning[] = [];
  if (!illumination.accepted)
    warnings.push({
      code: 'light-not-evened',
      message: `The table light could not be evened out well: ${illumination.reason}. Lay card and strip on a plain board that fills the photo.`,
    });
  for (const r of card.refused)
    warnings.push({
      code: 'card-patch-refused',
      message: `Card patch "${r.name}" was left out: ${r.reason}.`,
    });
  const report = toneReport(toneSamples(card.usable, best.field), best.tone, card.refused);
  if (report.relative)
    warnings.push({
      code: 'relative',
      message:
        'With a single usable card patch the camera’s tone is not known: lightness values are relative and their uncertainty is wide. A card with white, grey and black is better.',
    });
  return { steps: read, covarianceY, illumination, tone: report, warnings };
};
