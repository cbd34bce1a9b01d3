/**
 * How far something has come, 0..1, after an exposure, and how that changes with the logarithm of its middle (seconds)
 * and of its steepness.
 */
export interface Share {
  readonly value: number;
  readonly byMiddle: number;
  readonly bySteepness: number;
}

const none: Share = { value: 0, byMiddle: 0, bySteepness: 0 };

/** 1 − exp(−(E/tau)^p). `middle`: ln tau; `steepness`: ln p. */
export function exponentialShare(seconds: number, middle: number, steepness: number): Share {
  if (!(seconds > 0)) return none;
  const p = Math.exp(steepness);
  const log = p * (Math.log(seconds) - middle);
  const z = Math.exp(log);
  const slope = Math.exp(log - z);
  return { value: -Math.expm1(-z), byMiddle: -p * slope, bySteepness: log * slope };
}

/**
 * 1 − exp(−(E − used)/tau) with used = d·(1 − exp(−E/d)): first order, after an inhibitor has used up light of a dose d.
 * `middle`: ln tau; `steepness`: ln(d/tau).
 */
export function delayedShare(seconds: number, middle: number, steepness: number): Share {
  if (!(seconds > 0)) return none;
  const x = seconds / Math.exp(middle);
  const d = Math.exp(steepness);
  const left = Math.exp(-x / d);
  const z = x + d * Math.expm1(-x / d);
  const decay = Math.exp(-z);
  // dz/d ln tau = −x·dz/dx; dz/dx = 1 − left; dz/d ln d = d·(left − 1) + x·left.
  return {
    value: -Math.expm1(-z),
    byMiddle: -decay * x * (1 - left),
    bySteepness: decay * (d * (left - 1) + x * left),
  };
}

/** 1 / (1 + (half/E)^n). `middle`: ln half; `steepness`: ln n. */
export function logisticShare(seconds: number, middle: number, steepness: number): Share {
  if (!(seconds > 0)) return none;
  const n = Math.exp(steepness);
  const log = n * (Math.log(seconds) - middle);
  const value = 1 / (1 + Math.exp(-log));
  const slope = value / (1 + Math.exp(log));
  return { value, byMiddle: -n * slope, bySteepness: slope === 0 ? 0 : log * slope };
}
