import type { FlatQuad } from './flatQuads.ts';
import { fitHomography, type Homography, patchOf, project, unitSquareTo } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { insidePhoto } from './quadFit.ts';
import { containsPoint, isConvex, overlapShare, quadCentre } from './quadGeometry.ts';
import { type LatticeMember, lattices, turnedCorners } from './quadLattice.ts';
import {
  foreignBetween,
  medianOf,
  paleness,
  pixelAt,
  sampleTone,
  type Tint,
  type Tone,
} from './sampleTone.ts';
import { likeness } from './stripRhythm.ts';
import type { ToneField } from './toneField.ts';

/** Separate pieces of cloth, one per step, from light to dark. */
export interface ScrapsFit {
  readonly steps: readonly Quad[];
  readonly tones: readonly Tone[];
  /** Misfit: about 0 where every scrap is seen and each is darker than the one before. */
  readonly misfit: number;
  /** Scraps that were seen as areas of their own. */
  readonly seen: number;
  readonly toneRange: number;
  /** How much worse the same places are in the opposite order. */
  readonly directionGap: number;
  /** Areas of the lattice that would have to be left over. */
  readonly leftOver: number;
  /**
   * How many places at either end of a row, where none is counted and the card is not, look like one more scrap;
   * costly, so on call.
   */
  readonly beside: (card: readonly Point[]) => number;
}

interface Cell {
  readonly row: number;
  readonly column: number;
}

/**
 * Where may `count` scraps lie? In one row, or in two or three in reading order, from light to dark or back.
 * All placements that leave no more than two to guess, best first.
 */
export function fitScraps(
  field: ToneField,
  quads: readonly FlatQuad[],
  count: number,
  neutral: Tint,
): ScrapsFit[] {
  const fits: ScrapsFit[] = [];
  for (const members of lattices(quads, false, fewest(count))) {
    if (members.length > count + 6 || touching(field, members)) continue;
    for (const { cells, inCells } of layings(members, count)) {
      const placed = placeScraps(field, quads, cells, inCells, members.length - inCells.length, neutral);
      if (placed) fits.push(placed);
    }
  }
  return fits.sort((a, b) => a.misfit - b.misfit);
}

/** Steps of one cloth touch; scraps have table between them, mostly of a tone that is no mixture of theirs. */
function touching(field: ToneField, members: readonly LatticeMember[]): boolean {
  // A cloth has its steps in one row.
  if (new Set(members.map((m) => m.row)).size > 1 && new Set(members.map((m) => m.column)).size > 1)
    return false;
  const foreign: number[] = [];
  const pitches: number[] = [];
  for (const a of members) {
    for (const b of members) {
      if (a.row + a.column >= b.row + b.column) continue;
      if (Math.abs(a.row - b.row) + Math.abs(a.column - b.column) !== 1) continue;
      foreign.push(tableBetween(field, a, b));
      const side = (m: LatticeMember) => m.quad.sides[a.row === b.row ? m.turn % 2 : 1 - (m.turn % 2)];
      const far = Math.hypot(b.quad.centre[0] - a.quad.centre[0], b.quad.centre[1] - a.quad.centre[1]);
      pitches.push((2 * far) / (side(a) + side(b)));
    }
  }
  return medianOf(foreign) < (medianOf(pitches) > 1.18 ? 0.02 : 0.05);
}

function tableBetween(field: ToneField, a: LatticeMember, b: LatticeMember): number {
  const [from, to] = [turnedCorners(a), turnedCorners(b)];
  return a.row === b.row
    ? foreignBetween(field, [from[1], from[2]], [to[0], to[3]], a.quad.tone, b.quad.tone)
    : foreignBetween(field, [from[3], from[2]], [to[0], to[1]], a.quad.tone, b.quad.tone);
}

/** Every way in which the lattice may be rows of scraps in reading order, in each of the four turns. */
function* layings(members: readonly LatticeMember[], count: number) {
  let turned = [...members];
  for (let turn = 0; turn < 4; turn++) {
    if (turn > 0) {
      turned = turned.map((m) => ({
        ...m,
        row: -m.column,
        column: m.row,
        turn: ((m.turn + 1) % 4) as LatticeMember['turn'],
      }));
    }
    for (let rows = 1; rows <= Math.min(3, count); rows++) {
      const columns = Math.ceil(count / rows);
      if (rows > 1 && (columns < 2 || columns * (rows - 1) >= count)) continue;
      const cells: Cell[] = Array.from({ length: count }, (_, i) => ({
        row: Math.floor(i / columns),
        column: i % columns,
      }));
      const all = turned.map((m) => m.row);
      const across = turned.map((m) => m.column);
      for (let r = Math.min(...all) - rows + 1; r <= Math.max(...all); r++) {
        for (let c = Math.min(...across) - columns + 1; c <= Math.max(...across); c++) {
          const inCells = turned
            .map((m) => ({ ...m, row: m.row - r, column: m.column - c }))
            .filter((m) => cells.some((cell) => cell.row === m.row && cell.column === m.column));
          if (inCells.length >= fewest(count)) yield { cells, inCells };
        }
      }
    }
  }
}

