/** Share of belief that an interval holds: 5 % is left out at either end. */
const leftOut = 0.05;

/** The 90 % interval of draws, some of which may be Infinity. Linear between neighbours. */
export function interval90(draws: readonly number[]): { low: number; high: number } {
  const sorted = [...draws].sort((one, other) => one - other);
  return { low: quantile(sorted, leftOut), high: quantile(sorted, 1 - leftOut) };
}

function quantile(sorted: readonly number[], share: number): number {
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(sorted.length - 1, below + 1);
  const rest = place - below;
  return rest === 0 || sorted[below] === sorted[above]
    ? sorted[below]
    : sorted[below] + rest * (sorted[above] - sorted[below]);
}
