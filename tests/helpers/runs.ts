import { appendFileSync } from 'node:fs';

/**
 * How many random cases a test tries: all of them with TONESTEP_FULL, as `.ci/run` sets it, else a share that keeps
 * `npm test` short. `npm test` names at its end what it tried in short.
 */
export const runs = (what: string, full: number, short: number): number => {
  if (process.env.TONESTEP_FULL) return full;
  const list = process.env.TONESTEP_SHORT_LIST;
  if (list) appendFileSync(list, `${what}: ${short} of ${full}\n`);
  return short;
};
