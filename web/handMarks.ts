import type { Marks, Point, Quad } from '../server/contracts/marks.ts';
import { carry, centreOf, divide, frameAround, isProperQuad, pointWithin } from './quads.ts';

/** What is being moved: one step or patch, or all of them as one. */
export type Chosen =
  | { readonly kind: 'strip' }
  | { readonly kind: 'card' }
  | { readonly kind: 'step'; readonly index: number }
  | { readonly kind: 'patch'; readonly index: number };

const byHand = { origin: 'hand', confidence: 1 } as const;

/** Marks to begin with where nothing was found: strip and card as two bands across the photo. */
export const firstMarks = (
  widthPx: number,
  heightPx: number,
  seconds: readonly number[],
  patchNames: readonly string[],
): Marks => {
  const photo: Quad =
    widthPx >= heightPx
      ? [
          [0, 0],
          [widthPx, 0],
          [widthPx, heightPx],
          [0, heightPx],
        ]
      : [
          [widthPx, 0],
          [widthPx, heightPx],
          [0, heightPx],
          [0, 0],
        ];
  const band = (from: number, to: number, top: number, bottom: number): Quad => [
    pointWithin(photo, from, top),
    pointWithin(photo, to, top),
    pointWithin(photo, to, bottom),
    pointWithin(photo, from, bottom),
  ];
  const steps = divide(band(0.12, 0.88, 0.22, 0.46), seconds.length);
  const patches = divide(band(0.3, 0.7, 0.62, 0.8), patchNames.length);
  return {
    steps: steps.map((quad, i) => ({ seconds: seconds[i], quad, ...byHand })),
    card: patches.map((quad, i) => ({ name: patchNames[i], quad, ...byHand })),
  };
};

/** The quad that the handles sit on. */
export const quadOf = (marks: Marks, chosen: Chosen): Quad => {
  switch (chosen.kind) {
    case 'strip':
      return frameAround(marks.steps.map((step) => step.quad));
    case 'card':
      return frameAround(marks.card.map((patch) => patch.quad));
    case 'step':
      return marks.steps[chosen.index].quad;
    case 'patch':
      return marks.card[chosen.index].quad;
  }
};

/**
 * The marks after what was chosen in `marks` has been pulled from the shape `from` (as `quadOf` gave it) to `to`.
 * While a pull goes on, `marks` and `from` stay those it began with.
 */
export const withQuad = (marks: Marks, chosen: Chosen, from: Quad, to: Quad): Marks => {
  const carried = (quad: Quad): Quad => {
    const [a, b, c, d] = quad.map((corner) => carry(from, to, corner));
    return [a, b, c, d];
  };
  switch (chosen.kind) {
    case 'strip':
      return {
        ...marks,
        steps: marks.steps.map((step) => ({ ...step, quad: carried(step.quad), ...byHand })),
      };
    case 'card':
      return {
        ...marks,
        card: marks.card.map((patch) => ({ ...patch, quad: carried(patch.quad), ...byHand })),
      };
    case 'step':
      return {
        ...marks,
        steps: marks.steps.map((s, i) => (i === chosen.index ? { ...s, quad: to, ...byHand } : s)),
      };
    case 'patch':
      return {
        ...marks,
        card: marks.card.map((p, i) => (i === chosen.index ? { ...p, quad: to, ...byHand } : p)),
      };
  }
};

/** A quad with one corner, or (corner null) all of it, moved by dx, dy and kept inside the photo. */
export const nudged = (
  quad: Quad,
  corner: number | null,
  [dx, dy]: Point,
  widthPx: number,
  heightPx: number,
): Quad => {
  const keep = (value: number, most: number): number => Math.min(most, Math.max(0, value));
  if (corner !== null) {
    const [a, b, c, d] = quad.map(
      ([x, y], i): Point => (i === corner ? [keep(x + dx, widthPx), keep(y + dy, heightPx)] : [x, y]),
    );
    return [a, b, c, d];
  }
  const xs = quad.map(([x]) => x);
  const ys = quad.map(([, y]) => y);
  const byX = Math.min(widthPx - Math.max(...xs), Math.max(-Math.min(...xs), dx));
  const byY = Math.min(heightPx - Math.max(...ys), Math.max(-Math.min(...ys), dy));
  const [a, b, c, d] = quad.map(([x, y]): Point => [x + byX, y + byY]);
  return [a, b, c, d];
};

