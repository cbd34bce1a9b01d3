import { bentAlong, bentPlace } from './bentProfile.ts';
import { type Cutting, cutting, type Profile } from './changePoints.ts';
import { type Homography, patchOf, unitSquareTo } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { paleEnd } from './paleEnd.ts';
import { sideLengths, signedArea } from './quadGeometry.ts';
import { medianOf, type Tint } from './sampleTone.ts';
import type { StripFrame } from './stripFrames.ts';
import { type Along, boundedShare, sampleAlong } from './stripProfile.ts';
import { fitRhythm, type RhythmFit, type RhythmPrior } from './stripRhythm.ts';
import { tightenFrame } from './tightenFrame.ts';
import type { ToneField } from './toneField.ts';

/** A strip found in the photo, steps from light to dark. */
export interface StripFit {
  readonly steps: readonly Quad[];
  /** ln odds of the steps lying here against anywhere else along the band, and of their direction. */
  readonly placeOdds: number;
  readonly directionOdds: number;
  /** ln odds of the count against one step fewer, and one more; costly, so on call. */
  readonly countOdds: () => readonly [fewer: number, more: number];
  /** How surely cloth beside the steps belongs to a step left out, 0..2. */
  readonly unclaimed: number;
  /** Borders between steps that can be seen, of count - 1. */
  readonly visibleBorders: number;
  /** True where the two lightest steps look alike and as much cloth again lies beyond: no saying where they begin. */
  readonly openStart: boolean;
  /** Share of the steps' length that is set off from what lies beside it, 0..1. */
  readonly bounded: number;
  /** Change of tone from the lightest to the darkest step, ln. */
  readonly toneRange: number;
  /** Standard deviation of ln width over the steps. */
  readonly widthSpread: number;
}

/** What is known of the strip before looking. */
export interface StripPrior {
  /** Exposure of each step, rising; only where it is 0, and how it grows, is used. */
  readonly seconds: readonly number[];
  /** What neutral looks like in this photo. */
  readonly neutral: Tint;
  /** Outline of the card in the photo, where it is known. */
  readonly card?: readonly Point[];
}

/** Costs in nats assume independent errors; what cloth really does is this much less certain. */
const temperature = 2;

/** How much a band looks like a strip at first glance: even across, set off from both flanks, changing along. */
export function promiseOf(field: ToneField, frame: StripFrame): number {
  const square = unitSquareTo(frame.quad);
  const grid = square
    ? sampleAlong(field, square, 0.01, 0.99, 1 / 32, { redGreen: 0, blueGreen: 0 })
    : undefined;
  if (!grid) return 0;
  const [along, across] = sideLengths(frame.quad);
  const bounded = boundedShare(grid, 0, grid.flank.length);
  const [light, red, blue] = grid.profile.planes.map((plane) => {
    const sorted = [...plane].sort((a, b) => a - b);
    return sorted[Math.floor(0.93 * sorted.length)] - sorted[Math.floor(0.07 * sorted.length)];
  });
  const range = Math.hypot(light, 0.5 * red, 0.35 * blue);
  return (
    (along * across) ** 0.45 * bounded ** 2 * Math.min(0.5, range + 0.03) * Math.min(3, frame.changes + 1)
  );
}

/** A band laid over the field with its steps, as far as a first look tells. */
interface Rough {
  readonly square: Homography;
  /** Ends of the steps along the band. */
  readonly from: number;
  readonly to: number;
}

/**
 * Cuts a band into the strip's steps: a rough look along the band and beyond its ends, for the steps may be more or
 * fewer than the areas it was joined from; then a close look at what that found.
 */
export function fitSteps(field: ToneField, frame: StripFrame, strip: StripPrior): StripFit | undefined {
  const fits: StripFit[] = [];
  for (const beyond of [false, true]) {
    const rough = roughFit(field, frame, strip, beyond);
    const fit = rough && closeFit(field, rough, strip);
    if (fit) fits.push(fit);
    if (fit && isPlain(fit, strip.seconds.length)) break;
  }
  return fits.sort((a, b) => meritOf(b) - meritOf(a))[0];
}

