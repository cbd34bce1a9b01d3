import type { Photo } from '../photo/photo.ts';

/** A small grey picture of encoded values: good for edges, not for light. */
export interface Grey {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Photo pixels to one of these. */
  readonly scale: number;
  /** Where in the photo it begins, pixels. */
  readonly leftPx: number;
  readonly topPx: number;
  readonly data: Uint8Array;
}

/** How many photo pixels go to one, so that no side is longer than `maxSidePx`. */
const scaleTo = (photo: Photo, maxSidePx: number): number =>
  Math.max(1, Math.ceil(Math.max(photo.widthPx, photo.heightPx) / maxSidePx));

/** The photo's green in boxes of whole pixels, no side longer than `maxSidePx`. */
export const reducedGrey = (photo: Photo, maxSidePx: number): Grey =>
  greyBoxes(photo, scaleTo(photo, maxSidePx), 0, 0, photo.widthPx, photo.heightPx);

/** Part of the photo, as `reducedGrey` to the same longest side would show it; null where it lies outside. */
export const greyPart = (
  photo: Photo,
  maxSidePx: number,
  [left, top, right, bottom]: readonly [number, number, number, number],
): Grey | null => {
  const scale = scaleTo(photo, maxSidePx);
  const [x0, y0] = [Math.max(0, Math.floor(left)), Math.max(0, Math.floor(top))];
  const [x1, y1] = [Math.min(photo.widthPx, Math.ceil(right)), Math.min(photo.heightPx, Math.ceil(bottom))];
  return x1 - x0 < LEAST_PART * scale || y1 - y0 < LEAST_PART * scale
    ? null
    : greyBoxes(photo, scale, x0, y0, x1, y1);
};

/** Narrower parts show nothing. */
const LEAST_PART = 16;

const greyBoxes = (
  { codes, widthPx: fullPx, maxCode }: Photo,
  scale: number,
  leftPx: number,
  topPx: number,
  rightPx: number,
  bottomPx: number,
): Grey => {
  const widthPx = Math.floor((rightPx - leftPx) / scale);
  const heightPx = Math.floor((bottomPx - topPx) / scale);
  const data = new Uint8Array(widthPx * heightPx);
  // Some rows of a box tell enough for edges.
  const every = scale >= 6 ? 3 : 2;
  const unit = 255 / (maxCode * scale * Math.ceil(scale / every));
  const sums = new Float64Array(widthPx);
  for (let y = 0, to = 0; y < heightPx; y++) {
    sums.fill(0);
    for (let dy = 0; dy < scale; dy += every) {
      let at = 3 * ((topPx + y * scale + dy) * fullPx + leftPx) + 1;
      for (let x = 0; x < widthPx; x++) {
        let sum = 0;
        for (let dx = 0; dx < scale; dx++, at += 3) sum += codes[at];
        sums[x] += sum;
      }
    }
    for (let x = 0; x < widthPx; x++, to++) data[to] = sums[x] * unit;
  }
  return { widthPx, heightPx, scale, leftPx, topPx, data };
};

/** The same picture with `factor` times fewer pixels to a side. */
const smaller = (grey: Grey, factor: number): Grey => {
  const widthPx = Math.floor(grey.widthPx / factor);
  const heightPx = Math.floor(grey.heightPx / factor);
  const data = new Uint8Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      let sum = 0;
      for (let dy = 0; dy < factor; dy++)
        for (let dx = 0; dx < factor; dx++)
          sum += grey.data[(y * factor + dy) * grey.widthPx + x * factor + dx];
      data[y * widthPx + x] = sum / (factor * factor);
    }
  return { ...grey, widthPx, heightPx, scale: grey.scale * factor, data };
};

const LOOK_PX = 420;
const NEIGHBOURHOOD = 14;
const DARK_SHARE = 0.66;
/** Sides of what may be a marker, as shares of the photo's longer side. */
const LEAST_SIDE = 0.012;
const MOST_SIDE = 0.14;
const FEWEST = 3;

/**
 * May the sheet's markers be in this picture? Looks for three dark, compact blots of about one size on something
 * lighter; cheap, so that photos without a sheet need not wait for the detector. Errs towards yes.
 */
