import type { FlatQuad } from './flatQuads.ts';
import type { Point } from './marks.ts';

/** A quad's place in a lattice, its corners turned so that side 0–1 runs along the columns. */
export interface LatticeMember {
  readonly row: number;
  readonly column: number;
  readonly quad: FlatQuad;
  /** Which corner comes first. */
  readonly turn: 0 | 1 | 2 | 3;
}

interface Placed extends LatticeMember {
  readonly along: Point;
  readonly down: Point;
}

/** For each quad the others of about its size that are near enough to stand beside it. */
type Neighbours = ReadonlyMap<FlatQuad, readonly FlatQuad[]>;

function neighboursOf(quads: readonly FlatQuad[]): Neighbours {
  return new Map(
    quads.map((a) => {
      const reach = 3.2 * Math.max(a.sides[0], a.sides[1]);
      const near = quads.filter((b) => {
        if (a === b || b.areaPx < 0.5 * a.areaPx || b.areaPx > 2 * a.areaPx) return false;
        const dx = b.centre[0] - a.centre[0];
        const dy = b.centre[1] - a.centre[1];
        return dx * dx + dy * dy < reach * reach;
      });
      return [a, near];
    }),
  );
}

/** Every lattice of `fewest` members or more among the quads, each found once. */
export function lattices(quads: readonly FlatQuad[], singleRow: boolean, fewest: number): LatticeMember[][] {
  const neighbours = neighboursOf(quads);
  const found: LatticeMember[][] = [];
  const numbers = new Map(quads.map((quad, i) => [quad, i]));
  const known = new Set<string>();
  // In a row the next but one may be taken for the next: then they are looked at as closer together as well.
  for (const most of singleRow ? [MOST_PITCH, CLOSE_PITCH] : [MOST_PITCH]) {
    const held = new Set<string>();
    for (const seed of quads) {
      for (const turn of singleRow ? ([0, 1] as const) : ([0] as const)) {
        const place = (m: LatticeMember) => `${numbers.get(m.quad)}:${singleRow ? m.turn % 2 : 0}`;
        if (held.has(`${numbers.get(seed)}:${turn}`)) continue;
        const members = growLattice(seed, turn, neighbours, singleRow, most);
        if (members.length < fewest) continue;
        for (const m of members) held.add(place(m));
        const key = members.map((m) => `${numbers.get(m.quad)}:${m.turn}:${m.row}:${m.column}`).join();
        if (!known.has(key)) found.push(members);
        known.add(key);
      }
    }
  }
  return found;
}

/** How far the next one may be at most, in its own sizes. */
const MOST_PITCH = 2.1;
const CLOSE_PITCH = 1.6;

/**
 * Which quads stand side by side in a row or grid like this one? Neighbours have about the same size, lie
 * straight beside one another and no further apart than their own size; each pitch found is held from then on.
 */
