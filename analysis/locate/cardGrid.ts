import type { CardLayout, PatchLook } from './cardLayout.ts';
import type { FlatQuad } from './flatQuads.ts';
import { fitHomography, type Homography, patchOf, project } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { insidePhoto } from './quadFit.ts';
import { isConvex, sideLengths } from './quadGeometry.ts';
import { type LatticeMember, lattices, turnedCorners } from './quadLattice.ts';
import { medianOf, sampleTone, type Tone } from './sampleTone.ts';
import type { ToneField } from './toneField.ts';

/** A card of two or more patches as it may lie in the photo. */
export interface CardFit {
  readonly patches: readonly { readonly name: string; readonly quad: Quad; readonly tone: Tone }[];
  /** Mean squared misfit per patch in units of what a good photo shows; about 1 for a good fit. */
  readonly misfit: number;
  /** Patches that were seen as areas of their own. */
  readonly seen: number;
}

/** Where may the card lie? All placements worth a look, best first. */
export function fitCardGrid(field: ToneField, quads: readonly FlatQuad[], layout: CardLayout): CardFit[] {
  const fits: CardFit[] = [];
  const singleRow = layout.rows === 1;
  for (const members of lattices(quads, singleRow, singleRow ? 2 : 6)) {
    const likely = placements(members, layout)
      .map((placement) => ({
        placement,
        misfit: memberMisfit(placement, layout) + unseenCost(placement, layout),
      }))
      .sort((a, b) => a.misfit - b.misfit)
      .slice(0, 8);
    for (const { placement } of likely) {
      const fit = fitPlacement(field, quads, layout, placement);
      if (fit) fits.push(withLeftOver(fit, members.length - placement.length));
    }
  }
  return fits.sort((a, b) => a.misfit - b.misfit);
}

/** Patches of the card's own kind that a placement leaves over count against it. */
function withLeftOver(fit: CardFit, leftOver: number): CardFit {
  return { ...fit, misfit: fit.misfit + 0.3 * Math.min(4, leftOver) };
}

/** Patches that were not seen as areas count against a placement. */
function unseenCost(seen: readonly LatticeMember[], layout: CardLayout): number {
  return 2 * (1 - seen.length / layout.patches.length);
}

/** Misfit of the seen areas' tones alone: cheap, to keep only placements worth a look. */
function memberMisfit(members: readonly LatticeMember[], layout: CardLayout): number {
  return toneMisfit(
    members.map((m) => m.quad.tone),
    members.map((m) => layout.patches[m.row * layout.columns + m.column]),
  );
}

/** Every way of laying the layout over the lattice, in each of the four turns. */
function placements(members: readonly LatticeMember[], layout: CardLayout): LatticeMember[][] {
  const result: LatticeMember[][] = [];
  const enough = Math.min(members.length, layout.rows === 1 ? Math.max(2, 0.3 * layout.columns) : 8);
  let turned = members;
  for (let turn = 0; turn < 4; turn++) {
    if (turn > 0) turned = turned.map(quarterTurn);
    const rows = turned.map((m) => m.row);
    const columns = turned.map((m) => m.column);
    if (layout.rows === 1 && Math.min(...rows) !== Math.max(...rows)) continue;
    const firstRow = Math.min(...rows);
    const lastRow = Math.max(...rows);
    const firstColumn = Math.min(...columns);
    const lastColumn = Math.max(...columns);
    for (let r = firstRow - layout.rows + 1; r <= lastRow; r++) {
      for (let c = firstColumn - layout.columns + 1; c <= lastColumn; c++) {
        const covered = turned.filter(
          (m) => m.row >= r && m.row < r + layout.rows && m.column >= c && m.column < c + layout.columns,
        );
        if (covered.length >= enough)
          result.push(covered.map((m) => ({ ...m, row: m.row - r, column: m.column - c })));
      }
    }
  }
  return result;
}

function quarterTurn(member: LatticeMember): LatticeMember {
  return {
    ...member,
    row: -member.column,
    column: member.row,
    turn: ((member.turn + 1) % 4) as LatticeMember['turn'],
  };
}

