import type { FlatQuad } from './flatQuads.ts';
import type { Point, Quad } from './marks.ts';
import { fitLine } from './quadFit.ts';
import { crossing, isConvex, sideLengths } from './quadGeometry.ts';
import { foreignBetween, medianOf } from './sampleTone.ts';
import type { ToneField } from './toneField.ts';

/** A band that may be the steps of a strip or part of them; side 0–1 runs along the strip. */
export interface StripFrame {
  readonly quad: Quad;
  /** Lengths along the band of the flat areas it was joined from, px. */
  readonly pieces: readonly number[];
  /** How many of them differ from the one before. */
  readonly changes: number;
  /** How much light and colour change along it, ln. */
  readonly contrast: number;
}

interface Stretch {
  readonly source: FlatQuad;
  /** Corners with side 0–1 along the band. */
  readonly corners: readonly Point[];
  readonly from: number;
  readonly to: number;
}

/** Which flat areas lie end to end like the steps of a strip? Bands of one width, most promising first. */
export function stripFrames(field: ToneField, quads: readonly FlatQuad[]): StripFrame[] {
  const frames: StripFrame[] = [];
  const known = new Set<string>();
  for (const seed of quads) {
    for (const turn of [0, 1] as const) {
      const stretches = stretchesAlong(seed, turn, quads);
      for (const sign of [1, -1] as const) {
        const chain = bestChain(field, stretches, sign);
        if (chain.length === 0) continue;
        if (!chain.some((s) => s.source === seed)) continue;
        const key = `${chain
          .map((s) => quads.indexOf(s.source))
          .sort((a, b) => a - b)
          .join()}:${chain.length === 1 ? turn : ''}`;
        if (known.has(key)) continue;
        known.add(key);
        const frame = frameOf(chain);
        if (frame) frames.push(frame);
      }
    }
  }
  return frames.sort((a, b) => promise(b) - promise(a));
}

function promise(frame: StripFrame): number {
  const [along, across] = sideLengths(frame.quad);
  return Math.sqrt(along * across) * Math.min(1.5, frame.contrast + 0.1) * Math.min(4, frame.changes + 0.5);
}

/** All areas that lie on the seed's line with the seed's width, as stretches of that line. */
function stretchesAlong(seed: FlatQuad, turn: 0 | 1, quads: readonly FlatQuad[]): Stretch[] {
  const own = turned(seed.quad, turn);
  const axis = direction(own);
  const normal: Point = [-axis[1], axis[0]];
  const width = sideLengths(own as unknown as Quad)[1];
  const origin = seed.centre;
  const result: Stretch[] = [];
  for (const source of quads) {
    const dx = source.centre[0] - origin[0];
    const dy = source.centre[1] - origin[1];
    const s = dx * axis[0] + dy * axis[1];
    const t = dx * normal[0] + dy * normal[1];
    if (Math.abs(t) > 0.12 * width + 0.07 * Math.abs(s)) continue;
    let corners: Point[] | undefined;
    for (const k of [0, 1, 2, 3] as const) {
      const option = turned(source.quad, k);
      const e = direction(option);
      if (e[0] * axis[0] + e[1] * axis[1] > 0.97) corners = option;
    }
    if (!corners) continue;
    const across = sideLengths(corners as unknown as Quad)[1];
    const slack = 0.14 + (0.12 * Math.abs(s)) / (4 * width);
    if (Math.abs(Math.log(across / width)) > slack) continue;
    const at = (p: Point) => (p[0] - origin[0]) * axis[0] + (p[1] - origin[1]) * axis[1];
    result.push({
      source,
      corners,
      from: (at(corners[0]) + at(corners[3])) / 2,
      to: (at(corners[1]) + at(corners[2])) / 2,
    });
  }
  return result.sort((a, b) => a.from - b.from);
}

/** The longest run of stretches end to end that gets darker (sign 1) or lighter (-1), gaps counted against it. */
function bestChain(field: ToneField, stretches: readonly Stretch[], sign: 1 | -1): Stretch[] {
  const value = new Float64Array(stretches.length);
  const from = new Int32Array(stretches.length).fill(-1);
  let top = 0;
  stretches.forEach((s, j) => {
    const length = s.to - s.from;
    value[j] = length;
    for (let i = 0; i < j; i++) {
      const p = stretches[i];
      const gap = s.from - p.to;
      const shorter = Math.min(length, p.to - p.from);
      if (gap < -0.15 * shorter - 2 || gap > 2.2 * shorter + 3) continue;
      if (sign * (s.source.tone.light - p.source.tone.light) > 0.08) continue;
      const linked = value[i] + length - Math.abs(gap) + 0.4 * shorter;
      if (linked > value[j] && (gap < 0.25 * shorter + 3 || !foreignGap(field, p, s))) {
        value[j] = linked;
        from[j] = i;
      }
    }
    if (value[j] > value[top]) top = j;
  });
  const chain: Stretch[] = [];
  for (let k = stretches.length > 0 ? top : -1; k >= 0; k = from[k]) chain.unshift(stretches[k]);
  return chain;
}

