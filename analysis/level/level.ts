import type { Warning } from '../errors.ts';
import type { Rgb, RgbProfile } from '../photo/photo.ts';
import { robustMean } from '../tiles/robustMean.ts';
import type { Tiled, TiledPatch } from '../tiles/tile.ts';
import type { Strip } from './card.ts';
import { type CardCheck, checkCard, type UsablePatch } from './cardCheck.ts';
import { type Field, type FieldSample, fitField } from './field.ts';
import type { Illumination, Levelled } from './levelled.ts';
import { reflectances } from './reflectances.ts';
import {
  type FieldResidual,
  fieldResidual,
  type SurroundSurface,
  surroundSamples,
  surroundSurface,
  type ToSceneLogs,
} from './surroundField.ts';
import { fitToneCurve, type ToneCurve, type ToneSample } from './toneCurve.ts';
import { toneReport } from './toneReport.ts';

/** Shares of perfect white tried as flare. */
const FLARES = [0, 0.002, 0.004, 0.007, 0.01, 0.014, 0.02, 0.028, 0.04, 0.056];
const ROUNDS = 3;
const asRecorded: ToSceneLogs = (recorded) => recorded;
const log3 = (rgb: Rgb): [number, number, number] => [
  Math.log(Math.max(rgb[0], 1e-5)),
  Math.log(Math.max(rgb[1], 1e-5)),
  Math.log(Math.max(rgb[2], 1e-5)),
];

/** The field with its residual: surround where there is one, tiles within the marks otherwise. */
interface Lit {
  readonly field: Field;
  readonly residual: FieldResidual | null;
}

const surroundLit = (tiled: Tiled, surface: SurroundSurface, toScene: ToSceneLogs, anchor: readonly [number, number]): Lit => {
  const cellPx = Math.max(tiled.widthPx, tiled.heightPx) / 56;
  let samples: FieldSample[] = surroundSamples(surface, toScene, 0.02);
  let field = fitField(tiled.widthPx, tiled.heightPx, samples, anchor);
  let residual = fieldResidual(samples, field.logLight, cellPx);
  for (let round = 0; round < 3; round++) {
    // A cell's own error averages out over cells; the part that neighbours share does not.
    const sd = Math.hypot(residual.sd * 1.5, residual.sharedSd * 4);
    samples = surroundSamples(surface, toScene, sd).map((s, i) => ({
      ...s,
      sd: s.sd / Math.sqrt(Math.max(residual.weights[i], 1e-6)),
    }));
    field = fitField(tiled.widthPx, tiled.heightPx, samples, anchor);
    residual = fieldResidual(samples, field.logLight, cellPx);
  }
  return { field, residual };
};

const withinLit = (tiled: Tiled, toScene: ToSceneLogs, anchor: readonly [number, number]): Lit => {
  const samples = [...tiled.card, ...tiled.steps].flatMap((patch, group) => {
    const logs = patch.tiles.map((t) => toScene(log3(t.rgb)));
    const mean = logs.reduce((s, l) => s + l[1], 0) / logs.length;
    const sd = Math.sqrt(logs.reduce((s, l) => s + (l[1] - mean) ** 2, 0) / Math.max(1, logs.length - 1));
    // Dye and cloth vary over a step as light does, so a tile's spread counts threefold.
    return patch.tiles.map((t, i) => ({ x: t.x, y: t.y, logs: logs[i], group, sd: 3 * Math.max(sd, 0.01) }));
  });
  return { field: fitField(tiled.widthPx, tiled.heightPx, samples, anchor), residual: null };
};

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
  surface: SurroundSurface | { readonly reason: string },
  lit: Lit,
  places: readonly (readonly [number, number])[],
): Illumination => {
  const logs = places.map(([x, y]) => lit.field.logLight(x, y)[1]);
  const relativeU = Math.sqrt(Math.max(...places.map((p) => lit.field.covariance(p, p))));
  const fallOffRatio = Math.exp(Math.max(...logs) - Math.min(...logs));
  if ('cells' in surface)
    return {
      method: 'surround',
      accepted: true,
      reason: `the table around card and strip is one surface (${surface.cells.length} cells, ${(100 * (lit.residual?.sd ?? 0)).toFixed(1)} % rough)`,
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
  const litBy = (toScene: ToSceneLogs, anchor: readonly [number, number]): Lit =>
    'cells' in surface ? surroundLit(tiled, surface, toScene, anchor) : withinLit(tiled, toScene, anchor);

  const cardCentre = centreOf(tiled.card.flatMap((p) => p.tiles));
  let lit = litBy(asRecorded, cardCentre);
  const evenness = lit.field.logLight;
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

  let samples = toneSamples(card.usable, lit.field);
  let tones = FLARES.map((flare) => fitToneCurve(samples, flare));
  for (let round = 0; round < ROUNDS; round++) {
    lit = litBy(sceneLogsBy(likeliest(tones)), cardCentre);
    samples = toneSamples(card.usable, lit.field);
    tones = FLARES.map((flare) => fitToneCurve(samples, flare));
  }

  const places = steps.map((s) => [s.mean.x, s.mean.y] as const);
  const { steps: read, covarianceY } = reflectances(steps, tones, lit.field, profile);
  const illumination = illuminationOf(surface, lit, [...places, ...card.usable.map((u) => [u.mean.x, u.mean.y] as const)]);
  const warnings: Warning[] = [];
  if (!illumination.accepted)
    warnings.push({
      code: 'light-not-evened',
      message: `The table light could not be evened out well: ${illumination.reason}. Lay card and strip on a plain board that fills the photo.`,
    });
  for (const r of card.refused)
    warnings.push({ code: 'card-patch-refused', message: `Card patch "${r.name}" was left out: ${r.reason}.` });
  const tone = toneReport(samples, likeliest(tones), card.refused);
  if (tone.relative)
    warnings.push({
      code: 'relative',
      message:
        'With a single usable card patch the camera’s tone is not known: lightness values are relative and their uncertainty is wide. A card with white, grey and black is better.',
    });
  return { steps: read, covarianceY, illumination, tone, warnings };
};
