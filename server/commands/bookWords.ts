import { z } from 'zod';
import type { Batch, Cloth, Dye, Light } from '../contracts/recordThings.ts';
import type { Desk } from '../record/bookDesk.ts';
import { listThings, type ThingOf, thingByName } from '../record/things.ts';
import { CommandError } from './command.ts';

type Named = 'dyes' | 'cloths' | 'lights';

const ONE: Readonly<Record<Named, string>> = { dyes: 'dye', cloths: 'cloth', lights: 'light' };

const MOST_NAMED = 8;

/** "indigo", "weld" or "madder" of what the book has. */
const known = async <T extends Named>(desk: Desk, kind: T): Promise<readonly ThingOf<T>[]> =>
  (await listThings(desk, kind, { away: false, limit: 500, offset: 0 })).rows;

/**
 * The dye, cloth or light that a person names; the only one of the book where none is named.
 *
 * @throws CommandError `usage`, listing what the book has.
 */
export const namedThing = async <T extends Named>(
  desk: Desk,
  kind: T,
  name: string | undefined,
): Promise<ThingOf<T>> => {
  const all = await known(desk, kind);
  const [only] = all;
  if (name === undefined && all.length === 1) return only;
  const found = name === undefined ? null : await desk.store.read((db) => thingByName(db, kind, name));
  if (found) return found;
  const what = ONE[kind];
  const choice = all
    .slice(0, MOST_NAMED)
    .map((thing) => `"${thing.name}"`)
    .join(', ');
  const has =
    all.length === 0
      ? `The book has no ${what} yet. Keep a strip first: tonestep keep PHOTO`
      : `The book has ${choice}${all.length > MOST_NAMED ? ' and others' : ''}`;
  throw new CommandError(
    'usage',
    all.length === 0 && name === undefined
      ? has
      : name === undefined
        ? `Say which ${what}: add --${what} NAME. ${has}`
        : `There is no ${what} "${name}". ${has}`,
  );
};

/** Dye, cloth and light of a question. @throws CommandError `usage`. */
export const namedUse = async (
  desk: Desk,
  values: {
    readonly dye?: string | undefined;
    readonly cloth?: string | undefined;
    readonly light?: string | undefined;
  },
): Promise<{ readonly dye: Dye; readonly cloth: Cloth; readonly light: Light }> => ({
  dye: await namedThing(desk, 'dyes', values.dye),
  cloth: await namedThing(desk, 'cloths', values.cloth),
  light: await namedThing(desk, 'lights', values.light),
});

/** The batch of this name; null where none is named. @throws CommandError `usage`. */
export const namedBatch = async (desk: Desk, name: string | undefined): Promise<Batch | null> => {
  if (name === undefined) return null;
  const found = await desk.store.read((db) => thingByName(db, 'batches', name));
  if (found) return found;
  throw new CommandError(
    'usage',
    `The book has no batch "${name}". Say when it was mixed with the first strip of it: tonestep keep … --batch "${name}" --mixed 2026-05-30`,
  );
};

const day = z.union([z.iso.date(), z.iso.datetime({ offset: true }), z.iso.datetime({ local: true })]);

/** A day or moment as people write it, in UTC; a day alone is its noon here. @throws CommandError `usage`. */
export const momentOf = (option: string, text: string | undefined): string | undefined => {
  if (text === undefined) return undefined;
  const parsed = day.safeParse(text.trim());
  const date = parsed.success
    ? new Date(/^\d{4}-\d{2}-\d{2}$/.test(parsed.data) ? `${parsed.data}T12:00:00` : parsed.data)
    : null;
  if (date && !Number.isNaN(date.getTime())) return date.toISOString();
  throw new CommandError(
    'usage',
    `--${option} needs a day like 2026-05-30 or 2026-05-30T09:30; received "${text}"`,
  );
};
