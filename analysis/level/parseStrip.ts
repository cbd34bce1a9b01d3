import { z } from 'zod';
import { yFromLightness } from '../colour/lightness.ts';
import { AnalysisError } from '../errors.ts';
import { firstIssue, issueOf } from '../firstIssue.ts';
import { phrase } from '../phrases.ts';
import type { Card, Strip } from './card.ts';
import { isCardKind, KNOWN_CARDS, ownPatch } from './cards.ts';

const MOST_STEPS = 60;
const LONGEST_SECONDS = 14 * 24 * 3600;
/** No timer or shutter used on cloth goes below; numbers far under it would keep the fitter busy for nothing. */
const SHORTEST_SECONDS = 0.01;
const QUOTED_CHARACTERS = 60;

const ownPatchShape = z.object({
  name: z.string().trim().min(1).max(60),
  Y: z.number().optional(),
  L: z.number().optional(),
  density: z.number().optional(),
});

const stripShape = z.object({
  dye: z.string().max(200).default(''),
  cloth: z.string().max(200).default(''),
  light: z.string().max(200).default(''),
  card: z.union([z.string(), z.object({ patches: z.array(ownPatchShape).min(1).max(60) })], {
    error: 'needs the name of a card or {"patches": [{"name": "white", "Y": 0.9}, …]}',
  }),
  steps: z
    .array(z.object({ seconds: z.number().min(0).max(LONGEST_SECONDS) }))
    .min(1)
    .max(MOST_STEPS),
});

const reflectanceOf = (given: z.infer<typeof ownPatchShape>): number => {
  const values = [given.Y, given.L, given.density].filter((v) => v !== undefined);
  if (values.length !== 1)
    throw new AnalysisError(
      'card-invalid',
      `Card patch "${given.name}" needs one of Y, L or density, and only one.`,
      { phrase: phrase('patch-one-measure', { patch: given.name }) },
    );
  if (given.Y !== undefined) {
    if (given.Y > 1 && given.Y <= 100)
      throw new AnalysisError(
        'card-invalid',
        `Card patch "${given.name}" has Y = ${given.Y}: write Y from 0 to 1 (18 % is 0.18).`,
        { phrase: phrase('patch-in-percent', { patch: given.name, Y: given.Y }) },
      );
    return given.Y;
  }
  return given.L !== undefined ? yFromLightness(given.L) : 10 ** -given.density!;
};

/** The one measure that was given, for other languages. */
const measureOf = ({ Y, L, density }: z.infer<typeof ownPatchShape>) =>
  Y !== undefined
    ? ({ as: 'Y', value: Y } as const)
    : L !== undefined
      ? ({ as: 'L', value: L } as const)
      : ({ as: 'density', value: density ?? Number.NaN } as const);

const givenAs = ({ Y, L, density }: z.infer<typeof ownPatchShape>): string =>
  Y !== undefined ? `Y = ${Y}` : L !== undefined ? `L* = ${L}` : `density ${density}`;

const parseCard = (given: z.infer<typeof stripShape>['card']): Card => {
  if (typeof given === 'string') {
    if (isCardKind(given)) return KNOWN_CARDS[given];
    throw new AnalysisError(
      'card-invalid',
      `Card "${given.slice(0, QUOTED_CHARACTERS)}" is not known. Use ${Object.keys(KNOWN_CARDS).join(', ')}, or list your own patches with Y, L or density.`,
      {
        phrase: phrase('card-unknown', {
          card: given.slice(0, QUOTED_CHARACTERS),
          known: Object.keys(KNOWN_CARDS),
        }),
      },
    );
  }
  const patches = given.patches.map((p) => {
    const Y = reflectanceOf(p);
    if (!(Y >= 0.002 && Y <= 1.05))
      throw new AnalysisError(
        'card-invalid',
        `Card patch "${p.name}" with ${givenAs(p)} can't be used; a usable patch lies between Y 0.002 and 1 (L* 1.8 to 100, density 2.7 to 0).`,
        { phrase: phrase('patch-beyond', { patch: p.name, ...measureOf(p) }) },
      );
    return ownPatch(p.name, Y);
  });
  if (new Set(patches.map((p) => p.name)).size !== patches.length)
    throw new AnalysisError('card-invalid', 'Two card patches have the same name; give each its own.', {
      phrase: phrase('patch-twice', {}),
    });
  return { kind: 'own', patches };
};

/**
 * What does the printer say about this strip? Takes the parsed JSON of a strip description
 * (`dye`, `cloth`, `light`, `card`, `steps` in seconds) and returns it checked, the card resolved to known patches.
 *
 * @throws AnalysisError `strip-invalid` or `card-invalid`, with what to change.
 */
export const parseStrip = (json: unknown): Strip => {
  const parsed = stripShape.safeParse(json);
  if (!parsed.success)
    throw new AnalysisError(
      'strip-invalid',
      `The strip description can't be used: ${firstIssue(parsed.error)}. It needs "card" and "steps": [{"seconds": 0}, {"seconds": 60}, …].`,
      { phrase: phrase('strip-unreadable', { issue: issueOf(parsed.error) }) },
    );
  const { dye, cloth, light, steps } = parsed.data;
  const tooShort = steps.find(({ seconds }) => seconds > 0 && seconds < SHORTEST_SECONDS);
  if (tooShort)
    throw new AnalysisError(
      'strip-invalid',
      `A step of ${tooShort.seconds} s is shorter than any exposure can be timed. Give seconds: 0 for the unexposed base, else ${SHORTEST_SECONDS} or more.`,
      { phrase: phrase('step-too-short', { seconds: tooShort.seconds, least: SHORTEST_SECONDS }) },
    );
  for (let i = 1; i < steps.length; i++)
    if (steps[i].seconds < steps[i - 1].seconds)
      throw new AnalysisError(
        'strip-invalid',
        `Step ${i + 1} (${steps[i].seconds} s) is shorter than the step before it (${steps[i - 1].seconds} s). List the steps in rising exposure.`,
        {
          phrase: phrase('steps-not-rising', {
            step: i + 1,
            seconds: steps[i].seconds,
            before: steps[i - 1].seconds,
          }),
        },
      );
  return { dye, cloth, light, card: parseCard(parsed.data.card), steps };
};
