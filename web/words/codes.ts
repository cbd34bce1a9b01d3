/** What happened, and what to do next. */
export interface Explanation {
  readonly what: string;
  readonly next: string;
}

/** Errors that only the page can meet: the server is gone, or its answer makes no sense. */
export type PageErrorCode = 'server-gone' | 'answer-unreadable';

/** Keys of the planner's cautions; a test holds the two lists together. */
export const CAUTION_KEYS = [
  'ultraviolet',
  'wiring',
  'mercury',
  'chemicals',
  'glass',
  'starting-point',
  'professional',
] as const;
export type CautionKey = (typeof CAUTION_KEYS)[number];

/** Warnings of readings and plans that have words of their own in every language; a test holds this to the analysis. */
export const WARNING_CODES = [
  'base-missing',
  'card-clipped',
  'card-patch-refused',
  'few-steps',
  'glare',
  'light-mixed',
  'light-not-evened',
  'light-uneven',
  'marks-uncertain',
  'moves-too-close',
  'other-light',
  'photo-blurred',
  'photo-far',
  'photo-oblique',
  'photo-saved-small',
  'range-too-narrow',
  'relative',
  'shadow-edge',
  'sky-uncertain',
  'step-clipped',
  'steps-merged',
  'steps-not-marked',
  'steps-too-coarse',
  'steps-too-fine',
  'sun-changes',
  'target-beyond-curve',
  'target-unattainable',
  'timer-too-coarse',
] as const;
export type WarningCode = (typeof WARNING_CODES)[number];

/** Notes of plans that have words of their own in every language. */
export const NOTE_CODES = [
  'cover',
  'intermittency',
  'lamp-warm-up',
  'middle-of-bed',
  'mixed-order',
  'one-stretch',
  'same-place',
  'same-wash',
  'sun-does-not-repeat',
  'sun-protection',
] as const;
export type NoteCode = (typeof NOTE_CODES)[number];
