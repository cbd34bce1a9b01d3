/** A horizontal axis on which equal distances are equal stops, with the unexposed base parted off at its left end. */
export interface TimeAxis {
  readonly leftPx: number;
  readonly rightPx: number;
  /** Centre of the base's own column; null where the strip has none. */
  readonly basePx: number | null;
  /** Where the axis is broken between base and exposed steps. */
  readonly breakPx: number | null;
  readonly firstSeconds: number;
  readonly lastSeconds: number;
  /** Room that each step has along the axis. */
  readonly cellPx: number;
  /** Pixels from the left for an exposure above 0 s; kept on the axis. */
  readonly place: (seconds: number) => number;
  /** Exposure at so many pixels. */
  readonly secondsAt: (px: number) => number;
}

const MOST_CELL_PX = 116;

/** An answer may lie one stop beyond the longest step, so the axis goes as far. */
const STOPS_BEYOND = 1.08;

/** Lays the steps of a strip out between `leftPx` and `rightPx`. `seconds` rising; needs one above 0. */
export const layTimeAxis = (seconds: readonly number[], leftPx: number, rightPx: number): TimeAxis => {
  const exposed = seconds.filter((s) => s > 0);
  const shortest = exposed[0];
  const longest = exposed[exposed.length - 1];
  const gaps = exposed.slice(1).map((s, i) => Math.log2(s / exposed[i]));
  const positiveGaps = gaps.filter((gap) => gap > 0);
  const leastGap = positiveGaps.length > 0 ? Math.min(...positiveGaps) : 1;
  const before = Math.min(1, Math.max(0.35, leastGap / 2 + 0.05));
  const stops = Math.log2(longest / shortest) + before + STOPS_BEYOND;

  const hasBase = seconds.some((s) => s === 0);
  const width = rightPx - leftPx;
  const perStop = hasBase ? width / (stops + Math.min(1.1, leastGap + 0.1)) : width / stops;
  const baseWidth = hasBase ? width - perStop * stops : 0;
  const start = leftPx + baseWidth;
  const firstSeconds = shortest * 2 ** -before;
  const lastSeconds = longest * 2 ** STOPS_BEYOND;

  return {
    leftPx,
    rightPx,
    basePx: hasBase ? leftPx + baseWidth / 2 : null,
    breakPx: hasBase ? start : null,
    firstSeconds,
    lastSeconds,
    cellPx: Math.min(MOST_CELL_PX, leastGap * perStop - 3),
    place: (s) => Math.min(rightPx, Math.max(start, start + Math.log2(s / firstSeconds) * perStop)),
    secondsAt: (px) => firstSeconds * 2 ** ((px - start) / perStop),
  };
};

/** Which of these places can carry a label `needPx` wide without touching the one before; ends come first. */
export const roomForLabels = (places: readonly number[], needPx: number): readonly boolean[] => {
  const shown = places.map(() => false);
  const last = places.length - 1;
  if (last < 0) return shown;
  shown[last] = true;
  let previous = Number.NEGATIVE_INFINITY;
  places.forEach((place, i) => {
    if (i === last || place - previous < needPx || places[last] - place < needPx) return;
    shown[i] = true;
    previous = place;
  });
  return shown;
};
