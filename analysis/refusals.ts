/** A card patch by its name, a step by its exposure in seconds, or what else is marked, in English: "the swatch". */
export type Marked = { readonly patch: string } | { readonly seconds: number } | string;

/** What is wrong with a value that a program or a person wrote, and where. */
export interface Issue {
  /** `steps[2].seconds`; empty for the whole. */
  readonly place: string;
  readonly wrong: 'missing' | 'kind' | 'least' | 'most' | 'choice' | 'unknown' | 'other';
  /** The kind that was expected, the least or most allowed, the choices, or the names that are not known. */
  readonly expected: string | number | readonly string[] | null;
}

/** Another sentence of the analysis, as a `Phrase` is. */
interface Reason {
  readonly id: string;
  readonly values: Readonly<Record<string, unknown>>;
}
type None = Readonly<Record<string, never>>;
type Range = { readonly least: number; readonly most: number };
type Size = { readonly widthPx: number; readonly heightPx: number };

/** Refusals of the analysis: which there are, and the numbers in each. Part of `PhraseValues`, with the same rules. */
export interface RefusalValues {
  // The photo's file
  'file-empty': None;
  /** `what`: in English, one of a closed list ("a PDF document"). */
  'file-kind': { readonly what: string };
  'file-moving': None;
  'file-damaged': None;
  'file-see-through': None;
  /** `what`: in English, one of a closed list; `code`, `space`, `channels`: the part of it that varies. */
  'colours-unsupported': { readonly why: ColoursWhy; readonly detail: string };
  'photo-large': { readonly megapixels: number; readonly most: number };
  'photo-tiny': Size & { readonly least: number };
  // Marks
  'mark-outside': Size & { readonly of: Marked };
  'mark-small': Size & { readonly of: Marked };
  'mark-empty': { readonly of: Marked };
  'mark-crossed': { readonly of: Marked };
  'marks-on-one-place': { readonly one: Marked; readonly other: Marked };
  'mark-twice': { readonly seconds: number };
  'mark-of-no-step': { readonly seconds: number; readonly known: readonly number[] };
  'mark-of-no-patch': { readonly patch: string; readonly known: readonly string[] };
  'marks-unreadable': { readonly issue: Issue; readonly sheet: boolean };
  'taps-unreadable': { readonly issue: Issue };
  'tap-outside': Size & { readonly of: 'card' | 'strip' };
  'card-unseen': { readonly where: 'photo' | 'tap' | 'sheet' };
  'strip-unseen': { readonly steps: number; readonly where: 'photo' | 'tap' | 'sheet' };
  'photos-differ': None;
  'swatch-unmarked': None;
  // Strip and card as they are described
  'strip-unreadable': { readonly issue: Issue };
  'strip-missing': None;
  'step-too-short': { readonly seconds: number; readonly least: number };
  'steps-not-rising': { readonly step: number; readonly seconds: number; readonly before: number };
  'patch-one-measure': { readonly patch: string };
  'patch-in-percent': { readonly patch: string; readonly Y: number };
  'patch-beyond': { readonly patch: string; readonly as: 'Y' | 'L' | 'density'; readonly value: number };
  'patch-twice': None;
  'card-unknown': { readonly card: string; readonly known: readonly string[] };
  'name-unfit': { readonly of: 'dye' | 'cloth' | 'light' };
  // Target, curve and plan
  'target-unclear': { readonly text: string };
  'target-beyond': {
    readonly kind: 'L' | 'depth' | 'swatch' | 'unknown';
    /** L*; percent; L*, a*, b*; nothing. */
    readonly values: readonly number[];
  };
  'point-unfit': {
    readonly seconds: number;
    readonly L: number;
    readonly a: number;
    readonly b: number;
    readonly uL: number;
  };
  'covariance-unfit': { readonly count: number };
  'plan-shift-unfit': { readonly stops: number; readonly most: number };
  'plan-target-paler': { readonly targetL: number; readonly baseL: number };
  'plan-times-unfit': None;
  'plan-ratio-unfit': { readonly ratio: number };
  'plan-exposures-missing': None;
  'plan-u-unfit': { readonly uL: number };
  'plan-spacing-unfit': Range & { readonly stops: number };
  'plan-count-unfit': Range & { readonly count: number };
  'plan-time-unfit': {
    readonly of: 'shortest' | 'added' | 'guess' | 'listed' | 'maker' | 'exposure' | 'clock';
    readonly seconds: number;
  };
  'plan-sky-unknown': { readonly sky: string; readonly known: readonly string[] };
  'plan-sky-under-lamp': None;
  'time-unclear': { readonly text: string };
  'time-long': { readonly text: string; readonly hours: number };
  'stops-unclear': { readonly text: string };
  'stops-many': { readonly text: string; readonly most: number };
  'timer-unfit': Range & { readonly timerStep: number };
  'plan-id-unfit': { readonly id: string; readonly most: number };
  // Several strips, and the bed
  'compare-too-few': None;
  'compare-beyond': { readonly depthPercent: number; readonly targetL: number | null };
  'shift-missing': None;
  'scraps-missing': None;
  'aim-beyond': { readonly L: number };
  'chart-too-short': { readonly least: number; readonly count: number };
  'average-unfit': { readonly weight: number; readonly sigma: number };
  'hours-unfit': None;
  'bed-rows-unfit': Range & { readonly rows: number };
  'bed-grid-unfit': Range & { readonly rows: number; readonly columns: number };
  'bed-cell-unfit': None;
  'bed-tolerance-unfit': Range & { readonly percent: number };
  'bed-sheet-small': None;
  'bed-card-on-sheet': { readonly patch: string };
  // What the server refuses before or after the analysis: one list, one place to translate
  'request-unfit': { readonly issue: Issue };
  'photos-many': { readonly most: number; readonly given: number };
  'names-missing': { readonly of: readonly ('dye' | 'cloth' | 'light')[] };
  'no-curve-beside': { readonly reason: Reason | null };
  'no-curve-to-go-by': { readonly reason: Reason | null };
  'no-curve-to-write': None;
  'strips-of-different': None;
  'id-taken': None;
  'name-taken': None;
  'names-nothing': None;
  /** `what`: in English, one of a closed list ("reading"). */
  'not-in-book': { readonly what: string };
  'day-to-come': None;
  'print-pieces': { readonly pieces: number };
  'control-bare': None;
  'control-unheld': None;
  'control-without-strip': None;
  'control-of-another': None;
  'target-unfit': None;
  'upload-large': { readonly megabytes: number };
  'took-long': { readonly seconds: number };
  'phones-many': { readonly most: number };
  'photo-memory': None;
  'archive-room': { readonly megabytes: number };
  /** `why`: in English, one of a list that a test holds to what the server says. */
  'archive-refused': { readonly as: 'none' | 'damaged' | 'huge'; readonly why: string };
}

/** Why colours can't be turned into light; `detail` beside it is what varies, such as the name of a colour space. */
export type ColoursWhy =
  | 'profile-damaged'
  | 'profile-unreadable'
  | 'profile-incomplete'
  | 'profile-space'
  | 'hdr'
  | 'code'
  | 'channels'
  | 'cmyk'
  | 'space'
  | 'depth';
