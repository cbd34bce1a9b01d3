import { median } from 'simple-statistics';
import { AnalysisError } from '../errors.ts';
import { type Phrase, type PhraseValues, phrase } from '../phrases.ts';
import type { PatchMean } from '../tiles/robustMean.ts';
import type { Card, CardPatch } from './card.ts';

/** A card patch that can be used: its known value and its mean in the photo. */
export interface UsablePatch {
  readonly patch: CardPatch;
  readonly mean: PatchMean;
}

/** What stands against a patch. */
interface Reason {
  readonly reason: string;
  readonly phrase: Phrase;
}

export interface CardCheck {
  readonly usable: readonly UsablePatch[];
  readonly refused: readonly ({ readonly name: string } & Reason)[];
}

/** Share of clipped pixels beyond which a patch says nothing of its own value. */
const MOST_CLIPPED = 0.02;
/** Recorded light below which clipped pixels are at the black end. */
const DARK_LIGHT = 0.1;
/** Relative spread of tiles beyond which a patch is glaring or half covered. */
const MOST_UNEVEN = 0.12;
/**
 * How far, in ln of a channel ratio, a patch's colour may lie from the others' before its mark is taken to be off the
 * card: table light of two kinds and a camera's tone move it by a tenth, in the darkest patches by several.
 */
const mostColoured = (Y: number): number => 0.25 + 0.01 / Y;
const FEWEST_TO_COMPARE = 3;
const NOT_NEUTRAL: Reason = {
  reason: 'of another colour than the other patches; look whether its mark lies on the card',
  phrase: phrase('patch-coloured', {}),
};
/** How far recorded light may run against the known order before the patches count as mixed up. */
const ORDER_SLACK = 0.97;
/**
 * Exponents of a camera's tone beyond any that phones, flat profiles or undecoded files have, and the factor that
 * uneven light may add: patches whose contrast lies outside are not those that the card says. Common practice, no source.
 */
const FLATTEST = 0.3;
const STEEPEST = 3;
const LIGHT_SLACK = 2;
/** Known ratio from which two patches must differ in the photo at all, and by how much. */
const PLAINLY_APART = 3;
const LEAST_RATIO = 1.1;
/** Share of white below which shadows may be crushed or veiled beyond any exponent. */
const SHADOW = 0.004;

const ratio = (one: number, other: number): number => Math.log((one + 0.002) / (other + 0.002));

/** The patches whose contrast in the photo no camera's tone can give, with the reason; null where there are none. */
const impossibleContrast = (
  usable: readonly UsablePatch[],
  light: (patch: UsablePatch) => number,
): Reason | null => {
  const shadow = (SHADOW * light(usable[0])) / usable[0].patch.Y;
  for (const [i, lighter] of usable.entries())
    for (const darker of usable.slice(i + 1)) {
      const known = lighter.patch.Y / darker.patch.Y;
      const seen = (light(lighter) + shadow) / (light(darker) + shadow);
      const least = Math.max(known ** FLATTEST / LIGHT_SLACK, known >= PLAINLY_APART ? LEAST_RATIO : 0);
      const pair = `Card patches "${lighter.patch.name}" and "${darker.patch.name}"`;
      const times = `${seen.toPrecision(2)} : 1 in the photo, ${known.toPrecision(2)} : 1 on the card`;
      const values: PhraseValues['card-contrast-low'] = {
        lighter: lighter.patch.name,
        darker: darker.patch.name,
        seen,
        known,
      };
      if (seen < least)
        return { reason: `${pair} hardly differ (${times})`, phrase: phrase('card-contrast-low', values) };
      if (seen > known ** STEEPEST * LIGHT_SLACK)
        return { reason: `${pair} differ too much (${times})`, phrase: phrase('card-contrast-high', values) };
    }
  return null;
};

/** "white, grey are clipped …; black is uneven …": patches of one reason together. */
const refusals = (refused: CardCheck['refused']): string => {
  const reasons = [...new Set(refused.map((r) => r.reason))];
  return reasons
    .map((reason) => {
      const names = refused.filter((r) => r.reason === reason).map((r) => r.name);
      return `${names.join(', ')} ${names.length > 1 ? 'are' : 'is'} ${reason}`;
    })
    .join('; ');
};