/** True where the steps lie plainly here: set off from the table, nearly all to be seen, and nowhere else. */
export function isPlain(fit: StripFit, count: number): boolean {
  return placed(fit) > 0.9 && fit.bounded > 0.9 && fit.visibleBorders > 0.7 * (count - 1);
}

/** Chance that the steps lie where this says, and this way round, if the band is the strip. */
function placed(fit: StripFit): number {
  return 1 / ((1 + Math.exp(-fit.placeOdds)) * (1 + Math.exp(-fit.directionOdds)));
}

/** The steps fill the band, margins aside (`beyond` false), or go on beyond its ends. */
function roughFit(
  field: ToneField,
  frame: StripFrame,
  { seconds, neutral }: StripPrior,
  beyond: boolean,
): Rough | undefined {
  const count = seconds.length;
  if (beyond && frame.pieces.length >= count) return undefined;
  const quad = tightenFrame(field, frame.quad);
  const square = unitSquareTo(quad);
  if (!square) return undefined;
  const [length] = sideLengths(quad);
  const longest = (1.15 * Math.max(...frame.pieces)) / length;
  const fills = 1.25 / count;
  const reach = beyond ? Math.min(2, Math.max(0.35, (count - frame.pieces.length + 0.6) * longest)) : 0.4;
  const [least, most] = beyond
    ? [fills, longest]
    : [0.5 / count, Math.max(0.5 / count, Math.min(fills, longest))];
  if (most < least) return undefined;
  const samples = Math.round(Math.min(length / 1.5, 10 * count, 200 / (1 + 2 * reach)));
  const grid = sampleAlong(field, square, -reach, 1 + reach, 1 / samples, neutral);
  if (!grid || grid.profile.planes[0].length < 3 * count) return undefined;
  const pitches = rising(least * samples, most * samples, 1 + 0.4 / count);
  const fit = fitRhythm(cutting(grid.profile), priorOf(count, seconds[0] === 0, pitches), temperature);
  if (!fit) return undefined;
  const { borders } = fit.best;
  return { square, from: grid.start + borders[0] / samples, to: grid.start + borders[count] / samples };
}

/** A close look at a band: read along its length, cut, and all placements weighed. */
interface CloseLook {
  readonly square: Homography;
  /** How much longer the last steps may be than the square says, see `bentPlace`. */
  readonly bend: number;
  readonly grid: Along;
  readonly samples: number;
  readonly cut: Cutting;
  readonly prior: RhythmPrior;
  readonly fit: RhythmFit;
}

/** So many times more a close look moves to where the last one found the steps. */
const mostMoves = 2;
/** Over fewer steps a bend does not add up to much. */
const fewestBent = 6;
const bends = [0, 0.1, -0.1];
/** Cost of a bend, ln odds. */
const bendCost = 0.5;
/** Ends that lie within this share of a step of each other are the same answer. */
const sameEnd = 0.3;

function closeFit(field: ToneField, rough: Rough, strip: StripPrior): StripFit | undefined {
  const count = strip.seconds.length;
  let looks = lookClosely(field, rough, strip);
  for (let move = 0; looks && isCramped(looks[0]) && move < mostMoves; move++)
    looks = lookClosely(field, endsOf(looks[0]), strip) ?? looks;
  if (!looks) return undefined;
  const [look] = looks;
  const { square, grid, fit } = look;
  const { borders, darker } = fit.best;
  const t = borders.map((border) => placeOf(look, border));
  const quads: Quad[] = [];
  for (let k = 0; k < count; k++) quads.push(patchOf(square, t[k], t[k + 1], 0, 1));
  if (darker === -1) quads.reverse();
  const seen = described(grid.profile, borders);
  const pale = paleEnd(grid.profile, fit.best, strip.seconds, fit.lightMargin * fit.best.pitch);
  return {
    steps: quads,
    ...weighed(looks),
    unclaimed: fit.unclaimed,
    countOdds: () => {
      const [fewer, more] = countOdds(looks);
      return [fewer + pale.fewer, more + pale.more];
    },
    bounded: boundedShare(grid, borders[0], borders[count]),
    ...seen,
    openStart: seen.alike[darker === 1 ? 0 : count - 2] === true && fit.lightMargin > 0.8,
  };
}