export const mayShowMarkers = (grey: Grey): boolean => {
  const factor = Math.max(1, Math.round(Math.max(grey.widthPx, grey.heightPx) / LOOK_PX));
  const small = smaller(grey, factor);
  const { widthPx, heightPx } = small;
  const longer = Math.max(widthPx, heightPx);
  const dark = darkAgainstNeighbours(small, Math.round(longer / NEIGHBOURHOOD));
  const sizes: number[] = [];
  for (const blot of blots(dark, widthPx, heightPx)) {
    const wide = blot.right - blot.left + 1;
    const tall = blot.bottom - blot.top + 1;
    const side = Math.sqrt(wide * tall);
    if (side < LEAST_SIDE * longer || side > MOST_SIDE * longer) continue;
    if (wide > 2.6 * tall || tall > 2.6 * wide) continue;
    if (blot.pixels < 0.3 * wide * tall) continue;
    sizes.push(side);
  }
  sizes.sort((a, b) => a - b);
  return sizes.some((side, i) => i + FEWEST <= sizes.length && sizes[i + FEWEST - 1] <= 3 * side);
};

const darkAgainstNeighbours = ({ widthPx, heightPx, data }: Grey, reach: number): Uint8Array => {
  const stride = widthPx + 1;
  const sums = new Float64Array(stride * (heightPx + 1));
  for (let y = 0; y < heightPx; y++) {
    let row = 0;
    for (let x = 0; x < widthPx; x++) {
      row += data[y * widthPx + x];
      sums[(y + 1) * stride + x + 1] = sums[y * stride + x + 1] + row;
    }
  }
  const dark = new Uint8Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) {
    const [y0, y1] = [Math.max(0, y - reach), Math.min(heightPx, y + reach + 1)];
    for (let x = 0; x < widthPx; x++) {
      const [x0, x1] = [Math.max(0, x - reach), Math.min(widthPx, x + reach + 1)];
      const sum =
        sums[y1 * stride + x1] - sums[y0 * stride + x1] - sums[y1 * stride + x0] + sums[y0 * stride + x0];
      const mean = sum / ((y1 - y0) * (x1 - x0));
      if (data[y * widthPx + x] < DARK_SHARE * mean) dark[y * widthPx + x] = 1;
    }
  }
  return dark;
};

interface Blot {
  left: number;
  right: number;
  top: number;
  bottom: number;
  pixels: number;
}

/** Connected dark pixels, corners included, by their boxes. */
const blots = (dark: Uint8Array, widthPx: number, heightPx: number): Blot[] => {
  const left = dark.slice();
  const found: Blot[] = [];
  const waiting = new Int32Array(left.length);
  for (let start = 0; start < left.length; start++) {
    if (left[start] === 0) continue;
    const blot: Blot = { left: widthPx, right: 0, top: heightPx, bottom: 0, pixels: 0 };
    left[start] = 0;
    let open = 0;
    waiting[open++] = start;
    while (open > 0) {
      const at = waiting[--open];
      const y = (at / widthPx) | 0;
      const x = at - y * widthPx;
      blot.pixels++;
      if (x < blot.left) blot.left = x;
      if (x > blot.right) blot.right = x;
      if (y < blot.top) blot.top = y;
      if (y > blot.bottom) blot.bottom = y;
      const lastX = x < widthPx - 1 ? x + 1 : x;
      const lastY = y < heightPx - 1 ? y + 1 : y;
      for (let v = y > 0 ? y - 1 : y; v <= lastY; v++)
        for (let u = x > 0 ? x - 1 : x; u <= lastX; u++) {
          const next = v * widthPx + u;
          if (left[next] === 0) continue;
          left[next] = 0;
          waiting[open++] = next;
        }
    }
    found.push(blot);
  }
  return found;
};

/** Green code at a place between pixels; 0 outside the photo. */
export const greenAt = ({ codes, widthPx, heightPx }: Photo, x: number, y: number): number => {
  const column = Math.floor(x - 0.5);
  const row = Math.floor(y - 0.5);
  if (!(column >= 0 && row >= 0 && column < widthPx - 1 && row < heightPx - 1)) return 0;
  const [u, v] = [x - 0.5 - column, y - 0.5 - row];
  const at = 3 * (row * widthPx + column) + 1;
  const below = at + 3 * widthPx;
  return (
    (codes[at] * (1 - u) + codes[at + 3] * u) * (1 - v) + (codes[below] * (1 - u) + codes[below + 3] * u) * v
  );
};
