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
 * The characteristic curve of one dye on one cloth under one light: L* against exposure. Plain data, so that it
 * can be stored and sent; `lightnessAt` and `exposureFor` evaluate it.
 */
export interface Curve {
  readonly model: CurveModel;
  /** Why this model was chosen, in one sentence with numbers. */
  readonly reason: string;
  readonly runnerUp: CurveModel | null;
  readonly parameters: Readonly<Record<string, Parameter>>;
  readonly points: readonly CurvePoint[];
  /** L* of the unexposed base: fitted. */
  readonly baseL: number;
  /** The deepest L* attainable: fitted asymptote or mean of the plateau, never the single deepest step. */
  readonly deepestL: number;
  readonly deepestU: number | null;
  /** Stops from 10 % to 90 % depth. */
  readonly exposureScaleStops: number | null;
  /** L* per stop at half depth (positive: gets darker). */
  readonly contrastLPerStop: number | null;
  /** Seconds to 90 % depth, and to within 1 L* of the deepest. */
  readonly secondsTo90: number | null;
  readonly secondsToFull: number | null;
  /** True where L* rises again beyond the shoulder by more than its uncertainty. */
  readonly reversed: boolean;
}
