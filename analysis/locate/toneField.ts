/** A photo made small: linear device light averaged per pixel, row-major, R G B interleaved. */
export interface SmallPhoto {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rgb: Float32Array;
  /** 1 where a pixel of the photo under it was clipped in the file. */
  readonly clipped: Uint8Array;
}

/** A small photo on axes where a step of one dye looks alike in light and shade. */
export interface ToneAxes {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Natural log of luminous light, offset so that the noise of black stays small. */
  readonly light: Float32Array;
  /** ln red - ln green, and ln blue - ln green, offset alike: 0 for a neutral under neutral light. */
  readonly redGreen: Float32Array;
  readonly blueGreen: Float32Array;
  /** What was added before the log, in units of linear light. */
  readonly offset: number;
}

/** The same with where it changes. */
export interface ToneField extends ToneAxes {
  /** How steeply the three change, in ln per px, after smoothing. */
  readonly steepness: Float32Array;
}

const weightRedGreen = 0.5;
const weightBlueGreen = 0.35;

/** Brings a small photo on log axes and measures where it changes. `luminance` weighs linear R, G, B. */
export function toneField(photo: SmallPhoto, luminance: readonly number[]): ToneField {
  return withSteepness(toneAxes(photo, luminance));
}

/** Brings a small photo on log axes. `luminance` weighs linear R, G, B. */
export function toneAxes(photo: SmallPhoto, luminance: readonly number[]): ToneAxes {
  const { widthPx, heightPx, rgb } = photo;
  const count = widthPx * heightPx;
  const offset = 0.01 * brightLevel(rgb);
  const light = new Float32Array(count);
  const redGreen = new Float32Array(count);
  const blueGreen = new Float32Array(count);
  const [wr, wg, wb] = luminance;
  for (let i = 0, j = 0; i < count; i++, j += 3) {
    const r = Math.max(0, rgb[j]) + offset;
    const g = Math.max(0, rgb[j + 1]) + offset;
    const b = Math.max(0, rgb[j + 2]) + offset;
    light[i] = Math.log(wr * r + wg * g + wb * b);
    redGreen[i] = Math.log(r / g);
    blueGreen[i] = Math.log(b / g);
  }
  return { widthPx, heightPx, light, redGreen, blueGreen, offset };
}

/** The same field at half the size, each pixel the mean of four. */
export function halved(field: ToneField): ToneField {
  const widthPx = field.widthPx >> 1;
  const heightPx = field.heightPx >> 1;
  const half = (plane: Float32Array) => {
    const out = new Float32Array(widthPx * heightPx);
    for (let y = 0; y < heightPx; y++) {
      let from = 2 * y * field.widthPx;
      for (let x = 0; x < widthPx; x++, from += 2) {
        const below = from + field.widthPx;
        out[y * widthPx + x] = (plane[from] + plane[from + 1] + plane[below] + plane[below + 1]) / 4;
      }
    }
    return out;
  };
  return withSteepness({
    widthPx,
    heightPx,
    light: half(field.light),
    redGreen: half(field.redGreen),
    blueGreen: half(field.blueGreen),
    offset: field.offset,
  });
}

/** The 95th percentile of linear green, at least 0.02. */
function brightLevel(rgb: Float32Array): number {
  const bins = new Uint32Array(1024);
  let count = 0;
  for (let i = 1; i < rgb.length; i += 3 * 7) {
    bins[Math.min(1023, Math.max(0, Math.round(rgb[i] * 1000)))]++;
    count++;
  }
  let above = count * 0.05;
  for (let k = 1023; k > 20; k--) {
    above -= bins[k];
    if (above <= 0) return k / 1000;
  }
  return 0.02;
}

/** Measures where a small photo changes. */
export function withSteepness(axes: ToneAxes): ToneField {
  const { widthPx, heightPx, light, redGreen, blueGreen } = axes;
  const steepness = new Float32Array(widthPx * heightPx);
  addSteepness(steepness, light, widthPx, heightPx, 1);
  addSteepness(steepness, redGreen, widthPx, heightPx, weightRedGreen);
  addSteepness(steepness, blueGreen, widthPx, heightPx, weightBlueGreen);
  for (let i = 0; i < steepness.length; i++) steepness[i] = Math.sqrt(steepness[i]);
  return { ...axes, steepness };
}

/** Adds the squared gradient (3×3 Sobel kernel, unit gain) of one plane. */
function addSteepness(sum: Float32Array, plane: Float32Array, w: number, h: number, weight: number): void {
  const gain = weight / 8;
  for (let y = 0; y < h; y++) {
    const up = (y > 0 ? y - 1 : y) * w;
    const here = y * w;
    const down = (y < h - 1 ? y + 1 : y) * w;
    for (let x = 0; x < w; x++) {
      const l = x > 0 ? x - 1 : x;
      const r = x < w - 1 ? x + 1 : x;
      const a = plane[up + l];
      const b = plane[up + r];
      const c = plane[down + l];
      const d = plane[down + r];
      const gx = (b - a + d - c + 2 * (plane[here + r] - plane[here + l])) * gain;
      const gy = (c - a + d - b + 2 * (plane[down + x] - plane[up + x])) * gain;
      sum[here + x] += gx * gx + gy * gy;
    }
  }
}
