import type { Curve } from '../curve/curve.ts';

/** The depth that the printer wants. */
export type Target =
  | { readonly kind: 'L'; readonly L: number }
  | { readonly kind: 'depth'; readonly percent: number }
  | { readonly kind: 'full' }
  | { readonly kind: 'swatch'; readonly L: number; readonly a: number; readonly b: number };

export type AdviceStatus = 'inside' | 'beyond' | 'unattainable' | 'too-few-steps';

export type Verdict = 'washed-out' | 'building' | 'full-depth' | 'overexposed';

/** The next strip to make, and what it is expected to do to the interval. */
export interface NextStrip {
  readonly seconds: readonly number[];
  readonly reason: string;
  /** Expected width in stops of the 90 % interval after it is made; null where it can't be computed. */
  readonly expectedWidthStops: number | null;
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
  /** `seconds` rounded to what the timer can set, and what depth that gives. */
  readonly roundedSeconds: number | null;
  readonly roundedL: number | null;
  readonly roundedDepthPercent: number | null;
  /** One or two sentences for a printer, numbers included. */
  readonly sentence: string;
  readonly nextStrip: NextStrip | null;
}

/** What is known of the curve: fitted, or why not. */
export type CurveOutcome =
  | { readonly kind: 'fitted'; readonly curve: Curve }
  | { readonly kind: 'too-few-steps'; readonly message: string }
  | { readonly kind: 'blank'; readonly message: string };
