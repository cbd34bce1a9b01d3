import type { Target } from '../../analysis/advice/advice.ts';
import { parseTarget } from '../../analysis/advice/target.ts';
import type { StoredReading } from './storedReading.ts';

/** The depth asked for on the command line, else the one that the stored reading was made for. */
export const targetOf = (text: string | undefined, { reading }: StoredReading): Target =>
  text === undefined ? reading.advice.target : parseTarget(text);
