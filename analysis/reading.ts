import type { Advice, CurveOutcome, Verdict } from './advice/advice.ts';
import type { Warning } from './errors.ts';
import type { Marks } from './locate/marks.ts';
import type { Step } from './steps/step.ts';

export interface StepReading extends Step {
  readonly verdict: Verdict;
  /** Why, in one sentence with the numbers. */
  readonly reason: string;
}

/** How the table light was evened out. */
export interface Illumination {
  readonly method: 'surround' | 'base-cloth' | 'card-ends' | 'turned-photo' | 'none';
  readonly accepted: boolean;
  readonly reason: string;
  /** Largest over smallest light within the area of card and strip, as a ratio. */
  readonly fallOffRatio: number | null;
  /** Relative standard uncertainty left in a step's light. */
  readonly relativeU: number;
}

/** What was learnt of the camera's tone from the card. */
export interface Tone {
  readonly patchesUsed: number;
  readonly patchesRefused: readonly { readonly name: string; readonly reason: string }[];
  /** Log-log slope of recorded against true light in the middle of the range. */
  readonly exponent: number;
  /** Flare as a share of perfect white. */
  readonly flare: number;
  /** Largest leave-one-out residual, L*; null with fewer than three patches. */
  readonly leaveOneOutL: number | null;
  /** True with a single patch: only differences within the photo mean something. */
  readonly relative: boolean;
}

/** Everything read from one photo of one strip. Plain data. */
export interface Reading {
  readonly strip: { readonly dye: string; readonly cloth: string; readonly light: string; readonly card: string };
  readonly photo: { readonly widthPx: number; readonly heightPx: number; readonly format: string; readonly profile: string };
  readonly steps: readonly StepReading[];
  readonly covarianceL: readonly (readonly number[])[];
  readonly curve: CurveOutcome;
  readonly advice: Advice;
  readonly illumination: Illumination;
  readonly tone: Tone;
  readonly marks: Marks;
  readonly warnings: readonly Warning[];
  readonly methodVersion: string;
}
