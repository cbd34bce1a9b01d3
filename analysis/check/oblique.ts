import { inverse, unitSquareTo } from '../locate/homography.ts';
import type { Marks } from '../locate/marks.ts';
import { sideLengths } from '../locate/quadGeometry.ts';
import { phrase } from '../phrases.ts';
import type { Finding } from './finding.ts';

/** How many times larger the near end of card and strip may look than the far end. From 1.6 diagonals away that is a slant of about 35°. */
const NOTED_RATIO = 1.35;
const STRONG_RATIO = 1.7;

/**
 * How many times larger does the near end of card and strip look than the far end?
 *
 * All marks lie in one plane, so all share one vanishing line. Each quad gives an estimate of it, trusted by the
 * square of its area, since the corners of small quads say little of their convergence.
 */
export const nearToFar = (marks: Marks): number => {
  const quads = [...marks.card, ...marks.steps].map((m) => m.quad);
  const points = quads.flat();
  const middle = ([0, 1] as const).map((axis) => points.reduce((s, p) => s + p[axis], 0) / points.length);
  let [p, q, trust] = [0, 0, 0];
  for (const quad of quads) {
    const toPhoto = unitSquareTo(quad);
    const line = toPhoto && inverse(toPhoto);
    if (!line) continue;
    const level = line[6] * middle[0] + line[7] * middle[1] + line[8];
    const [across, down] = sideLengths(quad);
    const weight = (across * down) ** 2;
    p += (weight * line[6]) / level;
    q += (weight * line[7]) / level;
    trust += weight;
  }
  if (trust === 0) return 1;
  const nearness = points.map(([x, y]) => 1 + (p * (x - middle[0]) + q * (y - middle[1])) / trust);
  const least = Math.min(...nearness);
  return least <= 0 ? Number.POSITIVE_INFINITY : Math.max(...nearness) / least;
};

/** Was the photo taken from too far to the side? */
export const obliqueFindings = (marks: Marks): Finding[] => {
  const ratio = nearToFar(marks);
  if (ratio < NOTED_RATIO) return [];
  return [
    {
      code: 'photo-oblique',
      severity: ratio < STRONG_RATIO ? 'note' : 'retake',
      message: `The near end of card and strip looks ${Number.isFinite(ratio) ? ratio.toFixed(1) : 'many'} times as large as the far end: the photo was taken from the side, where cloth shines and focus runs out. Hold the camera straight above, a little further away.`,
      phrase: phrase('oblique', { factor: Number.isFinite(ratio) ? ratio : null }),
    },
  ];
};
