/** The p-th percentile, 0..100, by linear interpolation between the sorted values. */
export const percentile = (values: readonly number[], p: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const at = ((sorted.length - 1) * p) / 100;
  const low = Math.floor(at);
  return sorted[low] + (at - low) * ((sorted[low + 1] ?? sorted[low]) - sorted[low]);
};

export const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((s, v) => s + v * v, 0) / values.length);

/** How many are true, in percent. */
export const share = (flags: readonly boolean[]): string =>
  `${((100 * flags.filter(Boolean).length) / flags.length).toFixed(1)} %`;

const WIDTHS = [22, 12, 16, 22, 18, 16, 16];

export const row = (cells: readonly string[]): string =>
  cells
    .map((cell, i) => cell.padEnd(WIDTHS[i] ?? 16))
    .join(' ')
    .trimEnd();
