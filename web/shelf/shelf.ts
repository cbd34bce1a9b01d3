import { signal } from '@preact/signals';
import type { Preview } from '../../server/contracts/answers.ts';
import type { Marks, Taps } from '../../server/contracts/marks.ts';
import type { Reading } from '../../server/contracts/reading.ts';
import type { StripDescription } from '../../server/contracts/strip.ts';
import { allOf, putInto, removeFrom } from './database.ts';

/** A picture of a photo as this browser keeps it. */
export interface KeptPicture {
  readonly picture: Blob;
  readonly photoWidthPx: number;
  readonly photoHeightPx: number;
  /** The name under which the server held the photo. */
  readonly photoKey?: string;
}

/** A further photo of a strip as this browser keeps it. */
export interface KeptFurther {
  readonly photo: Blob;
  readonly preview: KeptPicture | null;
  /** As set by hand. */
  readonly marks: Marks | null;
}

/** One strip that was read on this page, with all that it takes to show it and to read it again. */
export interface ShelfStrip {
  readonly key: string;
  readonly readAt: number;
  readonly reading: Reading;
  readonly strip: StripDescription;
  readonly photo: Blob;
  readonly preview: KeptPicture | null;
  /** Further photos that were read with it. */
  readonly also?: readonly (KeptFurther | Blob)[];
  /** Where a person tapped to have card and strip found. */
  readonly taps?: Taps;
  /** The reading in the book, once it is kept. */
  readonly keptId?: string;
}

/** Older strips make room beyond this number. */
export const MOST_STRIPS = 24;

/** The strips of this browser, newest first. */
export const shelf = signal<readonly ShelfStrip[]>([]);

/** False once the browser has refused to keep something. */
export const keepsStrips = signal(true);

const newestFirst = (strips: readonly ShelfStrip[]): readonly ShelfStrip[] =>
  [...strips].sort((a, b) => b.readAt - a.readAt);

const quietly = async (job: () => Promise<unknown>): Promise<void> => {
  try {
    await job();
  } catch {
    keepsStrips.value = false;
  }
};

/** Fills the shelf with what the browser kept. */
export const openShelf = (): Promise<void> =>
  quietly(async () => {
    shelf.value = newestFirst(await allOf<ShelfStrip>('readings'));
  });

/** Lays a strip on the shelf, or in place of the one with its key. */
export const layOnShelf = async (strip: ShelfStrip): Promise<void> => {
  const others = shelf.value.filter(({ key }) => key !== strip.key);
  const all = newestFirst([strip, ...others]);
  shelf.value = all.slice(0, MOST_STRIPS);
  await quietly(async () => {
    await putInto('readings', strip);
    for (const { key } of all.slice(MOST_STRIPS)) await removeFrom('readings', key);
  });
};

/** Takes a strip off the shelf; `layOnShelf` brings it back. */
export const takeOffShelf = async (key: string): Promise<void> => {
  shelf.value = shelf.value.filter((strip) => strip.key !== key);
  await quietly(() => removeFrom('readings', key));
};

const addresses = new WeakMap<Blob, string>();
const pictures = new Map<string, KeptPicture>();

/** A preview that the page can show without asking the server. */
export const previewOf = (kept: KeptPicture): Preview => {
  const { picture, photoWidthPx, photoHeightPx, photoKey } = kept;
  let href = addresses.get(picture);
  if (!href) {
    href = URL.createObjectURL(picture);
    addresses.set(picture, href);
    pictures.set(href, kept);
  }
  return { href, photoWidthPx, photoHeightPx, ...(photoKey !== undefined && { photoKey }) };
};

/** The kept picture that a preview shows; undefined for a preview of the server's. */
export const pictureBehind = ({ href }: Preview): KeptPicture | undefined => pictures.get(href);
