import type { OwnPatch } from '../server/contracts/strip.ts';
import { parseNumber } from './numbers.ts';

export type PatchMeasure = 'Y' | 'L' | 'density';

/** A card patch as typed. */
export interface OwnPatchDraft {
  readonly name: string;
  readonly measure: PatchMeasure;
  readonly value: string;
}

export type OwnPatches =
  | { readonly kind: 'patches'; readonly patches: readonly OwnPatch[] }
  | { readonly kind: 'problem'; readonly problem: PatchMeasure | 'name' | 'none' };

/** Values that a neutral patch can have; a reflectance of 0.002 is an L* of 1.8 and a density of 2.7. */
const RANGES: Readonly<Record<PatchMeasure, readonly [least: number, most: number]>> = {
  Y: [0.002, 1],
  L: [2, 100],
  density: [0, 2.7],
};

/** The patches that were typed, or the first thing to put right. Rows left wholly empty are passed over. */
export const patchesOf = (drafts: readonly OwnPatchDraft[]): OwnPatches => {
  const filled = drafts.filter((draft) => draft.value.trim() !== '');
  if (filled.length === 0) return { kind: 'problem', problem: 'none' };
  const names = filled.map((draft) => draft.name.trim());
  if (names.some((name) => name === '') || new Set(names).size < names.length)
    return { kind: 'problem', problem: 'name' };
  const patches: OwnPatch[] = [];
  for (const { name, measure, value } of filled) {
    const number = parseNumber(value);
    const [least, most] = RANGES[measure];
    if (number === null || number < least || number > most) return { kind: 'problem', problem: measure };
    patches.push({ name: name.trim(), [measure]: number } as OwnPatch);
  }
  return { kind: 'patches', patches };
};
