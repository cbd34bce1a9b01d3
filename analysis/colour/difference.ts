import { differenceCiede2000, modeLab65, useMode } from 'culori/fn';
import type { Lab } from './lab.ts';

useMode(modeLab65);
const ciede2000 = differenceCiede2000();

/**
 * How far apart do two colours look, in steps of about one just noticeable difference? CIEDE2000 with
 * kL = kC = kH = 1. Made for small differences (under about 5); larger ones only rank.
 * Both colours against the same white. Returns ΔE00, 0 or more.
 * Source: Sharma, Wu and Dalal 2005 (CIE 142).
 * @example deltaE00({ L: 50, a: 2.6772, b: -79.7751 }, { L: 50, a: 0, b: -82.7485 }) // 2.0425
 */
export function deltaE00(one: Lab, other: Lab): number {
  return ciede2000(
    { mode: 'lab65', l: one.L, a: one.a, b: one.b },
    { mode: 'lab65', l: other.L, a: other.a, b: other.b },
  );
}
