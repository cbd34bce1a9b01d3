/** The time axis of a printed curve: equal distances are equal stops, the unexposed base in its own column at the left. */
export interface ReportAxis {
  readonly left: number;
  readonly right: number;
  /** Where the exposed part begins: right of the base's column where there is one. */
  readonly start: number;
  /** Middle of the base's column; null where the strip has no base. */
  readonly base: number | null;
  readonly shortest: number;
  readonly longest: number;
  readonly first: number;
  readonly last: number;
  readonly place: (seconds: number) => number;
}

const BASE_WIDTH = 30;
const STOPS_BEFORE = 0.5;
const STOPS_BEYOND = 1;

/**
 * Lays out the steps' times, in seconds, between two places on the paper.
 *
 * @returns null where nothing was exposed.
 */
export const reportAxis = (seconds: readonly number[], left: number, right: number): ReportAxis | null => {
  const exposed = seconds.filter((s) => s > 0);
  if (exposed.length === 0) return null;
  const shortest = Math.min(...exposed);
  const longest = Math.max(...exposed);
  const hasBase = seconds.includes(0);
  const start = hasBase ? left + BASE_WIDTH : left;
  const first = shortest * 2 ** -STOPS_BEFORE;
  const last = longest * 2 ** STOPS_BEYOND;
  const perStop = (right - start) / Math.log2(last / first);
  return {
    left,
    right,
    start,
    base: hasBase ? left + BASE_WIDTH / 2 : null,
    shortest,
    longest,
    first,
    last,
    place: (s) => Math.min(right, Math.max(start, start + Math.log2(s / first) * perStop)),
  };
};

/** Which of these places can carry a label so wide without touching another; the last one comes first. */
export const labelled = (places: readonly number[], width: number): readonly boolean[] => {
  const shown = places.map(() => false);
  let next = Number.POSITIVE_INFINITY;
  for (let i = places.length - 1; i >= 0; i--)
    if (next - places[i] >= width) {
      shown[i] = true;
      next = places[i];
    }
  return shown;
};
