/** A rectangle on the sheet: millimetres from the upper left corner of the measuring field, x to the right, y down. */
export interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/**
 * The measuring field, from the outer corner of one marker to that of the opposite one. It is the same on every paper,
 * so a photo need not say which it was printed on; papers differ in the white around it.
 */
export const FIELD = { width: 256, height: 190 } as const;

/** Side of a corner marker. */
export const MARKER_MM = 16;

/** The markers' upper left corners, clockwise from the sheet's upper left, as in SHEET_MARKERS. */
export const MARKER_AT: readonly [Area, Area, Area, Area] = [
  { x: 0, y: 0, width: MARKER_MM, height: MARKER_MM },
  { x: FIELD.width - MARKER_MM, y: 0, width: MARKER_MM, height: MARKER_MM },
  { x: FIELD.width - MARKER_MM, y: FIELD.height - MARKER_MM, width: MARKER_MM, height: MARKER_MM },
  { x: 0, y: FIELD.height - MARKER_MM, width: MARKER_MM, height: MARKER_MM },
];

/** Where the printer's card lies: room for two pocket cards side by side, or for a bar of greys. */
export const CARD_PLACE: Area = { x: 22, y: 0, width: 212, height: 58 };

/** Where the strip lies, up to 200 × 60 mm with white all round it, or two rows of scraps. */
export const CLOTH_PLACE: Area = { x: 22, y: 64, width: 212, height: 82 };

/** The places are drawn by their corners and the middles of their long sides, so that white runs on around card and cloth. */
export const CORNER_LEG_MM = 6;

/** Bare paper beside the places, where nothing is to lie. */
export const WHITE_AREAS: readonly Area[] = [
  { x: 2, y: 20, width: 14, height: 150 },
  { x: FIELD.width - 16, y: 20, width: 14, height: 150 },
];

/**
 * All that is bare on every paper, but for what is laid on it: beside the markers, round the field (papers leave 10 mm
 * at least), and in the places between the lines of their frames.
 */
export const BARE_AREAS: readonly Area[] = [
  { x: -7, y: 18, width: 28, height: 154 },
  { x: FIELD.width - 21, y: 18, width: 28, height: 154 },
  { x: -7, y: -7, width: FIELD.width + 14, height: 6 },
  { x: -7, y: FIELD.height + 1, width: FIELD.width + 14, height: 6 },
  ...[CARD_PLACE, CLOTH_PLACE].flatMap(({ x, y, width, height }) => [
    { x: x + 7, y: y + 0.7, width: width - 14, height: height - 1.4 },
    { x: x - 1, y: y + 7, width: width + 2, height: height - 14 },
  ]),
];

/** What is written stands below the places. */
export const LABEL_AREA: Area = { x: 22, y: 150, width: 212, height: 12 };
/** The square code, its quiet margin left out. */
export const CODE_AREA: Area = { x: 24, y: 164, width: 24, height: 24 };
export const CAUTION_AREA: Area = { x: 54, y: 163.5, width: 180, height: 18 };
/** Left end of the ruler's line, and its length. */
export const RULER = { x: 54, y: 189, lengthMm: 100, tallMm: 3.5 } as const;

export type PaperName = 'a4' | 'letter';

/** Sheet sizes, lying: ISO 216 A4; ANSI/ASME Y14.1 A (8.5 × 11 in). */
export const PAPERS: Readonly<Record<PaperName, { readonly widthMm: number; readonly heightMm: number }>> = {
  a4: { widthMm: 297, heightMm: 210 },
  letter: { widthMm: 279.4, heightMm: 215.9 },
};

/** Is this the name of a paper that the sheet is made for? */
export const isPaperName = (name: string): name is PaperName => Object.hasOwn(PAPERS, name);

/** The field's upper left corner on a paper: in the middle. */
export const fieldOn = (paper: PaperName): { readonly x: number; readonly y: number } => ({
  x: (PAPERS[paper].widthMm - FIELD.width) / 2,
  y: (PAPERS[paper].heightMm - FIELD.height) / 2,
});