function growLattice(
  seed: FlatQuad,
  turn: 0 | 1,
  neighbours: Neighbours,
  singleRow: boolean,
  mostPitch: number,
): LatticeMember[] {
  const first = placed(seed, turn, 0, 0);
  const members = new Map<string, Placed>([['0,0', first]]);
  const used = new Set<FlatQuad>([seed]);
  const queue = [first];
  const pitch: { along?: number; down?: number } = {};
  // One may be missing, as a patch as grey as its mount: then the one after it is looked for.
  const steps = singleRow
    ? ([
        [0, 1],
        [0, -1],
        [0, 2],
        [0, -2],
      ] as const)
    : ([
        [0, 1],
        [0, -1],
        [1, 0],
        [-1, 0],
        [0, 2],
        [0, -2],
        [2, 0],
        [-2, 0],
      ] as const);
  while (queue.length > 0) {
    const from = queue.shift()!;
    for (const [dr, dc] of steps) {
      const key = `${from.row + dr},${from.column + dc}`;
      if (members.has(key)) continue;
      const axis = dc !== 0 ? 'along' : 'down';
      if (Math.abs(dr + dc) === 2) {
        if (members.has(`${from.row + dr / 2},${from.column + dc / 2}`)) continue;
        if (!singleRow && pitch[axis] === undefined && members.size > 1) continue;
      }
      let best: { quad: FlatQuad; off: number; reach: number } | undefined;
      for (const quad of neighbours.get(from.quad) ?? []) {
        if (used.has(quad)) continue;
        const reach = reachOf(from, quad, dr, dc, mostPitch);
        if (!reach || !similar(from, quad)) continue;
        const held = pitch[axis];
        if (held !== undefined && Math.abs(reach.forward / held - 1) > 0.2) continue;
        const off = Math.abs(reach.sideways) + 0.3 * (reach.forward - 1);
        if (!best || off < best.off) best = { quad, off, reach: reach.forward };
      }
      if (!best) continue;
      pitch[axis] = pitch[axis] === undefined ? best.reach : 0.7 * pitch[axis] + 0.3 * best.reach;
      const member = aligned(best.quad, from, from.row + dr, from.column + dc);
      members.set(key, member);
      used.add(best.quad);
      queue.push(member);
    }
  }
  return [...members.values()].map(({ row, column, quad, turn: t }) => ({ row, column, quad, turn: t }));
}

/** The quad's corners from the turned first one on. */
export function turnedCorners(member: LatticeMember): Point[] {
  return [0, 1, 2, 3].map((k) => member.quad.quad[(k + member.turn) % 4]);
}

function placed(quad: FlatQuad, turn: 0 | 1 | 2 | 3, row: number, column: number): Placed {
  const c = [0, 1, 2, 3].map((k) => quad.quad[(k + turn) % 4]);
  return {
    row,
    column,
    quad,
    turn,
    along: [(c[1][0] - c[0][0] + c[2][0] - c[3][0]) / 2, (c[1][1] - c[0][1] + c[2][1] - c[3][1]) / 2],
    down: [(c[3][0] - c[0][0] + c[2][0] - c[1][0]) / 2, (c[3][1] - c[0][1] + c[2][1] - c[1][1]) / 2],
  };
}

function aligned(quad: FlatQuad, like: Placed, row: number, column: number): Placed {
  let best: Placed | undefined;
  let most = Number.NEGATIVE_INFINITY;
  for (const turn of [0, 1, 2, 3] as const) {
    const option = placed(quad, turn, row, column);
    const agreement =
      (option.along[0] * like.along[0] + option.along[1] * like.along[1]) / Math.hypot(...option.along);
    if (agreement > most) {
      most = agreement;
      best = option;
    }
  }
  return best!;
}

/** How far the quad lies ahead and aside, in units of the one it starts from; undefined where not beside it. */
function reachOf(
  from: Placed,
  quad: FlatQuad,
  dr: number,
  dc: number,
  most: number,
): { forward: number; sideways: number } | undefined {
  const dx = quad.centre[0] - from.quad.centre[0];
  const dy = quad.centre[1] - from.quad.centre[1];
  const det = from.along[0] * from.down[1] - from.along[1] * from.down[0];
  const u = (dx * from.down[1] - dy * from.down[0]) / det;
  const v = (dy * from.along[0] - dx * from.along[1]) / det;
  const forward = dc !== 0 ? u / dc : v / dr;
  const sideways = (dc !== 0 ? v : u) / Math.abs(dc === 0 ? dr : dc);
  if (forward < 0.85 || forward > most || Math.abs(sideways) > 0.3) return undefined;
  return { forward, sideways };
}

function similar(from: Placed, quad: FlatQuad): boolean {
  const like = aligned(quad, from, 0, 0);
  const along = Math.hypot(...like.along) / Math.hypot(...from.along);
  const down = Math.hypot(...like.down) / Math.hypot(...from.down);
  if (along < 0.72 || along > 1.4 || down < 0.72 || down > 1.4) return false;
  const cross = like.along[0] * from.along[1] - like.along[1] * from.along[0];
  return Math.abs(cross) < 0.2 * Math.hypot(...like.along) * Math.hypot(...from.along);
}