function fitPlacement(
  field: ToneField,
  quads: readonly FlatQuad[],
  layout: CardLayout,
  members: readonly LatticeMember[],
): CardFit | undefined {
  const [shareU, shareV] = patchShares(members, layout.rows === 1);
  let plane = planeOf(members, shareU, shareV);
  if (!plane) return undefined;
  const all = completed(plane, quads, layout, members, shareU, shareV);
  if (all.length > members.length) plane = planeOf(all, shareU, shareV) ?? plane;

  const patches: { name: string; quad: Quad; tone: Tone }[] = [];
  for (let k = 0; k < layout.patches.length; k++) {
    const row = Math.floor(k / layout.columns);
    const column = k % layout.columns;
    const [u0, u1] = [column - shareU / 2, column + shareU / 2];
    const [v0, v1] = [row - shareV / 2, row + shareV / 2];
    const quad = patchOf(plane, u0, u1, v0, v1);
    if (!isConvex(quad) || !insidePhoto(quad, field.widthPx, field.heightPx, 2)) return undefined;
    const tone = sampleTone(field, plane, ...inner(u0, u1), ...inner(v0, v1));
    if (!tone) return undefined;
    patches.push({ name: layout.patches[k].name, quad, tone });
  }
  const strain = strainOf(plane, all, shareU, shareV);
  const misfit =
    toneMisfit(
      patches.map((p) => p.tone),
      layout.patches,
    ) +
    (strain / 0.05) ** 2 +
    unseenCost(all, layout);
  return { patches, misfit, seen: all.length };
}

function inner(a: number, b: number): [number, number] {
  return [a + 0.2 * (b - a), b - 0.2 * (b - a)];
}

/** Shares of the pitch that a patch takes up, along and down. */
function patchShares(members: readonly LatticeMember[], singleRow: boolean): [number, number] {
  const along: number[] = [];
  const down: number[] = [];
  for (const a of members) {
    for (const b of members) {
      const [sideAlong, sideDown] = turnedSides(a);
      const far = Math.hypot(b.quad.centre[0] - a.quad.centre[0], b.quad.centre[1] - a.quad.centre[1]);
      if (a.row === b.row && b.column !== a.column)
        along.push((sideAlong * Math.abs(b.column - a.column)) / far);
      if (a.column === b.column && b.row !== a.row) down.push((sideDown * Math.abs(b.row - a.row)) / far);
    }
  }
  const share = (values: number[]) => (values.length > 0 ? Math.min(1, medianOf(values)) : 0.9);
  return [share(along), singleRow ? 1 : share(down)];
}

function turnedSides(member: LatticeMember): readonly [number, number] {
  const [a, b] = sideLengths(member.quad.quad);
  return member.turn % 2 === 0 ? [a, b] : [b, a];
}

function planeOf(members: readonly LatticeMember[], shareU: number, shareV: number): Homography | undefined {
  const from: Point[] = [];
  const to: Point[] = [];
  for (const m of members) {
    cornersOf(m, shareU, shareV).forEach((corner) => {
      from.push(corner);
    });
    to.push(...turnedCorners(m));
  }
  return fitHomography(from, to);
}

function cornersOf(m: { row: number; column: number }, shareU: number, shareV: number): Point[] {
  const [u, v] = [shareU / 2, shareV / 2];
  return [
    [m.column - u, m.row - v],
    [m.column + u, m.row - v],
    [m.column + u, m.row + v],
    [m.column - u, m.row + v],
  ];
}

/** Adds areas that the growing passed by but that lie where a patch is due. */
function completed(
  plane: Homography,
  quads: readonly FlatQuad[],
  layout: CardLayout,
  members: readonly LatticeMember[],
  shareU: number,
  shareV: number,
): LatticeMember[] {
  const all = [...members];
  for (let k = 0; k < layout.patches.length; k++) {
    const row = Math.floor(k / layout.columns);
    const column = k % layout.columns;
    if (members.some((m) => m.row === row && m.column === column)) continue;
    const due = cornersOf({ row, column }, shareU, shareV).map(([u, v]) =>
      project(plane, u, v),
    ) as unknown as Quad;
    const [a, b] = sideLengths(due);
    const [cx, cy] = project(plane, column, row);
    for (const quad of quads) {
      if (Math.hypot(quad.centre[0] - cx, quad.centre[1] - cy) > 0.15 * Math.min(a, b)) continue;
      const turn = nearestTurn(quad.quad, due);
      const [qa, qb] = turn % 2 === 0 ? quad.sides : [quad.sides[1], quad.sides[0]];
      if (Math.abs(Math.log(qa / a)) > 0.2 || Math.abs(Math.log(qb / b)) > 0.2) continue;
      all.push({ row, column, quad, turn });
      break;
    }
  }
  return all;
}

