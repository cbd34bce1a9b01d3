import { performance } from 'node:perf_hooks';
import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import type { Reading } from '../../analysis/reading.ts';
import { type RenderedScene, renderScene } from '../../fixtures/render.ts';
import { type SampleOptions, sampleScene } from '../../fixtures/sample.ts';
import { type ExposureParts, exposureParts, type FullResult, fullDepth } from './exposureParts.ts';
import { eyedropperL, greyScaledL, lineScaledL, middleOf } from './naive.ts';

/** One rendered photo read with its true marks, beside what naive methods make of it. Plain data. */
export interface Measured {
  readonly card: string;
  readonly surround: string;
  readonly seed: number;
  /** Read minus true L* per step, and the stated standard uncertainty. */
  readonly errors: readonly number[];
  readonly u: readonly number[];
  readonly eyedropper: readonly number[];
  readonly greyScaled: readonly number[];
  readonly lineScaled: readonly number[];
  readonly illumination: string;
  /** Exposure for a target inside the strip; null where the strip has none to ask for. */
  readonly exposure: ExposureResult | null;
  /** Exposure for full depth; null where no time is given. */
  readonly full: FullResult | null;
  readonly readMs: number;
}

export interface ExposureResult {
  readonly targetL: number;
  readonly trueSeconds: number;
  readonly status: Reading['advice']['status'];
  /** Errors in stops; null where a method gives no time. */
  readonly advised: number | null;
  readonly inInterval: boolean | null;
  readonly widthStops: number | null;
  readonly nearestStep: number | null;
  readonly lineInterpolated: number | null;
  readonly parts: ExposureParts;
}

/** A target L* that lies inside the strip, on the part of the curve where a step of exposure shows. */
const targetInside = (scene: RenderedScene, seed: number): { L: number; seconds: number } | null => {
  const exposed = scene.truth.steps.filter((s) => s.seconds > 0);
  if (exposed.length < 3) return null;
  const share = ((seed * 0.618034) % 1) * 0.8 + 0.1;
  const first = Math.log2(exposed[0].seconds);
  const last = Math.log2(exposed[exposed.length - 1].seconds);
  const seconds = 2 ** (first + share * (last - first));
  const L = scene.truth.lightnessAt(seconds);
  const perStop = Math.abs(scene.truth.lightnessAt(seconds * 1.41) - scene.truth.lightnessAt(seconds / 1.41));
  // Where a stop changes less than 2 L*, no method and no eye can tell exposures apart.
  return perStop < 2 ? null : { L, seconds };
};

const stops = (seconds: number | null, truth: number): number | null =>
  seconds !== null && seconds > 0 ? Math.log2(seconds / truth) : null;

/** Straight lines in log exposure between the steps' L*. */
const interpolated = (points: readonly { seconds: number; L: number }[], L: number): number | null => {
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]];
    if (a.seconds === 0 || (a.L - L) * (b.L - L) > 0 || a.L === b.L) continue;
    const t = (a.L - L) / (a.L - b.L);
    return 2 ** (Math.log2(a.seconds) + t * (Math.log2(b.seconds) - Math.log2(a.seconds)));
  }
  return null;
};

export const measure = async (
  seed: number,
  options: SampleOptions & {
    readonly card: NonNullable<SampleOptions['card']>;
    readonly surround: NonNullable<SampleOptions['surround']>;
  },
): Promise<Measured> => {
  const scene = await renderScene(sampleScene(seed, options));
  const strip = parseStrip(scene.strip);
  const marks = parseMarks(scene.marks);
  const inside = targetInside(scene, seed);
  const start = performance.now();
  const reading = await readStrip(scene.bytes, strip, {
    marks,
    ...(inside && { target: { kind: 'L' as const, L: inside.L } }),
  });
  const readMs = performance.now() - start;

  const photo = await decodePhoto(scene.bytes);
  const truth = scene.truth.steps;
  const middles = scene.marks.steps.map((s) => middleOf(photo, s.quad));
  const known = new Map(strip.card.patches.map((p) => [p.name, p.Y]));
  const patches = scene.marks.card.flatMap((p) => {
    const Y = known.get(p.name);
    return Y === undefined ? [] : [{ rgb: middleOf(photo, p.quad), Y }];
  });
  const grey = patches.reduce((best, p) =>
    Math.abs(Math.log(p.Y / 0.18)) < Math.abs(Math.log(best.Y / 0.18)) ? p : best,
  );
  const lineL = middles.map((m) =>
    patches.length > 1 ? lineScaledL(m, patches) : greyScaledL(m, grey.rgb, grey.Y),
  );

  const { advice } = reading;
  const nearest = inside
    ? truth
        .filter((s) => s.seconds > 0)
        .reduce((b, s) => (Math.abs(s.L - inside.L) < Math.abs(b.L - inside.L) ? s : b)).seconds
    : null;
  const minusTruth = (values: readonly number[]) => values.map((v, i) => v - truth[i].L);
  return {
    card: options.card,
    surround: options.surround,
    seed,
    errors: minusTruth(reading.steps.map((s) => s.L)),
    u: reading.steps.map((s) => s.uL),
    eyedropper: minusTruth(middles.map(eyedropperL)),
    greyScaled: minusTruth(middles.map((m) => greyScaledL(m, grey.rgb, grey.Y))),
    lineScaled: minusTruth(lineL),
    illumination: reading.illumination.method,
    exposure: inside && {
      targetL: inside.L,
      trueSeconds: inside.seconds,
      status: advice.status,
      advised: stops(advice.seconds, inside.seconds),
      inInterval:
        advice.low === null || advice.high === null
          ? null
          : advice.low <= inside.seconds && (inside.seconds <= advice.high || advice.highOpen),
      widthStops: advice.low === null || advice.high === null ? null : Math.log2(advice.high / advice.low),
      nearestStep: stops(nearest, inside.seconds),
      lineInterpolated: stops(
        interpolated(
          truth.map((s, i) => ({ seconds: s.seconds, L: lineL[i] })),
          inside.L,
        ),
        inside.seconds,
      ),
      parts: exposureParts(reading, scene, inside, seed),
    },
    full: fullDepth(reading, scene),
    readMs,
  };
};
