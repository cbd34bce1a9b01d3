/** What u(L*) is made of; each a standard uncertainty in L*. */
export interface UncertaintyBudget {
  readonly step: number;
  readonly card: number;
  readonly illumination: number;
  readonly tone: number;
}

/** One exposed area as read: CIELAB relative to the perfect white, D65, 2°. */
export interface Step {
  readonly seconds: number;
  readonly L: number;
  readonly a: number;
  readonly b: number;
  readonly chroma: number;
  /** Degrees 0..360. */
  readonly hue: number;
  /** Luminous reflectance factor Y, 0..1. */
  readonly Y: number;
  /** ΔE00 to the base; null where the strip has no base. */
  readonly deltaEToBase: number | null;
  /** ΔE00 to the step before; null for the first. */
  readonly deltaEToPrevious: number | null;
  /** Visual reflectance density, -log10 Y. */
  readonly density: number;
  /** Kubelka–Munk K/S index in the channel where this dye absorbs most, above the base. */
  readonly ksIndex: number;
  /** Standard deviation of tile L* over the step. */
  readonly unevennessL: number;
  /** Share of pixels clipped in the file, 0..1. */
  readonly clippedShare: number;
  readonly tilesUsed: number;
  readonly tilesDropped: number;
  /** One standard uncertainty of L*. */
  readonly uL: number;
  readonly budget: UncertaintyBudget;
}

/** All steps of one strip in rising exposure, and how their L* errors hang together. */
export interface StepSet {
  readonly steps: readonly Step[];
  /** n×n covariance of the steps' L*, every source included; the diagonal is uL². */
  readonly covarianceL: readonly (readonly number[])[];
  /** The part of it that every photo of this strip beside this card has in common: the cloth itself, and the card. */
  readonly sharedCovarianceL: readonly (readonly number[])[];
  /** The part that changes its sign where strip and card are turned end for end under the same light. */
  readonly slantCovarianceL: readonly (readonly number[])[];
  /** Direction in the photo from the first step to the last, degrees; null where the steps do not lie along a line. */
  readonly directionDegrees: number | null;
}
