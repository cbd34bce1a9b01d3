import { phrase } from '../phrases.ts';
import type { SurroundCell, Tiled } from '../tiles/tile.ts';
import type { Finding } from './finding.ts';
import { lnRedToBlue, markGroups, type OwnVariation, tableGroup } from './lightGroups.ts';
import { smoothLight } from './smoothLight.ts';

/** What surfaces vary by in ln red against blue: a printed grey, dyed cloth, a plain table. */
const OWN: OwnVariation = { card: 0.008, step: 0.06, surround: 0.02, perTint: 0.05 };
/** Change of ln red against blue over card and strip beyond which the light is mixed: 12 %. Faultless photos stay below 8 %. */
const MOST_TINTED = 0.11;

/** Does the colour of the light change over card and strip, as between a window and a lamp? */
export const tintFindings = (tiled: Tiled, table: readonly SurroundCell[] | null): Finding[] => {
  const marks = markGroups(tiled, lnRedToBlue, OWN);
  const tint = smoothLight(table === null ? marks : [...marks, tableGroup(tiled, table, lnRedToBlue, OWN)]);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < tint.from[marks.length]; k++) {
    const at = tint.at(tint.u[k], tint.v[k]);
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  if (high - low <= MOST_TINTED) return [];
  return [
    {
      code: 'light-mixed',
      severity: 'retake',
      message: `The colour of the light changes over card and strip: red against blue by ${(100 * (Math.exp(high - low) - 1)).toFixed(0)} %, as between a window and a lamp. Use one kind of light: draw the curtain, or switch the lamp off.`,
      phrase: phrase('light-mixed', { share: Math.exp(high - low) - 1 }),
    },
  ];
};