const reasonAgainst = ({ mean }: UsablePatch): Reason | null => {
  if (mean.clippedShare > MOST_CLIPPED) {
    const dark = Math.max(...mean.rgb) < DARK_LIGHT;
    return {
      reason: `clipped in the photo (${(100 * mean.clippedShare).toFixed(0)} % of its pixels); expose the photo ${
        dark ? 'more, it is black there' : 'a little less'
      }`,
      phrase: phrase('patch-clipped', { share: mean.clippedShare, dark }),
    };
  }
  // Noise alone makes a dark patch look uneven: half a per cent of white is allowed on top.
  if (mean.unevenness * mean.rgb[1] > MOST_UNEVEN * mean.rgb[1] + 0.005)
    return {
      reason: `uneven (${(100 * mean.unevenness).toFixed(0)} % from tile to tile); look for glare, a shadow or a wrong mark`,
      phrase: phrase('patch-uneven', { share: mean.unevenness }),
    };
  return null;
};

/**
 * Which card patches can be trusted? Clipped and uneven ones are left out with the reason.
 *
 * @param lightAt table light, relative, by which patches far apart are compared.
 * @throws AnalysisError `card-unusable` where none is left or their order or contrast is not the card's;
 *   `marks-invalid` where no marked name is on the card.
 */
export const checkCard = (
  card: Card,
  means: readonly { readonly name: string; readonly mean: PatchMean }[],
  lightAt: (x: number, y: number) => number,
): CardCheck => {
  const light = ({ mean }: UsablePatch): number =>
    (0.25 * mean.rgb[0] + 0.65 * mean.rgb[1] + 0.1 * mean.rgb[2]) / lightAt(mean.x, mean.y);
  const known = new Map(card.patches.map((p) => [p.name, p]));
  const marked = means.flatMap(({ name, mean }) => {
    const patch = known.get(name);
    return patch ? [{ patch, mean }] : [];
  });
  if (marked.length === 0)
    throw new AnalysisError(
      'marks-invalid',
      `No marked card patch is on this card. Its patches are named ${card.patches.map((p) => p.name).join(', ')}.`,
      { phrase: phrase('card-names-unknown', { names: card.patches.map((p) => p.name) }) },
    );
  const ratios = marked.map(({ mean: { rgb } }) => [ratio(rgb[0], rgb[1]), ratio(rgb[2], rgb[1])]);
  const usual = [median(ratios.map((r) => r[0])), median(ratios.map((r) => r[1]))];
  const colourOf = (i: number): number =>
    Math.max(Math.abs(ratios[i][0] - usual[0]), Math.abs(ratios[i][1] - usual[1]));
  const judged = marked.map((m, i) => {
    const coloured = marked.length >= FEWEST_TO_COMPARE && colourOf(i) > mostColoured(m.patch.Y);
    return { m, against: reasonAgainst(m) ?? (coloured ? NOT_NEUTRAL : null) };
  });
  const usable = judged
    .flatMap(({ m, against }) => (against === null ? [m] : []))
    .sort((a, b) => b.patch.Y - a.patch.Y);
  const refused = judged.flatMap(({ m, against }) =>
    against === null ? [] : [{ name: m.patch.name, ...against }],
  );
  if (usable.length === 0)
    throw new AnalysisError(
      'card-unusable',
      `No card patch can be used: ${refusals(refused)}. Take the photo again.`,
      {
        phrase: phrase('card-none-usable', {
          refused: refused.map((r) => ({ patch: r.name, reason: r.phrase })),
        }),
      },
    );
  for (let i = 1; i < usable.length; i++)
    if (
      light(usable[i]) > light(usable[i - 1]) / ORDER_SLACK &&
      usable[i].patch.Y < 0.97 * usable[i - 1].patch.Y
    )
      throw new AnalysisError(
        'card-unusable',
        `Card patch "${usable[i].patch.name}" is lighter in the photo than "${usable[i - 1].patch.name}", though it should be darker. Check the order of the patches, and look for a shadow or glare on the card.`,
        {
          phrase: phrase('card-order', {
            lighter: usable[i].patch.name,
            darker: usable[i - 1].patch.name,
          }),
        },
      );
  const contrast = impossibleContrast(usable, light);
  if (contrast !== null)
    throw new AnalysisError(
      'card-unusable',
      `${contrast.reason}. Check that the marks lie on the card, that it is the card described, and its values.`,
      { phrase: contrast.phrase },
    );
  return { usable, refused };
};
