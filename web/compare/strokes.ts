/** Lines are told apart by their strokes, never by colour. */
export const STROKES = [
  '',
  '12 5',
  '3 5',
  '14 4 3 4',
  '7 3',
  '1 4',
  '18 6',
  '8 3 2 3 2 3',
  '5 8',
  '2 2',
  '16 3',
  '10 10',
] as const;

/** Bands are told apart by the slant of their hatching, in degrees. */
export const SLANTS = [45, -45, 0, 90, 22, -22, 68, -68, 34, -34, 79, -79] as const;

/** The letter that a strip goes by. */
export const letterOf = (index: number): string => String.fromCharCode(65 + index);

/** Outlines of points about 0, 0, each about as large as a circle of radius 5. */
const OUTLINES = [
  'M-5 0A5 5 0 1 0 5 0A5 5 0 1 0 -5 0Z',
  'M-4.5 -4.5H4.5V4.5H-4.5Z',
  'M0 -6.2L5.8 4.4H-5.8Z',
  'M0 -6.4L6.4 0L0 6.4L-6.4 0Z',
  'M0 6.2L5.8 -4.4H-5.8Z',
  'M-2.6 -5.2H2.6L5.2 0L2.6 5.2H-2.6L-5.2 0Z',
] as const;

/** The outline of a strip's points; from the seventh strip on they come again, with a dot inside. */
export const pointOf = (index: number): { readonly outline: string; readonly dotted: boolean } => ({
  outline: OUTLINES[index % OUTLINES.length],
  dotted: index >= OUTLINES.length,
});
