import { type Cutting, freeCuts, freeCutsFromEnd, wrongWay } from './changePoints.ts';

/** What is known of a strip's steps before looking; lengths in samples of the profile, costs in nats. */
export interface RhythmPrior {
  readonly count: number;
  /** Common widths to try, rising by a constant ratio. */
  readonly pitches: readonly number[];
  /** Standard deviation of a border from where the rhythm puts it, as a share of the width. */
  readonly borderSpread: number;
  /** Cost of each piece of the profile that is not a step. */
  readonly outsideCost: number;
  /** Cost of one stretch of bare cloth between the steps and what lies beyond them, at either end. */
  readonly marginCost: number;
  /** Cost of a step that is strange throughout. */
  readonly strangeCost: number;
  /** Cost of each tenth of ln by which a border changes paleness the wrong way. */
  readonly reversalCost: number;
  /** Cost of a margin that ends just where one more step would. */
  readonly coincidenceCost: number;
  /** Cost of a stretch of dyed cloth next to the steps that would belong to none. */
  readonly unclaimedCost: number;
  /** True where the first step had no exposure: then no cloth beside the steps is paler than it. */
  readonly hasBase: boolean;
}

/** Steps laid over the profile in an even rhythm. */
export interface Rhythm {
  /** count + 1 borders, in samples, rising along the profile. */
  readonly borders: readonly number[];
  readonly cost: number;
  readonly pitch: number;
  /** 1 where steps get darker along the profile, -1 where lighter. */
  readonly darker: 1 | -1;
}

export interface RhythmFit {
  readonly best: Rhythm;
  /** ln of the summed likelihood of all placements, up to what all counts share. */
  readonly evidence: number;
  /** ln odds of the best placement, and those near it, against all others the same way round. */
  readonly placeOdds: number;
  /** ln odds of its direction against the other. */
  readonly directionOdds: number;
  /** How surely cloth beside the steps belongs to some step that is not among them, 0..1 at either end, summed. */
  readonly unclaimed: number;
  /** How far cloth goes on beyond the lightest step, in steps. */
  readonly lightMargin: number;
}

interface Placement {
  readonly start: number;
  readonly pitch: number;
  readonly cost: number;
}

/** Placements that are this much worse than the best add nothing, nats. */
const negligible = 25;
/** Ends that lie within this share of a step of each other are the same answer. */
const sameEnd = 0.3;
const mostOdds = 25;

/**
 * Where do the steps lie, if all have about one width? Tries every start and width, lets each border stray a little
 * from the rhythm, and weighs all placements against each other; what lies before and after is cut freely.
 */
export function fitRhythm(cut: Cutting, prior: RhythmPrior, temperature: number): RhythmFit | undefined {
  const ground = groundOf(cut, prior);
  const down = placementsOf(ground, prior, 1, Number.POSITIVE_INFINITY);
  const bound = down.reduce((least, p) => Math.min(least, p.cost), Number.POSITIVE_INFINITY);
  const ways = [
    { darker: 1, placements: down },
    { darker: -1, placements: placementsOf(ground, prior, -1, bound) },
  ] as const;
  const least = Math.min(...ways.flatMap(({ placements }) => placements.map((p) => p.cost)));
  if (!Number.isFinite(least)) return undefined;
  const mass = (placements: readonly Placement[]) =>
    placements.reduce((sum, p) => sum + Math.exp(-(p.cost - least) / temperature), 0);
  const { darker, placements } = ways.find((way) => way.placements.some((p) => p.cost === least))!;
  const top = placements.find((p) => p.cost === least)!;
  const near = placements.filter(
    (p) =>
      Math.abs(p.start - top.start) < sameEnd * top.pitch &&
      Math.abs(p.start + prior.count * p.pitch - top.start - prior.count * top.pitch) < sameEnd * top.pitch,
  );
  const [here, thisWay, otherWay] = [
    mass(near),
    mass(placements),
    mass(ways.find((way) => way.darker !== darker)!.placements),
  ];
  const borders = bordersOf(ground, prior, darker, top);
  return {
    best: { borders, cost: least, pitch: top.pitch, darker },
    evidence: Math.log(thisWay + otherWay) - least / temperature,
    placeOdds: odds(here, thisWay - here),
    directionOdds: odds(thisWay, otherWay),
    unclaimed:
      leftOverCost(ground, { ...prior, coincidenceCost: 0 }, darker, top.start, top.pitch) /
      prior.unclaimedCost,
    lightMargin:
      (darker === 1
        ? clothBeyond(cut.profile.cloth, borders[0], -1)
        : clothBeyond(cut.profile.cloth, borders[prior.count], 1)) / top.pitch,
  };
}

function odds(forIt: number, against: number): number {
  return Math.min(mostOdds, Math.log(forIt) - Math.log(Math.max(against, 1e-12 * forIt)));
}

