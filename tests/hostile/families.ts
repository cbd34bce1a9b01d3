import { archiveFamilies } from './archiveFamilies.ts';
import { commandFamilies } from './commandFamilies.ts';
import type { Family } from './family.ts';
import { jsonFamilies } from './jsonFamilies.ts';
import { photoFamilies } from './photoFamilies.ts';
import { requestFamilies } from './requestFamilies.ts';

/** Everything hostile, by kind. */
export const families: readonly Family[] = [
  ...photoFamilies,
  ...jsonFamilies,
  ...requestFamilies,
  ...archiveFamilies,
  ...commandFamilies,
];
