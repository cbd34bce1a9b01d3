/** A run of measurements along a line, several planes at once; plane-major, each of the same length. */
export interface Profile {
  readonly planes: readonly Float64Array[];
  /** How much each sample counts, 0..1; small on the ramps between pieces. */
  readonly weights: Float64Array;
  /** Noise of one sample of each plane, standard deviation. */
  readonly noise: readonly number[];
  /** Samples that vary together, as blur and weave make them: so many count as one. */
  readonly correlated: number;
  /** What falls from step to step as dye builds up, per sample, ln. */
  readonly paleness: Float64Array;
  /** How little each sample looks like a strip's: 0 not at all out of place, 1 quite. */
  readonly strange: Float64Array;
  /** How surely each sample lies on a band of its own, set off on both sides: 1 on cloth, 0 on the table. */
  readonly cloth: Float64Array;
  /** Steepest slope within one piece that falling light may cause, first plane, per sample. */
  readonly maxSlope: number;
}

export interface StepPrior {
  readonly count: number;
  /** Standard deviation of ln(width / common width). */
  readonly widthSpread: number;
  /** Common widths to try, in samples. */
  readonly widths: readonly number[];
  /** Cost of each piece of the profile that is not a step. */
  readonly outsideCost: number;
  /** Cost of a step that is strange throughout. */
  readonly strangeCost: number;
  /** Cost of each tenth of ln by which a border changes paleness the wrong way. */
  readonly reversalCost: number;
}

export interface StepSplit {
  /** count + 1 borders, in samples, rising. */
  readonly borders: readonly number[];
  /** Minus log posterior up to a constant. */
  readonly cost: number;
  /** Common width, samples. */
  readonly width: number;
}

/** Costs of cutting one profile; build once, split many times. */
export interface Cutting {
  readonly length: number;
  /** Cost of samples i..j-1 as one piece: at [j * (length + 1) + i], since pieces are tried by their ends. */
  readonly piece: Float64Array;
  readonly profile: Profile;
}

/** Prepares a profile for cutting: what each stretch of it costs as one piece of even tone under falling light. */
export function cutting(profile: Profile): Cutting {
  const length = profile.planes[0].length;
  const piece = new Float64Array((length + 1) * (length + 1));
  profile.planes.forEach((plane, p) => {
    const scale = 1 / (2 * profile.noise[p] ** 2 * profile.correlated);
    const limit = p === 0 ? profile.maxSlope : 0;
    for (let i = 0; i < length; i++) {
      let n = 1e-9;
      let sx = 0;
      let sxx = 0;
      let sy = 0;
      let syy = 0;
      let sxy = 0;
      for (let j = i; j < length; j++) {
        const w = profile.weights[j];
        const x = j - i;
        const y = plane[j] - plane[i];
        n += w;
        sx += w * x;
        sxx += w * x * x;
        sy += w * y;
        syy += w * y * y;
        sxy += w * x * y;
        let rest = syy - (sy * sy) / n;
        if (limit > 0) {
          const vxx = sxx - (sx * sx) / n;
          const vxy = sxy - (sx * sy) / n;
          const slope = vxx > 0 ? Math.min(limit, Math.max(-limit, vxy / vxx)) : 0;
          rest += slope * slope * vxx - 2 * slope * vxy;
        }
        piece[(j + 1) * (length + 1) + i] += Math.max(0, rest) * scale;
      }
    }
  });
  return { length, piece, profile };
}

/**
 * Where do the steps begin and end? Finds the `count` neighbouring pieces that explain the profile best as steps of
 * about one width, each darker than the one before (`darker` = 1) or lighter (`darker` = -1), with whatever lies
 * before and after cut freely. Exact, by dynamic programming. `allowed` may keep out first or last borders; a split
 * that costs `bound` or more is none.
 */
