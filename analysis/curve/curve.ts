import type { Phrase } from '../phrases.ts';

/** One point of the characteristic curve. */
export interface CurvePoint {
  readonly seconds: number;
  readonly L: number;
  readonly a: number;
  readonly b: number;
  /** One standard uncertainty of L*. */
  readonly uL: number;
}

export type CurveModel = 'build-up' | 'logistic' | 'monotone';

/** A fitted number with its standard uncertainty (null where the data can't give one) and unit. */
export interface Parameter {
  readonly value: number;
  readonly u: number | null;
  readonly unit: string;
}

/**
 * K/S = ksBase + k·(1 − exp(−(E/tauSeconds)^p)) [first-order]; reflectance [Kubelka-Munk], L* from it [CIE15]. With
 * `delaySeconds` d, p is 1 and E counts less what is used up first: E − d·(1 − exp(−E/d)).
 */
export interface BuildUpShape {
  readonly model: 'build-up';
  readonly ksBase: number;
  readonly k: number;
  readonly tauSeconds: number;
  readonly p: number;
  /** Dose that an inhibitor uses up first; none where left out. */
  readonly delaySeconds?: number;
}

/**
 * v = base + (deepest − base) / (1 + (halfSeconds/E)^n), where v is L* itself or K/S: the former levels off in what is
 * seen of the dye, the latter in the dye.
 */
export interface LogisticShape {
  readonly model: 'logistic';
  readonly over: 'L*' | 'K/S';
  readonly baseL: number;
  readonly deepestL: number;
  readonly halfSeconds: number;
  readonly n: number;
}

/** Cubic Hermite pieces through falling L* over x = ln(1 + E/unitSeconds); level outside the knots. */
export interface MonotoneShape {
  readonly model: 'monotone';
  readonly unitSeconds: number;
  readonly x: readonly number[];
  readonly L: readonly number[];
  readonly slopes: readonly number[];
}

/** What it takes to evaluate a curve. Plain data. */
export type CurveShape = BuildUpShape | LogisticShape | MonotoneShape;

/** How a* and b* go with depth: polynomials in depth 0..1, held at the ends of the depths seen. */
export interface ColourPath {
  readonly a: readonly number[];
  readonly b: readonly number[];
  readonly depthFrom: number;
  readonly depthTo: number;
}

/** How sure a step's exposure time is. */
export interface TimerError {
  /** Half-width of a uniform error, in seconds, of every step's time. */
  readonly seconds: number;
  /** Relative standard uncertainty of every step's time: handling of the cover. */
  readonly share: number;
}

/**
 * The characteristic curve of one dye on one cloth under one light: L* against exposure. Plain data, so that it
 * can be stored and sent; `lightnessAt` and `exposureFor` evaluate it.
 */
export interface Curve {
  readonly model: CurveModel;
  /** Why this model was chosen, in one sentence with numbers. */
  readonly reason: string;
  readonly phrase?: Phrase;
  readonly runnerUp: CurveModel | null;
  readonly parameters: Readonly<Record<string, Parameter>>;
  /** All points, in rising exposure, those left out of the fit included. */
  readonly points: readonly CurvePoint[];
  /** n×n covariance of the points' L*, in the order of `points`: as read, with the floor of independent error. */
  readonly covarianceL: readonly (readonly number[])[];
  /** Which of `points` took part in the fit: all but the tail of a reversal. */
  readonly used: readonly number[];
  readonly timer: TimerError;
  /** The chosen model, ready to evaluate. */
  readonly shape: CurveShape;
  /** Share of belief in the chosen shape, 0..1, from the differences of AICc. */
  readonly shapeWeight: number;
  /** Other shapes that fit too, with their share of belief: their difference is part of the interval. */
  readonly alternatives: readonly { readonly shape: CurveShape; readonly weight: number }[];
  /** Sum of squared whitened residuals, and the degrees of freedom left. */
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  /** Independent scatter of the steps beyond their stated uncertainty, L*; 0 where the fit is as good as it should be. */
  readonly extraScatterL: number;
  readonly colour: ColourPath;
  /** True where the strip has an unexposed step; without it the base is an extrapolation. */
  readonly baseSeen: boolean;
  /** L* of the unexposed base: fitted. */
  readonly baseL: number;
  readonly baseU: number | null;
  /** The deepest L* attainable: fitted asymptote or mean of the plateau, never the single deepest step. */
  readonly deepestL: number;
  readonly deepestU: number | null;
  /** Shortest and longest exposed step, in seconds, that took part in the fit. */
  readonly shortestSeconds: number;
  readonly longestSeconds: number;
  /** The straight part, where the slope against log exposure is at least 3/4 of the steepest: toe before, shoulder after. */
  readonly straight: { readonly fromSeconds: number; readonly toSeconds: number } | null;
  /** Stops from 10 % to 90 % depth. */
  readonly exposureScaleStops: number | null;
  /** L* per stop at half depth (positive: gets darker). */
  readonly contrastLPerStop: number | null;
  /** Seconds to 90 % depth, and to within 1 L* of the deepest. */
  readonly secondsTo90: number | null;
  readonly secondsToFull: number | null;
  /** True where L* rises again beyond the shoulder by more than its uncertainty. */
  readonly reversed: boolean;
  /** First step, in seconds, of the reversed tail; null where there is none. */
  readonly reversedFromSeconds: number | null;
  /** What a reader should know of this curve, in sentences; empty where all is well. */
  readonly remarks: readonly string[];
  /** The same remarks for other languages, in the same order. */
  readonly remarkPhrases?: readonly Phrase[];
}

/** Why there is no curve, and what to do. */
interface NoCurve {
  readonly message: string;
  readonly phrase?: Phrase;
  readonly points: readonly CurvePoint[];
}

/** What is known of the curve: fitted, or why not and what to do. `points` in rising exposure. */
export type CurveOutcome =
  | { readonly kind: 'fitted'; readonly curve: Curve }
  | ({ readonly kind: 'too-few-steps' } & NoCurve)
  | ({ readonly kind: 'blank' } & NoCurve)
  /** The photo shows another number of steps than there are times: which time belongs to which step is not known. */
  | ({ readonly kind: 'count-differs' } & NoCurve);
