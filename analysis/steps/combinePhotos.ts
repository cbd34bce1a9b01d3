import { mean } from 'simple-statistics';
import { densityFromY } from '../colour/density.ts';
import { yFromLightness } from '../colour/lightness.ts';
import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { colourOfSteps } from './colourOfSteps.ts';
import type { Step, StepSet } from './step.ts';

/** How well photos of one strip agree. */
export interface Repeatability {
  readonly photos: number;
  /** Some lie end for end against others, so that a slant of light cancels; not told by readings of method 1. */
  readonly turned?: boolean;
  /** Standard deviation of one photo's L* about the mean of all, pooled over the steps. */
  readonly measuredL: number;
  /** The same as the uncertainty budget of one photo expects it: light and tone. */
  readonly expectedL: number;
}

export interface CombinedPhotos {
  readonly set: StepSet;
  readonly repeatability: Repeatability;
}

/** How far apart two directions may be to count as the same, or as turned end for end. */
const SAME_DEGREES = 30;
/** How alike the light's slant is in two photos taken one after the other without moving the lamp. Common practice, no source. */
const SLANT_STAYS = 0.9;

/** +1 for photos that lie as the first one does, −1 for those turned end for end, 0 for others. */
const turns = (sets: readonly StepSet[]): number[] => {
  const first = sets[0].directionDegrees;
  return sets.map(({ directionDegrees: own }) => {
    if (first === null || own === null) return 0;
    const apart = Math.abs(((((own - first) % 360) + 540) % 360) - 180);
    return apart < SAME_DEGREES ? 1 : apart > 180 - SAME_DEGREES ? -1 : 0;
  });
};

/** The expected spread counts as if it had been seen this many times; each further photo is one more sight of it. */
const EXPECTED_COUNTS = 3;
/**
 * How much of what one photo leaves open of light and tone is that photo's alone. The rest, the same phone's tone over
 * the same table, comes back in every photo: no spread shows it and no number of photos takes it away.
 */
const ONE_PHOTOS_OWN = 0.5;

/**
 * What do several photos of one strip say together? Steps are averaged. Of light and tone, half is taken to be each
 * photo's own: it averages out and is scaled to the spread that was seen between the photos, the more so the more
 * there are. The other half, and what they share anyway, cloth and card, stays. Between photos turned end for end a
 * slant of light cancels: its error has the opposite sign in each, and its share of the uncertainty falls with it.
 *
 * @param sets one per photo, with the same exposures in the same order.
 * @throws AnalysisError `marks-invalid` where the photos do not show the same steps.
 */
export const combinePhotos = (sets: readonly StepSet[]): CombinedPhotos => {
  const [first, ...others] = sets;
  const n = first.steps.length;
  for (const set of others)
    if (set.steps.length !== n || set.steps.some((s, i) => s.seconds !== first.steps[i].seconds))
      throw new AnalysisError(
        'marks-invalid',
        'The photos do not show the same steps. Mark the same steps in every photo of the strip.',
        { phrase: phrase('photos-differ', {}) },
      );
  const count = sets.length;
  const square = (at: (i: number, j: number) => number) =>
    first.steps.map((_, i) => first.steps.map((_, j) => at(i, j)));
  const L = first.steps.map((_, i) => mean(sets.map((set) => set.steps[i].L)));
  const signs = turns(sets);
  const turned = signs.includes(1) && signs.includes(-1);
  /** Sum over pairs of photos of how their slants hang together: negative where turned photos outweigh the others. */
  const slantPairs = turned
    ? signs.reduce((s, a, p) => s + signs.reduce((t, b, q) => t + (p === q ? 0 : a * b * SLANT_STAYS), 0), 0)
    : 0;
  const slant = square((i, j) => (turned ? mean(sets.map((set) => set.slantCovarianceL[i][j])) : 0));
  const rest = square(
    (i, j) => mean(sets.map((set) => set.covarianceL[i][j] - set.sharedCovarianceL[i][j])) - slant[i][j],
  );
  const diagonal = (matrix: readonly (readonly number[])[]) => mean(matrix.map((row, i) => row[i]));
  // A slant that cancels in the mean stands out all the more between the photos.
  const slantSpread = count > 1 ? 1 - slantPairs / (count * (count - 1)) : 0;
  const expected = ONE_PHOTOS_OWN * diagonal(rest) + slantSpread * diagonal(slant);
  const measured =
    count > 1
      ? sets.reduce((s, set) => s + set.steps.reduce((t, step, i) => t + (step.L - L[i]) ** 2, 0), 0) /
        ((count - 1) * n)
      : expected;
  const shrunk = (EXPECTED_COUNTS + (count - 1) * (measured / expected)) / (EXPECTED_COUNTS + count - 1);
  // Photos that agree though a slant should part them were perhaps turned with the lamp: no reason to be surer.
  const scale = slantPairs < 0 ? Math.max(1, shrunk) : shrunk;
  const sharedCovarianceL = square((i, j) => mean(sets.map((set) => set.sharedCovarianceL[i][j])));
  const restLeft = count > 1 ? 1 - ONE_PHOTOS_OWN + (scale * ONE_PHOTOS_OWN) / count : 1;
  const slantLeft = (scale * (count + slantPairs)) / count ** 2;
  const covarianceL = square(
    (i, j) => sharedCovarianceL[i][j] + restLeft * rest[i][j] + slantLeft * slant[i][j],
  );
  const lab = first.steps.map((_, i) => ({
    L: L[i],
    a: mean(sets.map((set) => set.steps[i].a)),
    b: mean(sets.map((set) => set.steps[i].b)),
  }));
  const colours = colourOfSteps(lab, first.steps[0].deltaEToBase !== null);
  const steps = first.steps.map((step, i): Step => {
    const all = sets.map((set) => set.steps[i]);
    const Y = yFromLightness(L[i]);
    const average = (pick: (s: Step) => number) => mean(all.map(pick));
    return {
      ...step,
      ...colours[i],
      Y,
      density: densityFromY(Y),
      ksIndex: average((s) => s.ksIndex),
      unevennessL: average((s) => s.unevennessL),
      clippedShare: Math.max(...all.map((s) => s.clippedShare)),
      tilesUsed: all.reduce((s, one) => s + one.tilesUsed, 0),
      tilesDropped: all.reduce((s, one) => s + one.tilesDropped, 0),
      uL: Math.sqrt(covarianceL[i][i]),
      budget: {
        step: average((s) => s.budget.step),
        card: average((s) => s.budget.card),
        illumination: Math.sqrt(
          Math.max(
            0,
            restLeft * (average((s) => s.budget.illumination ** 2) - slant[i][i]) + slantLeft * slant[i][i],
          ),
        ),
        tone: Math.sqrt(restLeft) * average((s) => s.budget.tone),
      },
    };
  });
  return {
    set: {
      steps,
      covarianceL,
      sharedCovarianceL,
      slantCovarianceL: slant,
      directionDegrees: first.directionDegrees,
    },
    repeatability: { photos: count, turned, measuredL: Math.sqrt(measured), expectedL: Math.sqrt(expected) },
  };
};