/** ln odds of the first look's place and direction against all others, over all looks. */
function weighed(looks: readonly CloseLook[]): {
  readonly placeOdds: number;
  readonly directionOdds: number;
} {
  const [first] = looks;
  const [from, to] = [endsOf(first).from, endsOf(first).to];
  const near = (sameEnd * (to - from)) / first.prior.count;
  let here = 0;
  let beside = 0;
  let otherWay = 0;
  for (const look of looks) {
    const weight = Math.exp(evidenceOf(look) - evidenceOf(first));
    const way = sigmoid(look.fit.directionOdds);
    const sameWay = look.fit.best.darker === first.fit.best.darker;
    const ends = endsOf(look);
    const same = sameWay && Math.abs(ends.from - from) < near && Math.abs(ends.to - to) < near;
    const [thisWay, opposite] = sameWay ? [way, 1 - way] : [1 - way, way];
    const placed = sigmoid(look.fit.placeOdds);
    here += same ? weight * thisWay * placed : 0;
    beside += weight * thisWay * (same ? 1 - placed : 1);
    otherWay += weight * opposite;
  }
  return { placeOdds: oddsOf(here, beside), directionOdds: oddsOf(here + beside, otherWay) };
}

const mostOdds = 25;

function oddsOf(one: number, other: number): number {
  return Math.min(mostOdds, Math.log(Math.max(one, 1e-12)) - Math.log(Math.max(other, 1e-12 * one, 1e-300)));
}

function sigmoid(odds: number): number {
  return 1 / (1 + Math.exp(-odds));
}

function evidenceOf({ fit, bend }: CloseLook): number {
  return fit.evidence - (bend === 0 ? 0 : bendCost);
}

/** A border in samples as a place along the band. */
function placeOf({ grid, samples, bend }: CloseLook, border: number): number {
  return bentPlace(grid.start + border / samples, bend);
}

/** The steps that a look found, as what the next one is to look at. */
function endsOf(look: CloseLook): Rough {
  const { borders } = look.fit.best;
  return {
    square: look.square,
    from: placeOf(look, borders[0]),
    to: placeOf(look, borders[borders.length - 1]),
  };
}

/** Looks at a band as it seems and, where it has many steps, as if bent either way; the likeliest first. */
function lookClosely(
  field: ToneField,
  rough: Rough,
  { seconds, neutral }: StripPrior,
): readonly [CloseLook, ...CloseLook[]] | undefined {
  const count = seconds.length;
  const square = unitSquareTo(tightenFrame(field, patchOf(rough.square, rough.from, rough.to, 0, 1)));
  if (!square) return undefined;
  const [length] = sideLengths(patchOf(square, 0, 1, 0, 1));
  const reach = reachOf(count);
  const samples = Math.round(Math.min(length / 1.2, 240 / (1 + 2 * reach)));
  const straight = sampleAlong(field, square, -reach, 1 + reach, 1 / samples, neutral);
  if (!straight || straight.profile.planes[0].length < 3 * count) return undefined;
  const pitches = rising((0.72 * samples) / count, (1.3 * samples) / count, 1 + 0.25 / count);
  const prior = priorOf(count, seconds[0] === 0, pitches);
  const looks: CloseLook[] = [];
  for (const bend of count < fewestBent ? bends.slice(0, 1) : bends) {
    const grid = bend === 0 ? straight : bentAlong(straight, samples, bend);
    const cut = cutting(grid.profile);
    const fit = fitRhythm(cut, prior, temperature);
    if (fit) looks.push({ square, bend, grid, samples, cut, prior, fit });
  }
  const [first, ...others] = looks.sort((a, b) => evidenceOf(b) - evidenceOf(a));
  return first && [first, ...others];
}

/** How far beyond either end of the steps a close look goes, as a share of their length. */
function reachOf(count: number): number {
  return 1.6 / count;
}

