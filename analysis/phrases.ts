import type { RefusalValues } from './refusals.ts';

/** A card patch by its name, or a step by its exposure; 0 is the unexposed base. */
export type Area = { readonly patch: string } | { readonly seconds: number };

type None = Readonly<Record<string, never>>;
type Share = { readonly share: number };
type ClippedArea = { readonly area: Area; readonly more: number; readonly share: number };
type Evened = { readonly lacking: Phrase; readonly open: number };
type PatchPair = {
  readonly lighter: string;
  readonly darker: string;
  readonly seen: number;
  readonly known: number;
};

/**
 * What the analysis says about a reading, sentence by sentence, and the numbers in each. The English text stands where it
 * is said; other languages word these themselves. Shares are 0 to 1, times seconds, lengths pixels of the photo. What an
 * id's values mean never changes, since readings are kept: another sentence takes another id.
 */
export interface PhraseValues extends RefusalValues {
  // The photo
  blurred: { readonly spreadPx: number; readonly limitPx: number };
  'card-burnt': ClippedArea;
  'step-burnt': ClippedArea;
  'card-blocked': ClippedArea;
  'step-channel-zero': ClippedArea;
  'shadow-edge': { readonly area: Area; readonly share: number };
  glare: { readonly area: Area; readonly share: number };
  'light-uneven': { readonly factor: number };
  /** Null where the far end lies beyond the horizon. */
  oblique: { readonly factor: number | null };
  /** `filled`: how much of the photo card and strip span, where going closer helps. */
  'area-small': {
    readonly area: Area;
    readonly px: number;
    readonly leastPx: number;
    readonly filled: number | null;
  };
  'photo-far': Share;
  'photo-small': { readonly widthPx: number; readonly heightPx: number };
  'light-mixed': Share;
  // Where things are
  'sheet-paper': None;
  'steps-not-marked': { readonly missing: number; readonly of: number };
  'marks-uncertain': { readonly why: readonly Phrase[]; readonly needs: readonly Phrase[] };
  'count-differs': { readonly other: 'fewer' | 'more'; readonly of: number };
  'doubt-patch-look': None;
  'doubt-card-look': None;
  'doubt-card-rival': None;
  'doubt-card-faint': None;
  'doubt-direction': None;
  'doubt-place': None;
  'doubt-fewer': None;
  'doubt-more': None;
  'doubt-cloth-beside': None;
  'doubt-strip-rival': None;
  'doubt-bare-start': None;
  'doubt-few-borders': None;
  'doubt-strip-faint': None;
  'doubt-steps-alike': None;
  'doubt-uneven-width': None;
  'doubt-scraps-unclear': None;
  'doubt-more-pieces': None;
  'doubt-scraps-direction': None;
  'doubt-scraps-order': None;
  'doubt-scraps-not-darker': None;
  'need-card': None;
  'need-strip': None;
  'need-count': None;
  'need-direction': None;
  // Table light and card
  'hardly-any-table': None;
  'table-not-plain': None;
  'light-by-table': { readonly spread: number; readonly open: number };
  'light-by-base': Evened;
  'light-by-cards': Evened;
  'light-within-patches': Evened;
  'light-not-evened': { readonly reason: Phrase };
  'patch-left-out': { readonly patch: string; readonly reason: Phrase };
  'patch-clipped': { readonly share: number; readonly dark: boolean };
  'patch-uneven': Share;
  'patch-coloured': None;
  'one-lightness': None;
  'card-names-unknown': { readonly names: readonly string[] };
  'card-none-usable': {
    readonly refused: readonly { readonly patch: string; readonly reason: Phrase }[];
  };
  'card-order': { readonly lighter: string; readonly darker: string };
  'card-contrast-low': PatchPair;
  'card-contrast-high': PatchPair;
  'card-beyond-white': { readonly seconds: number };
  // The curve
  'curve-chosen': {
    readonly model: CurveName;
    readonly aicc: number;
    readonly other: CurveName;
    readonly otherAicc: number;
    readonly alike: boolean;
    readonly scatterL: number | null;
  };
  'curve-interpolated': { readonly scatterL: number; readonly mostL: number; readonly misfit: number };
  'curve-unsettled': None;
  'base-estimated': { readonly L: number };
  'deepest-open': None;
  'deepest-rough': { readonly L: number; readonly range: number };
  reversed: { readonly seconds: number };
  /** `exposed`: steps there are; `suggested`: times of which one would help, where there is one step. */
  'too-few-steps': {
    readonly exposed: number;
    readonly base: boolean;
    readonly suggested: readonly number[];
  };
  'all-alike': None;
  'colour-moves': { readonly deltaE: number };
  'blank-strip': None;
  // Why a step has its verdict
  'step-base': { readonly L: number };
  'step-not-told': { readonly deltaE: number; readonly least: number };
  'step-within-u': { readonly deltaE: number; readonly times: number; readonly u: number };
  'step-time-unsure': { readonly L: number };
  'step-no-base': { readonly L: number };
  'step-no-curve': { readonly deltaE: number };
  'step-reversed': { readonly L: number; readonly deepestL: number };
  /** Depths in percent. */
  'step-pale': { readonly depth: number; readonly least: number };
  'step-building': { readonly depth: number; readonly short: number; readonly deepestL: number };
  'step-over': { readonly fullSeconds: number; readonly stops: number };
  'step-deepest': { readonly within: number; readonly deepestL: number };
  // The next strip
  'next-after-light': { readonly seconds: number };
  'next-whole-curve': { readonly seconds: number };
  'next-steps': { readonly seconds: readonly number[]; readonly widthStops: number | null };
  // Several strips
  /** Sentences one after the other. */
  together: { readonly parts: readonly Phrase[] };
  'mixed-cloths': { readonly names: readonly string[] };
  'mixed-lights': { readonly names: readonly string[] };
  'dye-pair': {
    readonly first: string;
    readonly second: string;
    readonly depthPercent: number;
    readonly speed: Compared;
    readonly deepest: Compared;
  };
  // Another light
  transferred: { readonly shift: Interval; readonly factor: Interval };
  'scraps-off': {
    readonly palest: number;
    readonly deepest: number;
    readonly depths: readonly number[];
    readonly instead: 'quarter' | 'fourfold' | 'between';
  };
  'scraps-disagree': { readonly first: number; readonly last: number; readonly apart: number };
  'scraps-left-out': { readonly count: number; readonly palest: number; readonly deepest: number };
  'large-shift': None;
  'not-vouched': { readonly L: number; readonly baseL: number; readonly deepestL: number };
  // Drift of the light
  'drift-gathering': { readonly changed: boolean; readonly count: number; readonly more: number };
  'drift-steady': None;
  'drift-drifting': { readonly level: number; readonly factor: number };
  'drift-jump': { readonly newest: number };
  'drift-provisional': { readonly count: number };
  'drift-fading': { readonly rate: number; readonly low: number; readonly high: number };
  // Evenness of the bed; sides, edges and corners as `where` of the pattern names them
  'bed-band-low': { readonly along: 'row' | 'column'; readonly number: number; readonly share: number };
  'bed-bands': { readonly along: 'row' | 'column' };
  'bed-open': { readonly tilt: number; readonly across: number; readonly down: number };
  'bed-side-low': { readonly where: string; readonly share: number };
  'bed-edges-low': { readonly where: string };
  'bed-middle-low': { readonly where: string };
  'bed-corner-low': { readonly where: string; readonly share: number };
  'bed-even': None;
  'bed-patchy': None;
  'bed-map': {
    readonly tolerancePercent: number;
    readonly share: number;
    readonly rows: number;
    readonly columns: number;
    readonly area: {
      readonly row: number;
      readonly column: number;
      readonly rows: number;
      readonly columns: number;
    } | null;
    readonly pattern: Phrase;
  };
  'bed-light-unknown': { readonly reason: Phrase };
  'bed-not-readable': {
    readonly count: number;
    readonly tooPale: number;
    readonly tooDeep: number;
    readonly missing: number;
    readonly instead: 'photograph' | 'half' | 'twice';
  };
  'cells-beyond-curve': { readonly near: number; readonly of: number };
  // Planning a strip
  /** `known`: the scale is this dye's own, not an ordinary one's. */
  'plan-too-coarse': {
    readonly step: number;
    readonly gap: number;
    readonly known: boolean;
    readonly scale: number;
  };
  'plan-too-fine': {
    readonly step: number;
    readonly gap: number;
    readonly uL: number;
    readonly separable: number;
  };
  'plan-merged': { readonly count: number; readonly timerStep: number };
  'plan-timer-coarse': {
    readonly timerStep: number;
    readonly step: number;
    readonly wanted: number;
    readonly set: number;
    readonly stops: number;
  };
  'plan-no-base': None;
  'plan-few-steps': { readonly count: number };
  'plan-narrow': { readonly range: number; readonly scale: number };
  'plan-moves-close': { readonly gap: number; readonly hands: number };
  'plan-sun-changes': { readonly minutes: number };
  'plan-other-light': { readonly madeFor: LightName; readonly light: LightName };
  'plan-sky-uncertain': { readonly low: number; readonly high: number };
  /** `onCurve`: null where the curve never gets to the target. */
  'plan-beyond-curve': {
    readonly onCurve: number | null;
    readonly longest: number;
    readonly around: number;
  };
  /** The target lies deeper than the dye goes; `percent` where it was a depth. The strip is planned around full depth. */
  'plan-target-deeper': {
    readonly percent: number | null;
    readonly targetL: number;
    readonly deepestL: number;
    /** Half of the 90 % interval of the deepest L*; null where it is not known. */
    readonly range: number | null;
  };
  'plan-one-setting': { readonly timerStep: number };
  'plan-one-step': None;
  'plan-twice': { readonly seconds: number };
  'plan-too-long': None;
  // The book's doubts of a time
  /** Why the book has no time for a target: its calibration's steps end before it, or the dye never gets there. */
  'no-time-today': {
    readonly targetL: number | null;
    readonly unattainable: boolean;
    readonly shortest: number;
    readonly longest: number;
    readonly baseL: number;
    readonly deepestL: number;
  };
  'hours-unknown': { readonly of: 'both' | 'calibration' | 'today' };
  'lamps-replaced': { readonly hours: number; readonly since: number; readonly from: Since };
  'lamp-hours': { readonly hours: number; readonly limit: number; readonly from: Since };
  'batch-not-noted': None;
  'batch-today-unknown': { readonly was: string };
  'batch-then-unknown': { readonly now: string };
  'batch-tried': { readonly was: string; readonly now: string };
  'batch-untried': { readonly was: string; readonly now: string };
  'batch-older': { readonly batch: string; readonly daysNow: number; readonly daysThen: number };
  'sun-moves': None;
  'sun-first': { readonly hours: number };
  'season-changed': { readonly days: number };
  'sky-moved': { readonly stops: number; readonly today: SkyName; readonly madeFor: SkyName };
  'sky-not-noted': None;
  'control-untold': None;
  'control-days': { readonly days: number };
  'card-changed': None;
  'light-borrowed': None;
  'calibration-relative': None;
  'calibration-unconfirmed': None;
  'method-changed': { readonly was: string; readonly now: string };
  'calibration-old': { readonly days: number };
  'beyond-steps': { readonly seconds: number };
  'interval-wide': { readonly stops: number };
  'interval-open': None;
  'prints-judged': { readonly count: number; readonly of: number; readonly side: 'paler' | 'deeper' };
  'prints-missed': { readonly count: number; readonly stops: number };
}

type Interval = { readonly value: number | null; readonly low: number | null; readonly high: number | null };
type Compared = Interval & { readonly verdict: 'different' | 'not-separable' | 'unknown' };
type Since = 'calibration' | 'control';
type LightName = 'tubes' | 'led' | 'sun' | 'other';
type SkyName = 'clear' | 'scattered' | 'broken' | 'overcast';

type CurveName = 'build-up' | 'logistic' | 'monotone';

export type PhraseId = keyof PhraseValues;

/** A sentence of the analysis without its words: which one it is, and its numbers. Plain data. */
export interface Phrase {
  /** A `PhraseId`; a string here, since kept readings may hold ids of other versions. */
  readonly id: string;
  readonly values: Readonly<Record<string, unknown>>;
}

/** All sentences of a language. */
export type Phrasing = { readonly [I in PhraseId]: (values: PhraseValues[I]) => string };

/** A sentence by its id with its numbers; the compiler holds the two together. */
export const phrase = <I extends PhraseId>(id: I, values: PhraseValues[I]): Phrase => ({
  id,
  values: values as Readonly<Record<string, unknown>>,
});
