/**
 * A connected area that stays itself while the bar for 'edge' is lowered: it fills up to its own edges at
 * `birth` and runs over into something else only at `death` (both in levels, eight to the octave of steepness).
 */
export interface FlatRegion {
  /** Pixel numbers (row × width + column). */
  readonly pixels: Int32Array;
  readonly birth: number;
  readonly death: number;
}

export interface FlatRegionOptions {
  readonly minAreaPx: number;
  readonly maxAreaPx: number;
  /** Least `death - birth`, in levels. */
  readonly minPersistence: number;
}

const lowestSteepness = 2 ** -10;
const levels = 128;

/**
 * Level of every pixel, 0 to 127. The top bits of a 32-bit float are its exponent and the first digits of its
 * mantissa, so they already count octaves and eighths of them.
 */
function levelsOf(steepness: Float32Array): Uint8Array {
  const bits = new Int32Array(steepness.buffer, steepness.byteOffset, steepness.length);
  const lowest = new Int32Array(new Float32Array([lowestSteepness]).buffer)[0] >> 20;
  const level = new Uint8Array(bits.length);
  for (let i = 0; i < bits.length; i++)
    level[i] = Math.min(levels - 1, Math.max(0, (bits[i] >> 20) - lowest));
  return level;
}

/**
 * Which areas of the photo are flat and bounded all round, and look like a rectangle seen at an angle?
 *
 * Pixels are flooded from the flattest to the steepest; where two areas meet, both are recorded if they were
 * stable over a range of levels. So a pale cloth on pale paper is found as well as a black patch on white: the
 * bar adapts to every border by itself. A first sieve keeps areas whose second moments are a parallelogram's:
 * area² = 144·det(covariance), whatever its proportions and slant (an ellipse has 16π² = 158, a triangle 108).
 */
export function flatRegions(
  steepness: Float32Array,
  widthPx: number,
  heightPx: number,
  options: FlatRegionOptions,
): FlatRegion[] {
  const count = widthPx * heightPx;
  const level = levelsOf(steepness);
  const starts = new Int32Array(levels + 1);
  for (let i = 0; i < count; i++) starts[level[i] + 1]++;
  for (let l = 0; l < levels; l++) starts[l + 1] += starts[l];
  const order = new Int32Array(count);
  const fill = starts.slice();
  for (let i = 0; i < count; i++) order[fill[level[i]]++] = i;

  const parent = new Int32Array(count).fill(-1);
  /** Pixels of one area, in a chain from head to tail; joining two areas joins their chains end to end. */
  const next = new Int32Array(count);
  const head = new Int32Array(count);
  const tail = new Int32Array(count);
  const area = new Int32Array(count);
  /** Area from which on it counts as another one. */
  const limit = new Float32Array(count);
  const birth = new Uint8Array(count);
  const found: FlatRegion[] = [];

  const record = (root: number, death: number) => {
    const n = area[root];
    if (n > options.maxAreaPx || death - birth[root] < options.minPersistence) return;
    let sx = 0;
    let sy = 0;
    let sxx = 0;
    let syy = 0;
    let sxy = 0;
    for (let k = 0, p = head[root]; k < n; k++, p = next[p]) {
      const y = (p / widthPx) | 0;
      const x = p - y * widthPx;
      sx += x;
      sy += y;
      sxx += x * x;
      syy += y * y;
      sxy += x * y;
    }
    // Each pixel is a unit square: 1/12 on the diagonal.
    const vx = sxx / n - (sx / n) ** 2 + 1 / 12;
    const vy = syy / n - (sy / n) ** 2 + 1 / 12;
    const vxy = sxy / n - (sx / n) * (sy / n);
    const shape = (n * n) / (144 * (vx * vy - vxy * vxy));
    if (shape < 0.72 || shape > 1.12) return;
    const pixels = new Int32Array(n);
    for (let k = 0, p = head[root]; k < n; k++, p = next[p]) pixels[k] = p;
    found.push({ pixels, birth: birth[root], death });
  };
  const grown = (root: number, now: number) => {
    if (area[root] <= limit[root]) return;
    limit[root] = grownArea(area[root]);
    birth[root] = now;
  };
  const join = (a: number, b: number, now: number): number => {
    const total = area[a] + area[b];
    if (total >= options.minAreaPx) {
      if (area[a] >= options.minAreaPx && total > grownArea(area[a])) record(a, now);
      if (area[b] >= options.minAreaPx && total > grownArea(area[b])) record(b, now);
    }
    const big = area[a] >= area[b] ? a : b;
    const small = big === a ? b : a;
    parent[small] = big;
    next[tail[big]] = head[small];
    tail[big] = tail[small];
    area[big] = total;
    grown(big, now);
    return big;
  };
  for (let k = 0; k < count; k++) {
    const p = order[k];
    const now = level[p];
    const y = (p / widthPx) | 0;
    const x = p - y * widthPx;
    let root = -1;
    for (let side = 0; side < 4; side++) {
      let q = p;
      if (side === 0) {
        if (x === 0) continue;
        q = p - 1;
      } else if (side === 1) {
        if (x === widthPx - 1) continue;
        q = p + 1;
      } else if (side === 2) {
        if (y === 0) continue;
        q = p - widthPx;
      } else {
        if (y === heightPx - 1) continue;
        q = p + widthPx;
      }
      if (parent[q] < 0) continue;
      const other = rootOf(parent, q);
      if (root < 0) {
        root = other;
        next[tail[root]] = p;
        tail[root] = p;
        area[root]++;
        parent[p] = root;
        grown(root, now);
      } else if (other !== root) {
        root = join(root, other, now);
      }
    }
    if (root < 0) {
      head[p] = p;
      tail[p] = p;
      area[p] = 1;
      limit[p] = grownArea(1);
      birth[p] = now;
      parent[p] = p;
    }
  }
  return found;
}

/** First pixel of the area that a pixel belongs to; shortens the way there. */
function rootOf(parent: Int32Array, pixel: number): number {
  let p = pixel;
  while (parent[p] !== p) {
    parent[p] = parent[parent[p]];
    p = parent[p];
  }
  return p;
}

/** An area counts as something else once it has grown by 15 %, or by a rim one and a half pixels wide. */
function grownArea(area: number): number {
  return area + Math.max(0.15 * area, 6 * Math.sqrt(area));
}
