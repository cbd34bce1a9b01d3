import type { AdviceStatus } from '../../analysis/advice/advice.ts';

/** Rows as both databases hold them: text, numbers, and 0 or 1. JSON is text, and comes back as it went in. */

interface Row {
  readonly id: string;
  readonly createdAt: string;
  readonly changedAt: string;
  readonly putAwayAt: string | null;
  readonly remark: string;
}

interface Named extends Row {
  readonly name: string;
  /** The name as it is compared: composed, lower case, single blanks. */
  readonly nameKey: string;
}

export interface LightRow extends Named {
  readonly kind: 'lamps' | 'sun';
  readonly distanceCm: number | null;
  readonly glass: string;
  readonly lampHours: number | null;
}

export interface BatchRow extends Named {
  readonly dyeId: string | null;
  readonly mixedAt: string;
}

export interface CardRow extends Named {
  readonly cardJson: string;
}

export interface PlanRow extends Row {
  readonly name: string;
  readonly dyeId: string | null;
  readonly clothId: string | null;
  readonly lightId: string | null;
  readonly secondsJson: string;
  readonly planJson: string;
}

export interface PhotoRow {
  readonly sha256: string;
  readonly bytes: number;
  readonly format: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly createdAt: string;
}

interface Exposed extends Row {
  readonly dyeId: string;
  readonly clothId: string;
  readonly lightId: string;
  readonly batchId: string | null;
  readonly lampHours: number | null;
  readonly sky: 'clear' | 'scattered' | 'broken' | 'overcast' | null;
  readonly exposedAt: string;
}

export interface ReadingRow extends Exposed {
  readonly purpose: 'calibration' | 'control' | 'print';
  readonly cardId: string | null;
  readonly planId: string | null;
  readonly photo: string;
  readonly readAt: string;
  readonly methodVersion: string;
  readonly supersedesId: string | null;
  /** 1 where there is a fitted curve. */
  readonly fitted: number;
  readonly status: AdviceStatus;
  readonly targetJson: string;
  readonly seconds: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly roundedSeconds: number | null;
  readonly baseL: number | null;
  readonly deepestL: number | null;
  readonly shortestSeconds: number | null;
  readonly longestSeconds: number | null;
  readonly relative: number;
  readonly marksConfidence: number;
  readonly confirmed: number;
  readonly warnings: number;
  /** The card's description, to tell one card from another. */
  readonly cardKey: string;
  readonly remarkKey: string;
}

/**
 * The large texts of a reading, apart so that lists never touch them. They may be there before the reading's row: then
 * nothing shows them.
 */
export interface ReadingBodyRow {
  readonly readingId: string;
  readonly settingsJson: string;
  readonly readingJson: string;
}

/** Curves that the reading's strip could as well have shown; worked out from the reading, and can be again. */
export interface CurveDrawsRow {
  readonly readingId: string;
  readonly drawsJson: string;
}

export interface ControlRow extends Exposed {
  readonly againstId: string;
  readonly readingId: string | null;
  readonly scrapsJson: string;
  readonly setup: string;
  readonly shiftStops: number | null;
  readonly shiftLow: number | null;
  readonly shiftHigh: number | null;
  readonly sentence: string;
}

export interface PrintRow extends Exposed {
  readonly name: string;
  readonly secondsUsed: number;
  readonly targetJson: string | null;
  readonly calibrationId: string | null;
  readonly movedStops: number;
  readonly predictedL: number | null;
  readonly predictedDepthPercent: number | null;
  readonly reachedL: number | null;
  readonly reachedUL: number | null;
  readonly reachedDepthPercent: number | null;
  readonly readingId: string | null;
  readonly missedStops: number | null;
  /** How it came out by eye, against what was promised for its time. */
  readonly judged: 'paler' | 'right' | 'deeper' | null;
}

export interface NoteRow extends Omit<Row, 'remark'> {
  readonly onKind: string;
  readonly onId: string;
  readonly text: string;
}

/** An archive on its way in: one at a time, so that what it has laid down can be told from what is in use. */
export interface ArrivalRow {
  readonly name: 'archive';
  readonly arrival: string;
  /** The machine and process that brings it. */
  readonly holder: string;
  /** When it was last heard of. */
  readonly at: string;
}

/** The tables of the book. */
export interface Tables {
  readonly dyes: Named;
  readonly cloths: Named;
  readonly lights: LightRow;
  readonly batches: BatchRow;
  readonly cards: CardRow;
  readonly plans: PlanRow;
  readonly photos: PhotoRow;
  readonly readings: ReadingRow;
  readonly readingBodies: ReadingBodyRow;
  readonly curveDraws: CurveDrawsRow;
  readonly controls: ControlRow;
  readonly prints: PrintRow;
  readonly notes: NoteRow;
  readonly arrivals: ArrivalRow;
}

export type NamedRow = Named;
