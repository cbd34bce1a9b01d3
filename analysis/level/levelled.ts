import type { Warning } from '../errors.ts';
import type { Rgb } from '../photo/photo.ts';
import type { Phrase } from '../phrases.ts';
import type { PatchMean } from '../tiles/robustMean.ts';

/** How the table light was evened out. */
export interface Illumination {
  readonly method: 'surround' | 'within-patches' | 'base-cloth' | 'card-ends';
  readonly accepted: boolean;
  readonly reason: string;
  readonly phrase?: Phrase;
  /** Largest over smallest light within the area of card and strip, as a ratio. */
  readonly fallOffRatio: number | null;
  /** Relative standard uncertainty left in a step's light. */
  readonly relativeU: number;
}

/** What was learnt of the camera's tone from the card. */
export interface Tone {
  readonly patchesUsed: number;
  readonly patchesRefused: readonly {
    readonly name: string;
    readonly reason: string;
    readonly phrase?: Phrase;
  }[];
  /** Log-log slope of recorded against true light in the middle of the range. */
  readonly exponent: number;
  /** Flare as a share of perfect white. */
  readonly flare: number;
  /** Largest leave-one-out residual, L*; null with fewer than three patches. */
  readonly leaveOneOutL: number | null;
  /** True with a single patch: only differences within the photo mean something. */
  readonly relative: boolean;
}

/** What a chart's colours told of the camera's channels. */
export interface ColourCorrection {
  /** 3×3, row-major, on linear reflectance in the file's primaries; rows add up to 1. The identity where not applied. */
  readonly matrix: readonly number[];
  readonly applied: boolean;
  /** Mean ΔE00 of the chart's colours as they are, and predicted by the others through the fitted matrix. */
  readonly withoutDeltaE: number;
  readonly withDeltaE: number;
}

/** One step as reflectance, table light, white balance and camera tone taken out. */
export interface LevelledStep {
  readonly seconds: number;
  /** Reflectance in the file's linear primaries; 1, 1, 1 is the perfect white. May leave 0..1. */
  readonly reflectance: Rgb;
  readonly mean: PatchMean;
}

/** n×n, steps in rising exposure. */
export type Covariance = readonly (readonly number[])[];

/** All steps as reflectance, and the covariance of their luminous reflectance Y by source. */
export interface Levelled {
  readonly steps: readonly LevelledStep[];
  readonly covarianceY: {
    readonly step: Covariance;
    readonly card: Covariance;
    readonly illumination: Covariance;
    readonly tone: Covariance;
  };
  /** The part of `illumination` that changes its sign where card and strip are turned end for end under the same light; 0 where the table told of the light. */
  readonly slantCovarianceY: Covariance;
  /** Reflectance of the marked swatch, as for steps; null where none is marked. */
  readonly swatch: Rgb | null;
  readonly illumination: Illumination;
  readonly tone: Tone;
  /** Null where the card has no colours. */
  readonly colour: ColourCorrection | null;
  readonly warnings: readonly Warning[];
}
