import { confidenceOf, stripDoubts } from './confidence.ts';
import type { FlatQuad } from './flatQuads.ts';
import type { FoundStrip } from './foundStrip.ts';
import { unitSquareTo } from './homography.ts';
import { signedArea } from './quadGeometry.ts';
import { sampleTone, type Tint } from './sampleTone.ts';
import { fitScraps } from './scraps.ts';
import type { StripLook } from './singlePatch.ts';
import { stripFrames } from './stripFrames.ts';
import { fitSteps, promiseOf, type StripFit } from './stripSteps.ts';
import type { ToneField } from './toneField.ts';

const framesRead = 30;
const framesCut = 4;
/** A band that is set off from its flanks over less than this share of its length is no strip. */
const leastBounded = 0.35;
/** Scraps have no ends to be mistaken, nats. */
const noEnds = 20;
/** Worse than this is no row of scraps. */
const mostScrapMisfit = 4;

/** Where do the steps lie? Undefined where nothing looks like `count` steps of one dye. */
export function findStrip(
  field: ToneField,
  quads: readonly FlatQuad[],
  count: number,
  neutral: Tint,
): FoundStrip | undefined {
  const scraps = findScraps(field, quads, count, neutral);
  if (scraps && scraps.seenShare === 1 && scraps.irregularity < 0.5 && scraps.leftOver === 0) return scraps;
  const whole = findWholeStrip(field, quads, count, neutral);
  if (!scraps || !whole) return scraps ?? whole;
  return confidenceOf(stripDoubts(scraps)) > confidenceOf(stripDoubts(whole)) ? scraps : whole;
}

function findScraps(
  field: ToneField,
  quads: readonly FlatQuad[],
  count: number,
  neutral: Tint,
): FoundStrip | undefined {
  const best = fitScraps(field, quads, count, neutral)[0];
  if (!best || best.misfit > mostScrapMisfit) return undefined;
  return {
    steps: best.steps,
    pieces: 'scraps',
    directionGap: best.directionGap,
    endGap: noEnds,
    seenShare: best.seen / count,
    bounded: 1,
    toneRange: best.toneRange,
    irregularity: best.misfit - 1.5 * best.leftOver,
    countGaps: [noEnds, noEnds],
    leftOver: best.leftOver,
  };
}

function findWholeStrip(
  field: ToneField,
  quads: readonly FlatQuad[],
  count: number,
  neutral: Tint,
): FoundStrip | undefined {
  const best = stripFrames(field, quads)
    .slice(0, framesRead)
    .map((frame) => ({ frame, promise: promiseOf(field, frame) }))
    .sort((a, b) => b.promise - a.promise)
    .slice(0, framesCut)
    .map(({ frame }) => fitSteps(field, frame, count, neutral))
    .filter((fit) => fit !== undefined)
    .sort((a, b) => merit(b) - merit(a))[0];
  if (!best || best.bounded < leastBounded) return undefined;
  return {
    steps: best.steps,
    pieces: 'one',
    directionGap: best.directionGap,
    endGap: best.endGap(),
    seenShare: count > 1 ? best.visibleBorders / (count - 1) : 1,
    bounded: best.bounded,
    toneRange: best.toneRange,
    irregularity: best.widthSpread,
    countGaps: best.countGaps(),
    leftOver: 0,
  };
}

/** How much a cut band is worth against another: large, set off, dyed, and most of its steps to be seen. */
function merit(fit: StripFit): number {
  const area = fit.steps.reduce((sum, quad) => sum + Math.abs(signedArea(quad)), 0);
  const seen = (fit.visibleBorders + 1) / fit.steps.length;
  return area ** 0.45 * Math.min(0.6, fit.toneRange) * seen * fit.bounded ** 2;
}

/** What the strip tells about the photo's lightness: its lightest step and how large a step is. */
export function lookOf(field: ToneField, strip: FoundStrip): StripLook | undefined {
  const square = unitSquareTo(strip.steps[0]);
  const tone = square ? sampleTone(field, square, 0.2, 0.8, 0.2, 0.8) : undefined;
  return tone ? { lightest: tone.light, stepAreaPx: Math.abs(signedArea(strip.steps[0])) } : undefined;
}