export function splitSteps(
  cut: Cutting,
  prior: StepPrior,
  darker: 1 | -1,
  allowed: { readonly first?: (border: number) => boolean; readonly last?: (border: number) => boolean } = {},
  bound = Number.POSITIVE_INFINITY,
): StepSplit | undefined {
  const { length, piece } = cut;
  const stride = length + 1;
  const before = freeCuts(cut, prior.outsideCost);
  const after = freeCutsFromEnd(cut, prior.outsideCost);
  const strange = new Float64Array(stride);
  for (let i = 0; i < length; i++) strange[i + 1] = strange[i] + cut.profile.strange[i] * prior.strangeCost;
  let best: StepSplit | undefined;
  for (const width of prior.widths) {
    const least = Math.max(2, Math.floor(width * Math.exp(-3 * prior.widthSpread)));
    const most = Math.min(length, Math.ceil(width * Math.exp(3 * prior.widthSpread)));
    if (most < least || least * prior.count > length) continue;
    const widthCost = new Float64Array(most + 1);
    for (let w = least; w <= most; w++)
      widthCost[w] = Math.log(w / width) ** 2 / (2 * prior.widthSpread ** 2);
    const wrong = wrongWay(cut.profile.paleness, width, darker, prior.reversalCost);
    let cost = new Float64Array(stride).fill(Number.POSITIVE_INFINITY);
    for (let i = 0; i <= length; i++) if (!allowed.first || allowed.first(i)) cost[i] = before[i];
    const from: Int32Array[] = [];
    // No cost is negative: what is dearer already than the best in the end is no way to a better one.
    const dearest = best?.cost ?? bound;
    for (let k = 0; k < prior.count; k++) {
      const next = new Float64Array(stride).fill(Number.POSITIVE_INFINITY);
      const origin = new Int32Array(stride).fill(-1);
      for (let j = least; j <= length; j++) {
        const border = k < prior.count - 1 ? wrong[j] : 0;
        const row = j * stride;
        for (let w = least, i = j - least; w <= most && i >= 0; w++, i--) {
          if (cost[i] >= dearest) continue;
          const total = cost[i] + piece[row + i] + widthCost[w] + (strange[j] - strange[i]) / w + border;
          if (total < next[j]) {
            next[j] = total;
            origin[j] = i;
          }
        }
      }
      from.push(origin);
      cost = next;
    }
    let end = -1;
    let total = dearest;
    for (let j = 0; j <= length; j++) {
      if (allowed.last && !allowed.last(j)) continue;
      if (cost[j] + after[j] < total) {
        total = cost[j] + after[j];
        end = j;
      }
    }
    if (end < 0) continue;
    const borders = [end];
    for (let k = prior.count - 1, j = end; k >= 0; k--) {
      j = from[k][j];
      borders.unshift(j);
    }
    best = { borders, cost: total, width };
  }
  return best;
}

/** Cheapest free cutting of the samples before each border. */
export function freeCuts({ length, piece }: Cutting, perPiece: number): Float64Array {
  const cost = new Float64Array(length + 1).fill(Number.POSITIVE_INFINITY);
  cost[0] = 0;
  for (let j = 1; j <= length; j++) {
    for (let i = 0; i < j; i++) {
      const total = cost[i] + piece[j * (length + 1) + i] + perPiece;
      if (total < cost[j]) cost[j] = total;
    }
  }
  return cost;
}

/** Cheapest free cutting of the samples from each border on. */
export function freeCutsFromEnd({ length, piece }: Cutting, perPiece: number): Float64Array {
  const cost = new Float64Array(length + 1).fill(Number.POSITIVE_INFINITY);
  cost[length] = 0;
  for (let i = length - 1; i >= 0; i--) {
    for (let j = i + 1; j <= length; j++) {
      const total = cost[j] + piece[j * (length + 1) + i] + perPiece;
      if (total < cost[i]) cost[i] = total;
    }
  }
  return cost;
}

/**
 * Cost of a border between two steps where paleness changes the wrong way, from the middles on either side, or
 * where something between them is paler or deeper than both: the cloth's margin, or the table.
 */
export function wrongWay(
  paleness: Float64Array,
  width: number,
  darker: 1 | -1,
  costPerTenth: number,
): Float64Array {
  const length = paleness.length;
  const near = Math.max(2, Math.round(width * 0.15));
  const far = Math.max(near + 1, Math.round(width * 0.6));
  const sums = new Float64Array(length + 1);
  for (let i = 0; i < length; i++) sums[i + 1] = sums[i] + paleness[i];
  const mean = (a: number, b: number) => {
    const [i, j] = [Math.max(0, a), Math.min(length, b)];
    return j > i ? (sums[j] - sums[i]) / (j - i) : Number.NaN;
  };
  const cost = new Float64Array(length + 1);
  for (let j = 0; j <= length; j++) {
    const before = mean(j - far, j - near);
    const after = mean(j + near, j + far);
    const rise = darker * (after - before);
    if (rise > 0.02) cost[j] += Math.min(3, rise / 0.1) * costPerTenth;
    let outside = 0;
    for (let i = Math.max(0, j - near); i < Math.min(length, j + near); i++) {
      outside = Math.max(
        outside,
        paleness[i] - Math.max(before, after),
        Math.min(before, after) - paleness[i],
      );
    }
    if (outside > 0.2) cost[j] += Math.min(1.5, outside / 0.3) * costPerTenth;
  }
  return cost;
}
