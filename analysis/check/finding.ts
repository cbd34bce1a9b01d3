import type { Phrase } from '../phrases.ts';

/** What a photo check can find. */
export type FindingCode =
  | 'photo-blurred'
  | 'shadow-edge'
  | 'glare'
  | 'card-clipped'
  | 'step-clipped'
  | 'card-small'
  | 'steps-small'
  | 'photo-saved-small'
  | 'photo-far'
  | 'light-mixed'
  | 'light-uneven'
  | 'photo-oblique';

/** Something seen in a photo that spoils a reading, or could. */
export interface Finding {
  readonly code: FindingCode;
  /** 'retake': numbers will be off, a new photo is worth the minute; 'note': good to know for the next one. */
  readonly severity: 'note' | 'retake';
  /** Card patch or step it was seen at; missing where it is the whole photo. */
  readonly where?: string;
  /** What was seen, with its number, and what to do when retaking. */
  readonly message: string;
  readonly phrase: Phrase;
}