function nearestTurn(quad: Quad, due: Quad): 0 | 1 | 2 | 3 {
  let best: 0 | 1 | 2 | 3 = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const turn of [0, 1, 2, 3] as const) {
    let sum = 0;
    for (let k = 0; k < 4; k++) {
      const c = quad[(k + turn) % 4];
      sum += Math.hypot(c[0] - due[k][0], c[1] - due[k][1]);
    }
    if (sum < least) {
      least = sum;
      best = turn;
    }
  }
  return best;
}

/** Typical distance of a member's corner from where the plane puts it, in patch sides. */
function strainOf(
  plane: Homography,
  members: readonly LatticeMember[],
  shareU: number,
  shareV: number,
): number {
  const distances: number[] = [];
  for (const m of members) {
    const size = Math.min(m.quad.sides[0], m.quad.sides[1]);
    const corners = turnedCorners(m);
    cornersOf(m, shareU, shareV).forEach(([u, v], k) => {
      const [x, y] = project(plane, u, v);
      distances.push(Math.max(0, Math.hypot(x - corners[k][0], y - corners[k][1]) - 1) / size);
    });
  }
  return distances.length === 0 ? 0 : Math.sqrt(distances.reduce((s, d) => s + d * d, 0) / distances.length);
}

/**
 * How far are these tones from the card's? The camera may stretch the scale (slope 0.5 to 2 in log-log), tint it
 * evenly and bend it a little; it does not swap patches, colour a neutral or make a patch uneven.
 */
export function toneMisfit(tones: readonly Tone[], looks: readonly PatchLook[]): number {
  const n = tones.length;
  const meanX = looks.reduce((s, l) => s + l.lnY, 0) / n;
  const meanY = tones.reduce((s, t) => s + t.light, 0) / n;
  let sxx = 0;
  let sxy = 0;
  for (let k = 0; k < n; k++) {
    sxx += (looks[k].lnY - meanX) ** 2;
    sxy += (looks[k].lnY - meanX) * (tones[k].light - meanY);
  }
  const slope = sxy / Math.max(sxx, 1e-6);
  if (slope < 0.35) return 100;
  const range = Math.max(...looks.map((l) => l.lnY)) - Math.min(...looks.map((l) => l.lnY));
  // One slope serves the colours too; the cast is their common offset.
  const castRed = medianOf(tones.map((t, k) => t.redGreen - slope * looks[k].redGreen));
  const castBlue = medianOf(tones.map((t, k) => t.blueGreen - slope * looks[k].blueGreen));
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const { lnY, redGreen, blueGreen } = looks[k];
    const dark = lnY < -2.6;
    const bow = 0.1 + 0.06 * range;
    const light =
      (tones[k].light - meanY - slope * (lnY - meanX)) / (bow * Math.min(1.5, Math.max(0.7, slope)));
    const coloured = Math.hypot(redGreen, blueGreen);
    const tint = (dark ? 0.12 : 0.06) + 0.3 * coloured;
    const red = (tones[k].redGreen - castRed - slope * redGreen) / tint;
    const blue = (tones[k].blueGreen - castBlue - slope * blueGreen) / tint;
    const rough = tones[k].spread / (dark ? 0.12 : 0.04);
    sum +=
      Math.min(25, light * light) +
      Math.min(25, (red * red + blue * blue) / 2) +
      Math.min(25, rough * rough) / 2;
  }
  const steep = Math.log(slope) / 0.45;
  const cast = (castRed ** 2 + castBlue ** 2) / 0.4 ** 2;
  return sum / n + (steep * steep + cast) / 2;
}
