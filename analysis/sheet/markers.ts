/** One corner marker: its number in the dictionary and its 6 × 6 inner cells, row by row, 1 where white. */
export interface SheetMarker {
  readonly id: number;
  readonly bits: readonly [string, string, string, string, string, string];
}

/**
 * The four markers of the sheet, clockwise from the upper left. From the open dictionary ArUco MIP 36h12 (any two of
 * its 250 markers differ in 12 cells or more, in every turn); a one-cell black border goes around the cells.
 * Source: [marker-dictionary].
 */
export const SHEET_MARKERS: readonly [SheetMarker, SheetMarker, SheetMarker, SheetMarker] = [
  { id: 17, bits: ['010011', '000001', '011001', '101001', '010000', '000110'] },
  { id: 42, bits: ['001000', '101110', '010101', '101101', '010000', '001000'] },
  { id: 103, bits: ['001000', '111001', '010101', '010001', '110100', '110100'] },
  { id: 198, bits: ['000110', '100001', '010011', '110101', '101100', '001110'] },
];

/** Cells to a marker's side, its black border included. */
export const MARKER_CELLS = 8;