/** What all placements share: costs of cutting, and running sums. */
interface Ground {
  readonly cut: Cutting;
  readonly before: Float64Array;
  readonly after: Float64Array;
  readonly strange: Float64Array;
  readonly cloth: Float64Array;
  readonly pale: Float64Array;
  readonly tones: readonly Float64Array[];
  /** Room for the costs of one placement, endless at first; only until the next call. */
  readonly scratch: (size: number) => { readonly costs: Float64Array; readonly origins: Int16Array };
}

function groundOf(cut: Cutting, prior: RhythmPrior): Ground {
  const { profile } = cut;
  let costs = new Float64Array(0);
  let origins = new Int16Array(0);
  return {
    cut,
    before: withMargin(cut, freeCuts(cut, prior.outsideCost), prior.marginCost, 1),
    after: withMargin(cut, freeCutsFromEnd(cut, prior.outsideCost), prior.marginCost, -1),
    strange: runningSum(profile.strange),
    cloth: runningSum(profile.cloth),
    pale: runningSum(profile.paleness),
    tones: profile.planes.map((plane, p) => runningSum(plane, toneWeights[p])),
    scratch: (size) => {
      if (costs.length < size) {
        costs = new Float64Array(size);
        origins = new Int16Array(size);
      }
      costs.fill(Number.POSITIVE_INFINITY, 0, size);
      return { costs, origins };
    },
  };
}

/** The same costs where the last piece before the steps (`way` 1), or the first after them (-1), may be a margin of cloth. */
function withMargin(cut: Cutting, outside: Float64Array, marginCost: number, way: 1 | -1): Float64Array {
  const { length, piece, profile } = cut;
  const cloth = runningSum(profile.cloth);
  return outside.map((least, at) => {
    let best = least;
    for (let other = at - way; other >= 0 && other <= length; other -= way) {
      const [i, j] = way === 1 ? [other, at] : [at, other];
      if (cloth[j] - cloth[i] < 0.7 * (j - i)) continue;
      best = Math.min(best, outside[other] + piece[j * (length + 1) + i] + marginCost);
    }
    return best;
  });
}

const toneWeights = [1, 0.5, 0.35];

function runningSum(values: Float64Array, weight = 1): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = sums[i] + weight * values[i];
  return sums;
}

/** Mean of samples a..b-1 as far as the profile goes; NaN where it does not. */
function meanOf(sums: Float64Array, a: number, b: number): number {
  const i = Math.max(0, Math.round(a));
  const j = Math.min(sums.length - 1, Math.round(b));
  return j > i ? (sums[j] - sums[i]) / (j - i) : Number.NaN;
}

function placementsOf(ground: Ground, prior: RhythmPrior, darker: 1 | -1, bound: number): Placement[] {
  const { length } = ground.cut;
  const found: Placement[] = [];
  let least = bound;
  for (const pitch of prior.pitches) {
    const wrong = wrongWay(ground.cut.profile.paleness, pitch, darker, prior.reversalCost);
    const stride = Math.max(1, Math.round(0.06 * pitch));
    for (let start = 0; start + prior.count * pitch <= length + 0.5; start += stride) {
      const rough = laid(ground, prior, wrong, start, pitch, least + negligible);
      if (rough > least + negligible) continue;
      const cost = rough + leftOverCost(ground, prior, darker, start, pitch);
      if (cost > least + negligible) continue;
      least = Math.min(least, cost);
      found.push({ start, pitch, cost });
    }
  }
  return found.filter((p) => p.cost <= least + negligible);
}

function bordersOf(
  ground: Ground,
  prior: RhythmPrior,
  darker: 1 | -1,
  { start, pitch }: Placement,
): number[] {
  const wrong = wrongWay(ground.cut.profile.paleness, pitch, darker, prior.reversalCost);
  const borders: number[] = [];
  laid(ground, prior, wrong, start, pitch, Number.POSITIVE_INFINITY, borders);
  return borders;
}

/**
 * What does the cheapest way of letting the borders of one placement stray cost? Endless as soon as it must come out
 * above `bound`. Fills in `borders` where given.
 */