/** True where something else lies between two stretches: over pale steps that were not seen as areas, it does not. */
function foreignGap(field: ToneField, a: Stretch, b: Stretch): boolean {
  const sideA = [a.corners[1], a.corners[2]] as const;
  const sideB = [b.corners[0], b.corners[3]] as const;
  return foreignBetween(field, sideA, sideB, a.source.tone, b.source.tone) > 0.06;
}

function frameOf(chain: readonly Stretch[]): StripFrame | undefined {
  const first = chain[0];
  const last = chain[chain.length - 1];
  const upper = fitLine(chain.flatMap((s) => [s.corners[0], s.corners[1]]));
  const lower = fitLine(chain.flatMap((s) => [s.corners[3], s.corners[2]]));
  if (!upper || !lower) return undefined;
  const start = straightened(chain, first.corners[0], first.corners[3]);
  const end = straightened(chain, last.corners[1], last.corners[2]);
  const corners = [
    crossing(upper[0], upper[1], start[0], start[1]),
    crossing(upper[0], upper[1], end[0], end[1]),
    crossing(lower[0], lower[1], end[0], end[1]),
    crossing(lower[0], lower[1], start[0], start[1]),
  ];
  if (corners.some((c) => c === undefined)) return undefined;
  const quad = corners as unknown as Quad;
  if (!isConvex(quad)) return undefined;
  const tones = chain.map((s) => s.source.tone);
  const range = (values: readonly number[]) => Math.max(...values) - Math.min(...values);
  const contrast =
    range(tones.map((t) => t.light)) +
    0.4 * range(tones.map((t) => t.redGreen)) +
    0.3 * range(tones.map((t) => t.blueGreen));
  const changes = tones.filter(
    (tone, k) => k === 0 || Math.abs(tone.light - tones[k - 1].light) > 0.02,
  ).length;
  return { quad, pieces: chain.map((s) => s.to - s.from), changes, contrast };
}

/**
 * An end of the band, turned to the usual slant of all borders across it where it departs from that by more than
 * eight degrees: an area that ran over at one corner has a slanted end.
 */
function straightened(chain: readonly Stretch[], upper: Point, lower: Point): readonly [Point, Point] {
  const slants = chain.flatMap((s) => {
    const along = direction(s.corners);
    return [
      slantTo(along, s.corners[0], s.corners[3]),
      slantTo(along, s.corners[1], s.corners[2]),
      // A lone area has no others to go by but the right angle.
      ...(chain.length === 1 ? [0] : []),
    ];
  });
  const usual = medianOf(slants);
  const along = direction(chain[Math.floor(chain.length / 2)].corners);
  const own = slantTo(along, upper, lower);
  if (Math.abs(own - usual) < Math.tan((8 * Math.PI) / 180)) return [upper, lower];
  const middle: Point = [(upper[0] + lower[0]) / 2, (upper[1] + lower[1]) / 2];
  const half = Math.hypot(lower[0] - upper[0], lower[1] - upper[1]) / 2;
  const across: Point = [-along[1] + usual * along[0], along[0] + usual * along[1]];
  return [
    [middle[0] - half * across[0], middle[1] - half * across[1]],
    [middle[0] + half * across[0], middle[1] + half * across[1]],
  ];
}

/** How far a border leans along the band per length across it. */
function slantTo(along: Point, upper: Point, lower: Point): number {
  const dx = lower[0] - upper[0];
  const dy = lower[1] - upper[1];
  return (dx * along[0] + dy * along[1]) / (dy * along[0] - dx * along[1]);
}

function turned(quad: Quad, turn: number): Point[] {
  return [0, 1, 2, 3].map((k) => quad[(k + turn) % 4]);
}

/** Unit vector along side 0–1 and its opposite. */
function direction(corners: readonly Point[]): Point {
  const x = corners[1][0] - corners[0][0] + corners[2][0] - corners[3][0];
  const y = corners[1][1] - corners[0][1] + corners[2][1] - corners[3][1];
  const length = Math.hypot(x, y);
  return [x / length, y / length];
}
