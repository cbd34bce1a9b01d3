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