/** True where the best placement lies at the edge of what was looked at, in width or in place, though the photo goes on. */
function isCramped({ grid, samples, cut, prior, fit }: CloseLook): boolean {
  const { pitches, count } = prior;
  const { borders, pitch } = fit.best;
  const reach = reachOf(count);
  const [start, end] = [grid.start, grid.start + cut.length / samples];
  return (
    pitch <= pitches[0] ||
    pitch >= pitches[pitches.length - 1] ||
    (borders[0] < 0.9 * pitch && start < -reach + 2 / samples) ||
    (cut.length - borders[count] < 0.9 * pitch && end > 1 + reach - 2 / samples)
  );
}

function priorOf(count: number, hasBase: boolean, pitches: readonly number[]): RhythmPrior {
  return {
    count,
    pitches,
    borderSpread: 0.06,
    outsideCost: 4,
    marginCost: 1,
    reversalCost: 4,
    strangeCost: 6,
    unclaimedCost: 16,
    coincidenceCost: 3,
    hasBase,
  };
}

function rising(from: number, to: number, ratio: number): number[] {
  const result: number[] = [];
  for (let w = from; w <= Math.max(from, to) * 1.001; w *= ratio) result.push(w);
  return result;
}

/** Looks whose weight is less than this beside the first say nothing of the count. */
const leastWeight = 0.05;

function countOdds(looks: readonly CloseLook[]): [number, number] {
  const [first] = looks;
  const { count } = first.prior;
  const likely = looks.filter((look) => Math.exp(evidenceOf(look) - evidenceOf(first)) > leastWeight);
  const joint = (evidences: readonly number[]): number => {
    const most = Math.max(...evidences);
    return most + Math.log(evidences.reduce((sum, evidence) => sum + Math.exp(evidence - most), 0));
  };
  const own = joint(likely.map(evidenceOf));
  const odds = (other: number): number => {
    const evidences = likely.flatMap((look) => {
      const fit = other > 0 ? fitRhythm(look.cut, { ...look.prior, count: other }, temperature) : undefined;
      return fit ? [evidenceOf({ ...look, fit })] : [];
    });
    return evidences.length > 0 ? Math.min(mostOdds, own - joint(evidences)) : mostOdds;
  };
  return [odds(count - 1), odds(count + 1)];
}

/** What the cut steps look like. */
function described(profile: Profile, borders: readonly number[]) {
  const count = borders.length - 1;
  const levels = profile.planes.map((plane) => {
    const values: number[] = [];
    for (let k = 0; k < count; k++) {
      const [a, b] = [borders[k], borders[k + 1]];
      const inner = Math.floor((b - a) * 0.2);
      values.push(medianOf([...plane.subarray(a + inner, Math.max(a + inner + 1, b - inner))]));
    }
    return values;
  });
  const alike = Array.from({ length: count - 1 }, (_, k) => {
    const changes = levels.map((plane, p) => (plane[k + 1] - plane[k]) / Math.max(profile.noise[p], 0.012));
    return Math.hypot(...changes) <= 2;
  });
  const widths = borders.slice(1).map((border, k) => Math.log(border - borders[k]));
  const mean = widths.reduce((s, w) => s + w, 0) / count;
  const end = count - 1;
  return {
    /** For each border between steps: true where it can't be seen. */
    alike,
    visibleBorders: alike.filter((same) => !same).length,
    toneRange: Math.hypot(
      levels[0][0] - levels[0][end],
      0.5 * (levels[1][0] - levels[1][end]),
      0.35 * (levels[2][0] - levels[2][end]),
    ),
    widthSpread: count < 2 ? 0 : Math.sqrt(widths.reduce((s, w) => s + (w - mean) ** 2, 0) / (count - 1)),
  };
}

/** How much a cut band is worth against another: large, set off, dyed, and most of its steps to be seen. */
export function meritOf(fit: StripFit): number {
  const area = fit.steps.reduce((sum, quad) => sum + Math.abs(signedArea(quad)), 0);
  const seen = (fit.visibleBorders + 1) / fit.steps.length;
  return (
    area ** 0.45 * Math.min(0.6, fit.toneRange) * Math.sqrt(seen) * fit.bounded ** 2 * (0.2 + placed(fit))
  );
}
