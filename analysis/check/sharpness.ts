import { errorFunction as erf } from 'simple-statistics';
import type { Point, Quad } from '../locate/marks.ts';
import { sideLengths } from '../locate/quadGeometry.ts';
import type { Photo } from '../photo/photo.ts';

/** How wide the sharpest borders are, and from how many borders that is known. */
export interface Sharpness {
  /** Standard deviation of the blur along the worse of the two directions, pixels. */
  readonly blurPx: number;
  readonly edges: number;
}

const PLACES_ALONG_SIDE = 7;
/** How far a border is looked for on either side of the mark's own, as a share of the mark, and at most in samples. */
const REACH_SHARE = 0.35;
const MOST_REACH = 24;
/** Half the baselines, in samples, over which a border's change is compared. */
const SHORT = 1;
const LONG = 7;
/** Samples lie a pixel apart, further in photos longer than this: a large photo may be a little soft at full size. */
const SAMPLES_ALONG_PHOTO = 1600;
/** Least step of sqrt(light) over a border: less is texture or noise. */
const LEAST_CONTRAST = 0.07;
const FEWEST_EDGES = 6;
/** Borders of cloth are soft for reasons of their own; the sharpest few of all tell of the lens. The third at least. */
const SHARPEST_SHARE = 0.05;
const SHARPEST_RANK = 3;

/** Blur, in samples, at which a border changes over the short baseline by this share of what it does over the long one. */
const blurOfRatio = (ratio: number): number => {
  let low = 0.2;
  let high = 20;
  for (let i = 0; i < 30; i++) {
    const s = Math.sqrt(low * high) * Math.SQRT2;
    if (erf(SHORT / s) / erf(LONG / s) > ratio) low = s / Math.SQRT2;
    else high = s / Math.SQRT2;
  }
  return Math.sqrt(low * high);
};

/**
 * How sharp is the photo at the borders of card and strip?
 *
 * Lines across every side of every mark are read in sqrt(green light); a Gaussian blur of standard deviation s turns a
 * border's change over ±d into erf(d / s√2) of the whole, so the ratio of two baselines gives s. Both directions are
 * judged apart, since a shaken photo is sharp in one. Blurs above 5 samples come out too small, but clearly blurred.
 *
 * @param quads marks of card and steps, pixels of the upright photo.
 * @returns null where too few borders stand out from what lies beside them.
 */
export const measureSharpness = (photo: Photo, quads: readonly Quad[]): Sharpness | null => {
  const pitch = Math.max(1, Math.max(photo.widthPx, photo.heightPx) / SAMPLES_ALONG_PHOTO);
  const found: [number[], number[]] = [[], []];
  for (const quad of quads) {
    const [across, down] = sideLengths(quad);
    for (let i = 0; i < 4; i++) {
      const [a, b]: [Point, Point] = [quad[i], quad[(i + 1) % 4]];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const [tx, ty] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
      const depth = i % 2 === 0 ? down : across;
      const reach = Math.round(Math.min(Math.max((REACH_SHARE * depth) / pitch, LONG + 2), MOST_REACH));
      const group = Math.abs(ty) > Math.abs(tx) ? 0 : 1;
      for (let k = 0; k < PLACES_ALONG_SIDE; k++) {
        const t = 0.15 + (0.7 * k) / (PLACES_ALONG_SIDE - 1);
        const [x, y] = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
        readLine(photo, x, y, pitch * tx, pitch * ty, reach);
        const whole = steepest(LONG, reach);
        if (whole >= LEAST_CONTRAST) found[group].push(steepest(SHORT, reach) / whole);
      }
    }
  }
  const sharpest = found
    .filter((ratios) => ratios.length >= FEWEST_EDGES)
    .map((ratios) => {
      const rank = Math.max(SHARPEST_RANK, Math.ceil(SHARPEST_SHARE * ratios.length));
      return blurOfRatio(ratios.sort((a, b) => b - a)[rank - 1]) * pitch;
    });
  if (sharpest.length === 0) return null;
  return { blurPx: Math.max(...sharpest), edges: found[0].length + found[1].length };
};

/** sqrt(light) along a line across a border; kept from line to line. */
const line = new Float64Array(2 * MOST_REACH + 1);

/** Reads `reach` samples to either side of a place, each the mean of three side by side along the border. */
const readLine = (photo: Photo, x: number, y: number, dx: number, dy: number, reach: number): void => {
  for (let o = -reach; o <= reach; o++) {
    const [px, py] = [x - o * dy, y + o * dx];
    line[o + reach] =
      (rootLightAt(photo, px, py) +
        rootLightAt(photo, px + dx, py + dy) +
        rootLightAt(photo, px - dx, py - dy)) /
      3;
  }
};

/** The most that the line changes over twice `half` samples, of all places that have both baselines. */
const steepest = (half: number, reach: number): number => {
  let most = 0;
  for (let o = LONG; o + LONG <= 2 * reach; o++)
    most = Math.max(most, Math.abs(line[o + half] - line[o - half]));
  return most;
};

/** sqrt(green light) between the four pixels around a place. */
const rootLightAt = ({ widthPx, heightPx, codes, profile }: Photo, x: number, y: number): number => {
  const green = profile.linear[1];
  const px = Math.min(widthPx - 1.001, Math.max(0, x - 0.5));
  const py = Math.min(heightPx - 1.001, Math.max(0, y - 0.5));
  const column = px | 0;
  const row = py | 0;
  const fx = px - column;
  const fy = py - row;
  const i = 3 * (row * widthPx + column) + 1;
  const below = i + 3 * widthPx;
  const top = green[codes[i]] * (1 - fx) + green[codes[i + 3]] * fx;
  const low = green[codes[below]] * (1 - fx) + green[codes[below + 3]] * fx;
  return Math.sqrt(Math.max(0, top * (1 - fy) + low * fy));
};
