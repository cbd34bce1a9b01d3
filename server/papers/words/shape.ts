import type { Phrase } from '../../../analysis/phrases.ts';
import type { CautionKey } from '../../../analysis/plan/cautions.ts';
import type { Formats } from '../../../analysis/words/formats.ts';
import type { PaperLanguage } from '../../contracts/language.ts';
import type { CurveModel, Reading, Verdict } from '../../contracts/reading.ts';
import type { Sky } from '../../contracts/recordText.ts';

/** Words of the measuring sheet. */
export interface SheetWords {
  readonly title: string;
  readonly card: string;
  readonly cloth: string;
  readonly fields: {
    readonly dye: string;
    readonly cloth: string;
    readonly light: string;
    readonly date: string;
  };
  readonly plan: string;
  readonly steps: string;
  readonly ruler: string;
}

/** Words of a calibration report. Numbers and times come written. */
export interface ReportWords {
  readonly heading: string;
  readonly subject: string;
  /** What the file is called, after dye and cloth. */
  readonly fileName: string;
  readonly noDye: string;
  readonly expose: string;
  readonly noTime: string;
  readonly interval: (low: string, high: string, widthStops: string | null) => string;
  readonly openInterval: (low: string) => string;
  readonly target: {
    readonly L: (L: string) => string;
    readonly depth: (percent: string) => string;
    readonly full: string;
    readonly swatch: (L: string, a: string, b: string) => string;
  };
  readonly checkFirst: (doubt: string) => string;
  readonly plot: {
    readonly base: string;
    readonly stops: string;
    readonly depth: string;
    readonly bars: string;
    readonly curve: string;
    readonly hatched: string;
    readonly noCurve: (why: string) => string;
  };
  readonly table: {
    readonly step: string;
    readonly time: string;
    readonly stops: string;
    readonly density: string;
    readonly deltaE: string;
    readonly verdict: string;
    readonly note: string;
  };
  readonly verdict: Readonly<Record<Verdict, string>>;
  readonly nextStrip: string;
  readonly together: (stops: string) => string;
  readonly warnings: string;
  /** Where some sentences of a reading have no numbers to word them by; null where there is nothing to say of that. */
  readonly otherLanguage: string | null;
  readonly how: string;
  readonly takeCare: string;
  readonly foot: string;
  readonly pageOf: (program: string, method: string, page: number, pages: number) => string;
  readonly rows: {
    readonly method: string;
    readonly photo: string;
    readonly photos: string;
    readonly card: string;
    readonly light: string;
    readonly camera: string;
    readonly curve: string;
    readonly figures: string;
  };
  readonly method: (version: string) => string;
  readonly photos: (count: number, measuredL: string, expectedL: string) => string;
  readonly card: Readonly<Record<string, string>>;
  readonly patchesUsed: (card: string, count: number) => string;
  readonly patchRefused: (patch: string, reason: string) => string;
  readonly lowContrast: string;
  readonly light: Readonly<Record<Reading['illumination']['method'], string>>;
  readonly lightNotEvened: string;
  readonly fallOff: (ratio: string) => string;
  readonly camera: (slope: string, flarePercent: string) => string;
  readonly leftOutPatch: (L: string) => string;
  readonly colours: string;
  readonly curve: Readonly<Record<CurveModel, string>>;
  readonly figures: {
    readonly base: (L: string) => string;
    readonly deepest: (L: string) => string;
    readonly contrast: (LPerStop: string) => string;
    readonly scale: (stops: string) => string;
    readonly toFull: (time: string) => string;
  };
}

/** What a book says of a kept reading on its report. */
export interface KeptWords {
  readonly exposed: (day: string) => string;
  readonly batch: (name: string) => string;
  readonly lampHours: (hours: string) => string;
  readonly sky: (sky: Sky) => string;
  readonly read: (day: string) => string;
  readonly reading: (id: string) => string;
  readonly superseded: (by: string) => string;
  readonly putAway: (day: string) => string;
}

/** All words that papers carry, in one language. A further language is a value of this type: a missing word does not compile. */
export interface PaperWords {
  readonly language: PaperLanguage;
  readonly formats: Formats;
  /** A sentence of the analysis by its phrase; null where this language has no words for it. */
  readonly said: (phrase: Phrase | undefined) => string | null;
  readonly advice: (reading: Reading) => string;
  readonly cautions: Readonly<Record<CautionKey, string>>;
  /** A day, given as 2026-06-30. */
  readonly day: (iso: string) => string;
  readonly sheet: SheetWords;
  readonly report: ReportWords;
  readonly kept: KeptWords;
}
