import { batch, signal } from '@preact/signals';
import type { Preview } from '../../server/contracts/answers.ts';
import type { EvennessAnswer } from '../../server/contracts/evenness.ts';
import type { Marks, Quad } from '../../server/contracts/marks.ts';
import { firstMarks } from '../handMarks.ts';
import { pointWithin } from '../quads.ts';

/** A photo of the sheet; its marks have the sheet as their only step, corners as they lay on the bed. */
export interface BedShot {
  readonly file: Blob;
  readonly name: string;
  readonly preview: Preview;
  readonly marks: Marks;
}

/** A map with what it was drawn from, so that it can be told when that has changed. */
export interface DrawnMap {
  readonly answer: EvennessAnswer;
  readonly basis: string;
}

/** What has been given for the map, and the map. */
export const bedDraft = {
  photo: signal<BedShot | null>(null),
  /** The sheet once more, turned end for end on the table. */
  turned: signal<BedShot | null>(null),
  curve: signal(''),
  rows: signal('6'),
  columns: signal('8'),
  tolerance: signal('10'),
  drawn: signal<DrawnMap | null>(null),
};

/** Which of it is typed or chosen. */
export const BED_TEXTS = ['curve', 'rows', 'columns', 'tolerance'] as const;

/** What a map is drawn from, in one text: another text, another map. The tolerance is not in it: the map follows that. */
export const basisOf = (card: unknown): string => {
  const { photo, turned, curve, rows, columns } = bedDraft;
  const shots = [photo.value, turned.value].map((shot) => shot && [shot.name, shot.file.size, shot.marks]);
  return JSON.stringify([shots, curve.value, rows.value.trim(), columns.value.trim(), card]);
};

/** Takes photos and map away; what is returned brings them back. */
export const clearBed = (): (() => void) => {
  const { photo, turned, drawn } = bedDraft;
  const [one, other, map] = [photo.value, turned.value, drawn.value];
  const put = (a: BedShot | null, b: BedShot | null, c: DrawnMap | null): void =>
    batch(() => {
      photo.value = a;
      turned.value = b;
      drawn.value = c;
    });
  put(null, null, null);
  return () => put(one, other, map);
};

/** Where sheet and card are likely to be, to be pulled into place. */
export const firstBedMarks = (
  { photoWidthPx, photoHeightPx }: Preview,
  patchNames: readonly string[],
  turned: boolean,
): Marks => {
  const photo: Quad = [
    [0, 0],
    [photoWidthPx, 0],
    [photoWidthPx, photoHeightPx],
    [0, photoHeightPx],
  ];
  const [a, b, c, d] = [
    [0.14, 0.08],
    [0.86, 0.08],
    [0.86, 0.62],
    [0.14, 0.62],
  ].map(([x, y]) => pointWithin(photo, x, y));
  const bands = firstMarks(photoWidthPx, photoHeightPx, [0], patchNames);
  return {
    ...bands,
    card: bands.card.map((patch) => ({
      ...patch,
      quad: shifted(patch.quad, 0, photoWidthPx >= photoHeightPx ? 0.1 * photoHeightPx : 0),
    })),
    steps: [{ ...bands.steps[0], quad: turned ? [c, d, a, b] : [a, b, c, d] }],
  };
};

const shifted = (quad: Quad, dx: number, dy: number): Quad => {
  const [a, b, c, d] = quad.map(([x, y]) => [x + dx, y + dy] as const);
  return [a, b, c, d];
};

/** The same marks for a card of these patches; those of another card can't hold. */
export const withPatches = (shot: BedShot, patchNames: readonly string[]): Marks => {
  const { marks, preview } = shot;
  const same =
    marks.card.length === patchNames.length && marks.card.every(({ name }, i) => name === patchNames[i]);
  return same ? marks : { ...marks, card: firstBedMarks(preview, patchNames, false).card };
};

/** The same sheet with its top left at the next corner. */
export const withTopTurned = (marks: Marks): Marks => ({
  ...marks,
  steps: marks.steps.map((sheet) => {
    const [a, b, c, d] = sheet.quad;
    return { ...sheet, quad: [b, c, d, a] };
  }),
});

/** A whole number typed into a field; null where it is none or out of range. */
export const wholeNumber = (text: string, least: number, most: number): number | null => {
  const value = /^\d{1,3}$/.test(text.trim()) ? Number(text) : Number.NaN;
  return value >= least && value <= most ? value : null;
};
