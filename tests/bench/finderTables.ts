import type { Found } from './finderMeasure.ts';
import { FINDER_CARDS, FINDER_SURROUNDS } from './finderScene.ts';
import { percentile, rms, row, share } from './tables.ts';

export const isRight = (f: Found): boolean => f.cardRight && f.stepsRight;
export const isWrongButConfident = (f: Found): boolean => f.outcome === 'found' && !isRight(f);

const WHOLE = (f: Found): boolean => !f.scene.leftOut;

const line = (name: string, group: readonly Found[]): string =>
  row([
    name,
    String(group.length),
    share(group.map(isRight)),
    share(group.map((f) => isRight(f) && f.outcome !== 'found')),
    share(group.map(isWrongButConfident)),
  ]);

/** The finder's figures as lines of text. */
export const finderTables = (found: readonly Found[]): string[] => {
  const whole = found.filter(WHOLE);
  const lines = [row(['photos with', 'photos', 'right', 'right but asked', 'wrong, confident'])];
  const add = (name: string, group: readonly Found[]): void => {
    if (group.length > 0) lines.push(line(name, group));
  };
  for (const surround of FINDER_SURROUNDS)
    add(
      surround,
      whole.filter((f) => f.scene.surround === surround),
    );
  for (const pattern of ['wood', 'check', 'stripes'])
    add(
      `- ${pattern}`,
      whole.filter((f) => f.pattern === pattern),
    );
  for (const card of FINDER_CARDS)
    add(
      card,
      whole.filter((f) => f.scene.card === card),
    );
  add(
    'one cloth',
    whole.filter((f) => f.pieces === 'contiguous'),
  );
  add(
    'scraps',
    whole.filter((f) => f.pieces === 'scraps'),
  );
  add('all', whole);
  const forgotten = found.filter((f) => !WHOLE(f));
  for (const what of ['card', 'cloth'] as const) {
    const group = forgotten.filter((f) => f.scene.leftOut === what);
    if (group.length > 0)
      lines.push(
        `${what} forgotten: ${group.length} photos; not found ${group.filter((f) => f.outcome === 'not-found').length}, asked ${group.filter((f) => f.outcome === 'uncertain').length}, answered ${group.filter((f) => f.outcome === 'found').length}`,
      );
  }
  lines.push(`wrong but confident over all ${found.length} photos: ${share(found.map(isWrongButConfident))}`);
  lines.push(
    `right: every middle inside the true area and 60 % of that covered. Stricter, 60 % of what both cover together: ${share(whole.map((f) => f.same))} right, ${share(whole.map((f) => f.outcome === 'found' && !f.same))} not so but confident`,
  );
  const declared = whole.flatMap((f) => f.unnoticed);
  const sure = whole.filter((f) => f.outcome === 'found').flatMap((f) => f.unnoticed);
  lines.push(
    `one step declared too few or too many: ${declared.filter(Boolean).length} of ${declared.length} unnoticed; where the true number is sure ${sure.filter(Boolean).length} of ${sure.length}`,
  );
  for (const [name, group] of [
    ['confident', whole.filter((f) => f.outcome === 'found')],
    ['right', whole.filter(isRight)],
  ] as const) {
    const read = group.filter((f) => f.errorTrue !== null && f.errorFound !== null);
    const [truth, mine] = [read.map((f) => f.errorTrue!), read.map((f) => f.errorFound!)];
    lines.push(
      `L* RMSE of the ${read.length} ${name}: true marks ${rms(truth).toFixed(3)}, found marks ${rms(mine).toFixed(3)}, ratio ${(rms(mine) / rms(truth)).toFixed(3)}; median per photo ${percentile(truth, 50).toFixed(3)} and ${percentile(mine, 50).toFixed(3)}`,
    );
  }
  return lines;
};
