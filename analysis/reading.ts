import type { Advice, CurveOutcome, Verdict } from './advice/advice.ts';
import type { Warning } from './errors.ts';
import type { ColourCorrection, Illumination, Tone } from './level/levelled.ts';
import type { Marks } from './locate/marks.ts';
import type { MarksNeed } from './locate/marksNeeds.ts';
import type { Phrase } from './phrases.ts';
import type { Repeatability } from './steps/combinePhotos.ts';
import type { Step } from './steps/step.ts';

export interface StepReading extends Step {
  readonly verdict: Verdict;
  /** Why, in one sentence with the numbers. */
  readonly reason: string;
  readonly phrase?: Phrase;
}

/** Size, format and colour profile of a photo. */
export interface PhotoFacts {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly format: string;
  readonly profile: string;
}

/** Everything read from the photos of one strip. Plain data. */
export interface Reading {
  readonly strip: {
    readonly dye: string;
    readonly cloth: string;
    readonly light: string;
    readonly card: string;
  };
  readonly photo: PhotoFacts;
  /** Further photos of the strip, in the order in which they were given; missing where there was one photo. */
  readonly furtherPhotos?: readonly PhotoFacts[];
  /** Where things are in each of them, in the same order. */
  readonly furtherMarks?: readonly Marks[];
  /** How well several photos of the strip agree; null for a single photo. */
  readonly repeatability: Repeatability | null;
  readonly steps: readonly StepReading[];
  readonly covarianceL: readonly (readonly number[])[];
  readonly curve: CurveOutcome;
  readonly advice: Advice;
  readonly illumination: Illumination;
  readonly tone: Tone;
  /** What a chart's colours told of the camera; null for cards without colours. */
  readonly colour: ColourCorrection | null;
  readonly marks: Marks;
  /** Id of the plan whose code stands on the sheet in the photo; missing where none was read. */
  readonly planId?: string;
  /** What a person should settle before the marks are trusted, the most doubtful first; empty where nothing. */
  readonly needs: readonly MarksNeed[];
  readonly warnings: readonly Warning[];
  readonly methodVersion: string;
}