/** The line between two neighbouring steps: its two ends, and the direction in which the strip runs there. */
export interface StepLine {
  readonly ends: readonly [Point, Point];
  /** Unit vector from the earlier step to the later one. */
  readonly along: Point;
}

/** The two corners of a quad that lie furthest along a direction, by their places in it. */
const foremost = (quad: Quad, [ux, uy]: Point): readonly [number, number] => {
  const order = [0, 1, 2, 3].sort(
    (i, j) => quad[j][0] * ux + quad[j][1] * uy - (quad[i][0] * ux + quad[i][1] * uy),
  );
  return [order[0], order[1]];
};

const alongBetween = (from: Quad, to: Quad): Point => {
  const [ax, ay] = centreOf(from);
  const [bx, by] = centreOf(to);
  const length = Math.hypot(bx - ax, by - ay) || 1;
  return [(bx - ax) / length, (by - ay) / length];
};

/**
 * The line between step `index` and the next, halfway between their edges; null where they do not lie beside each other,
 * as scraps do.
 */
export const stepLine = ({ steps }: Marks, index: number): StepLine | null => {
  const [from, to] = [steps[index]?.quad, steps[index + 1]?.quad];
  if (!from || !to) return null;
  const along = alongBetween(from, to);
  const ends = foremost(from, along).map((i) => from[i]);
  const starts = foremost(to, [-along[0], -along[1]]).map((i) => to[i]);
  const near = ends.map(([x, y]) =>
    starts.reduce((best, start) =>
      Math.hypot(start[0] - x, start[1] - y) < Math.hypot(best[0] - x, best[1] - y) ? start : best,
    ),
  );
  const gap = Math.max(...ends.map(([x, y], i) => Math.hypot(near[i][0] - x, near[i][1] - y)));
  const [[ax, ay], [bx, by]] = [centreOf(from), centreOf(to)];
  if (gap > 0.35 * Math.hypot(bx - ax, by - ay)) return null;
  const middle = (i: number): Point => [(ends[i][0] + near[i][0]) / 2, (ends[i][1] + near[i][1]) / 2];
  return { ends: [middle(0), middle(1)], along };
};

/** A step keeps at least this share of the way between its neighbours' middles. */
const LEAST_STEP = 0.12;

/** The marks after the line behind step `index` was moved so many pixels along the strip; its two steps give and take. */
export const withLineMoved = (marks: Marks, index: number, byPx: number): Marks => {
  const [from, to] = [marks.steps[index].quad, marks.steps[index + 1].quad];
  const along = alongBetween(from, to);
  const [[ax, ay], [bx, by]] = [centreOf(from), centreOf(to)];
  const room = (0.5 - LEAST_STEP) * Math.hypot(bx - ax, by - ay);
  const by_ = Math.min(room, Math.max(-room, byPx));
  const moved = (quad: Quad, side: readonly number[]): Quad => {
    const [a, b, c, d] = quad.map(
      ([x, y], i): Point => (side.includes(i) ? [x + by_ * along[0], y + by_ * along[1]] : [x, y]),
    );
    return [a, b, c, d];
  };
  return {
    ...marks,
    steps: marks.steps.map((step, i) =>
      i === index
        ? { ...step, quad: moved(from, foremost(from, along)), ...byHand }
        : i === index + 1
          ? { ...step, quad: moved(to, foremost(to, [-along[0], -along[1]])), ...byHand }
          : step,
    ),
  };
};

/** The same areas with the order of exposures turned end for end. */
export const withStepsTurned = (marks: Marks): Marks => {
  const quads = marks.steps.map((step) => step.quad).reverse();
  return { ...marks, steps: marks.steps.map((step, i) => ({ ...step, quad: quads[i], ...byHand })) };
};

/** The same areas with the order of card patches turned end for end. */
export const withCardTurned = (marks: Marks): Marks => {
  const quads = marks.card.map((patch) => patch.quad).reverse();
  return { ...marks, card: marks.card.map((patch, i) => ({ ...patch, quad: quads[i], ...byHand })) };
};

/** Can these marks be read: no corners crossed? */
export const areProper = (marks: Marks): boolean =>
  marks.steps.every((step) => isProperQuad(step.quad)) &&
  marks.card.every((patch) => isProperQuad(patch.quad));