function laid(
  ground: Ground,
  prior: RhythmPrior,
  wrong: Float64Array,
  start: number,
  pitch: number,
  bound: number,
  borders?: number[],
): number {
  const { cut, before, after, strange } = ground;
  const { length, piece } = cut;
  const { count } = prior;
  const line = length + 1;
  const spread = prior.borderSpread * pitch;
  const perSquare = 1 / (2 * spread ** 2);
  const reach = Math.max(1, Math.round(2.5 * spread));
  const wide = 2 * reach + 1;
  const { costs, origins } = ground.scratch(wide * (count + 1));
  const first = Math.round(start);
  for (let e = 0; e < wide; e++) {
    const at = first + e - reach;
    if (at >= 0 && at <= length) costs[e] = before[at] + (at - start) ** 2 * perSquare;
  }
  for (let k = 1; k <= count; k++) {
    const due = start + k * pitch;
    const here = Math.round(due) - reach;
    const there = Math.round(due - pitch) - reach;
    let least = Number.POSITIVE_INFINITY;
    for (let e = 0; e < wide; e++) {
      const at = here + e;
      if (at < 0 || at > length) continue;
      let best = Number.POSITIVE_INFINITY;
      let origin = 0;
      for (let d = 0; d < wide; d++) {
        const i = there + d;
        if (i < 0 || i >= at) continue;
        const total =
          costs[(k - 1) * wide + d] +
          piece[at * line + i] +
          (prior.strangeCost * (strange[at] - strange[i])) / (at - i);
        if (total < best) {
          best = total;
          origin = d;
        }
      }
      best += (at - due) ** 2 * perSquare + (k < count ? wrong[at] : after[at]);
      costs[k * wide + e] = best;
      origins[k * wide + e] = origin;
      if (best < least) least = best;
    }
    if (least > bound) return Number.POSITIVE_INFINITY;
  }
  let end = 0;
  for (let e = 0; e < wide; e++) if (costs[count * wide + e] < costs[count * wide + end]) end = e;
  for (let k = count, e = end; borders && k >= 0; k--) {
    borders.unshift(Math.round(start + k * pitch) - reach + e);
    e = origins[k * wide + e];
  }
  return costs[count * wide + end];
}

/**
 * Cost of cloth beside the steps that they leave unexplained: a margin of bare cloth is as pale as the palest step
 * or paler, so dyed cloth there is a step left out; and where a step had no exposure, nothing is paler than it.
 */
function leftOverCost(
  ground: Ground,
  prior: RhythmPrior,
  darker: 1 | -1,
  start: number,
  pitch: number,
): number {
  const end = start + prior.count * pitch;
  const [light, dark] = darker === 1 ? [start, end] : [end, start];
  const inward = darker;
  const tone = (from: number, a: number, b: number) => {
    const [x, y] = [from + a * pitch * inward, from + b * pitch * inward].sort((p, q) => p - q);
    return {
      pale: meanOf(ground.pale, x, y),
      cloth: meanOf(ground.cloth, x, y),
      at: ground.tones.map((plane) => meanOf(plane, x, y)),
    };
  };
  const palest = tone(light, 0.25, 0.75);
  const deepest = tone(dark, -0.75, -0.25);
  let cost = 0;
  for (const [from, way, slack] of [
    [light, -1, 0.07],
    [dark, 1, 0.1 + 0.02 * prior.count],
  ] as const) {
    // Right beside the steps, and a step further out: the areas next to them may be parts of one step.
    const leftOver = [0.2, 1].map((far) => {
      const beside = tone(from, way === 1 ? far : -far - 0.45, way === 1 ? far + 0.45 : -far);
      if (Number.isNaN(beside.pale)) return 0;
      const like = beside.cloth * likeness(beside.at, palest.at, deepest.at);
      const paler = beside.pale - palest.pale;
      // Light falls off with distance.
      const allowed = slack + 0.06 * far;
      // Beside steps all at full depth, bare cloth is on no line with their tones.
      const bare = prior.hasBase ? Math.max(like, 0.5 * beside.cloth) * beyondSlack(paler - allowed) : 0;
      return prior.unclaimedCost * (like * beyondSlack(-paler - allowed) + bare);
    });
    cost += Math.max(...leftOver);
    const steps = clothBeyond(ground.cut.profile.cloth, from, from === start ? -1 : 1) / pitch;
    if (steps > 0.9 && Math.abs(steps - Math.round(steps)) < 0.08) cost += prior.coincidenceCost;
  }
  return cost;
}

/** 0 up to nothing, 1 from some 0.15 ln on. */
function beyondSlack(excess: number): number {
  return excess > 0 ? 1 - Math.exp(-((excess / 0.07) ** 2)) : 0;
}

/** How far cloth goes on from a border, in samples. */
function clothBeyond(cloth: Float64Array, border: number, way: 1 | -1): number {
  let at = way === 1 ? Math.round(border) : Math.round(border) - 1;
  let length = 0;
  for (; at >= 0 && at < cloth.length && cloth[at] > 0.5; at += way) length++;
  return length;
}

/** 1 where a tone lies on the line from the palest step to the deepest or beyond its ends, 0 far from it. */
export function likeness(
  at: readonly number[],
  palest: readonly number[],
  deepest: readonly number[],
): number {
  const run = palest.map((v, i) => deepest[i] - v);
  const length = run.reduce((sum, v) => sum + v * v, 0);
  const along = at.reduce((sum, v, i) => sum + (v - palest[i]) * run[i], 0) / Math.max(length, 1e-9);
  // Dyes do not darken along straight lines: the further beyond the ends, the less is known.
  const t = Math.min(4, Math.max(-0.6, along));
  const far = Math.hypot(...at.map((v, i) => v - palest[i] - t * run[i]));
  return Math.exp(-((far / (0.12 + 0.3 * Math.max(0, t - 1) * Math.sqrt(length))) ** 2));
}
