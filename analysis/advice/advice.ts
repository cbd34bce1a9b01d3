import type { Phrase } from '../phrases.ts';

export type { CurveOutcome } from '../curve/curve.ts';

/** The depth that the printer wants. */
export type Target =
  | { readonly kind: 'L'; readonly L: number }
  | { readonly kind: 'depth'; readonly percent: number }
  | { readonly kind: 'full' }
  | { readonly kind: 'swatch'; readonly L: number; readonly a: number; readonly b: number };

export type AdviceStatus = 'inside' | 'beyond' | 'unattainable' | 'too-few-steps' | 'count-differs';

export type Verdict = 'washed-out' | 'building' | 'full-depth' | 'overexposed';

/** The next strip to make, and what it is expected to do to the interval. */
export interface NextStrip {
  /** Exposures in seconds, rising; 0 is an unexposed piece, which belongs on every strip. */
  readonly seconds: readonly number[];
  readonly reason: string;
  readonly phrase?: Phrase;
  /** Expected width in stops of the 90 % interval from the new strip alone; null where it can't be computed. */
  readonly expectedWidthStops: number | null;
  /** The same with both strips' steps fitted together. */
  readonly expectedTogetherStops: number | null;
}

/** The answer: how long to expose for the target. Times in seconds; null where there is no time to give. */
export interface Advice {
  readonly target: Target;
  readonly status: AdviceStatus;
  /** L* that the target means on this curve. */
  readonly targetL: number | null;
  readonly seconds: number | null;
  /** 90 % interval. */
  readonly low: number | null;
  readonly high: number | null;
  /** True where `high` is only as far as this strip can tell, one stop beyond its longest step. */
  readonly highOpen: boolean;
  /** Width of the interval in stops. */
  readonly widthStops: number | null;
  /** `seconds` rounded to what the timer can set, and what depth that gives. */
  readonly roundedSeconds: number | null;
  readonly roundedL: number | null;
  readonly roundedDepthPercent: number | null;
  /** ΔE00 left between the swatch and the nearest colour on the curve; null for other targets. */
  readonly swatchDeltaE: number | null;
  /** One or two sentences for a printer, numbers included. */
  readonly sentence: string;
  readonly nextStrip: NextStrip | null;
}