function placeScraps(
  field: ToneField,
  areas: readonly FlatQuad[],
  cells: readonly Cell[],
  members: readonly LatticeMember[],
  leftOver: number,
  neutral: Tint,
): ScrapsFit | undefined {
  let plane: Homography | undefined;
  const quads: Quad[] = [];
  const tones: Tone[] = [];
  let strange = 0;
  for (const cell of cells) {
    const member = members.find((m) => m.row === cell.row && m.column === cell.column);
    if (member) {
      quads.push(member.quad.quad);
      tones.push(member.quad.tone);
      continue;
    }
    plane ??= planeOf(members);
    if (!plane) return undefined;
    const quad = patchOf(plane, cell.column - half, cell.column + half, cell.row - half, cell.row + half);
    const square = isConvex(quad) ? unitSquareTo(quad) : undefined;
    if (!square || !insidePhoto(quad, field.widthPx, field.heightPx, 0)) return undefined;
    const tone = sampleTone(field, square, 0.15, 0.85, 0.15, 0.85);
    if (!tone) return undefined;
    strange += Math.max(0, tone.spread - 0.04) / 0.04 + alone(field, plane, cell, tone);
    quads.push(quad);
    tones.push(tone);
  }
  const pale = tones.map((t) => paleness(t.light, t.redGreen, t.blueGreen, neutral));
  const darker = reversals(pale);
  const lighter = reversals([...pale].reverse());
  if (lighter < darker) {
    quads.reverse();
    tones.reverse();
  }
  const missing = cells.length - members.length;
  const last = tones[tones.length - 1];
  return {
    steps: quads,
    tones,
    misfit: Math.min(darker, lighter) + missing + strange + 1.5 * leftOver,
    seen: members.length,
    directionGap: Math.abs(darker - lighter),
    toneRange: Math.hypot(
      tones[0].light - last.light,
      0.5 * (tones[0].redGreen - last.redGreen),
      0.35 * (tones[0].blueGreen - last.blueGreen),
    ),
    leftOver,
    beside: (card) => {
      const laid = planeOf(members);
      return laid ? scrapsBeside(field, areas, laid, cells, [...quads, card], [tones[0], last]) : 0;
    },
  };
}

/** Narrower than this a scrap is not told from a speck, as a share of the pitch. */
const half = 0.36;

/** How many cells next to the ends of a row hold something even, set off all round, of a tone that steps of this dye have? */
function scrapsBeside(
  field: ToneField,
  areas: readonly FlatQuad[],
  plane: Homography,
  cells: readonly Cell[],
  taken: readonly (readonly Point[])[],
  [palest, deepest]: readonly [Tone, Tone],
): number {
  let found = 0;
  for (const row of new Set(cells.map((cell) => cell.row))) {
    const columns = cells.filter((cell) => cell.row === row).map((cell) => cell.column);
    for (const column of [Math.min(...columns) - 1, Math.max(...columns) + 1]) {
      const quad = patchOf(plane, column - half, column + half, row - half, row + half);
      const square = isConvex(quad) ? unitSquareTo(quad) : undefined;
      if (!square || !insidePhoto(quad, field.widthPx, field.heightPx, 0)) continue;
      if (taken.some((other) => [quadCentre(quad), ...quad].some((p) => containsPoint(other, p)))) continue;
      const tone = sampleTone(field, square, 0.15, 0.85, 0.15, 0.85);
      if (!tone || tone.spread > 0.05) continue;
      const isSeen = areas.some((area) => overlapShare(area.quad, quad) > 0.55);
      if (!isSeen && alone(field, plane, { row, column }, tone) > 0.6) continue;
      if (likeness(axesOf(tone), axesOf(palest), axesOf(deepest)) > 0.5) found++;
    }
  }
  return found;
}

function axesOf({ light, redGreen, blueGreen }: Tone): number[] {
  return [light, 0.5 * redGreen, 0.35 * blueGreen];
}

/** 0 where a scrap that was not seen as an area stands out from the table all round it, up to 3 where it does not. */
function alone(field: ToneField, plane: Homography, cell: Cell, tone: Tone): number {
  const far: number[] = [];
  for (const along of [-0.3, 0, 0.3]) {
    for (const away of [-0.5, 0.5]) {
      for (const [u, v] of [
        [along, away],
        [away, along],
      ]) {
        const at = pixelAt(field, project(plane, cell.column + u, cell.row + v));
        if (at < 0) continue;
        far.push(
          Math.hypot(
            field.light[at] - tone.light,
            0.5 * (field.redGreen[at] - tone.redGreen),
            0.35 * (field.blueGreen[at] - tone.blueGreen),
          ),
        );
      }
    }
  }
  const contrast = far.length === 0 ? 0 : medianOf(far);
  return 3 * Math.exp(-((contrast / 0.06) ** 2));
}

/** How badly paleness fails to fall along a run: squares of its rises over the best falling run, in tenths of ln. */
function reversals(pale: readonly number[]): number {
  let sum = 0;
  let lowest = pale[0];
  for (let i = 1; i < pale.length; i++) {
    const rise = pale[i] - lowest - 0.03;
    if (rise > 0) sum += Math.min(9, (rise / 0.1) ** 2);
    lowest = Math.min(lowest, pale[i]);
  }
  return sum;
}

function planeOf(members: readonly LatticeMember[]): Homography | undefined {
  const from: Point[] = [];
  const to: Point[] = [];
  for (const m of members) {
    const [u, v] = [0.42, 0.42];
    from.push(
      [m.column - u, m.row - v],
      [m.column + u, m.row - v],
      [m.column + u, m.row + v],
      [m.column - u, m.row + v],
    );
    to.push(...turnedCorners(m));
  }
  return fitHomography(from, to);
}

/** So many scraps must be seen before the rest may be guessed. */
function fewest(count: number): number {
  return Math.max(Math.min(count, 3), Math.ceil(0.55 * count));
}
