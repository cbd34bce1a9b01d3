import { statfs } from 'node:fs/promises';
import { phrase } from '../../analysis/phrases.ts';
import type { ArchiveAnswer, BookFile } from '../contracts/archive.ts';
import { Refusal } from '../refusal.ts';
import type { Store } from '../store/openStore.ts';
import { type Arrival, beginArrival } from './archiveArrival.ts';
import { checkArchive } from './archiveCheck.ts';
import { type ArchiveFile, openArchive } from './archiveFile.ts';
import { mergeBook } from './archiveMerge.ts';
import { photoName } from './archiveNames.ts';
import { eldersFirst, findTwins, layReadings } from './archiveReadings.ts';
import { damagedArchive, noArchive } from './archiveRefusals.ts';
import type { Merged } from './archiveTurns.ts';

/** Room that a disk must have beyond the photos themselves, for rows and for everybody else. */
const SPARE_BYTES = 100_000_000;

const checkRoom = async (folder: string, bytes: number): Promise<void> => {
  const { bavail, bsize } = await statfs(folder);
  if (bavail * bsize < bytes + SPARE_BYTES)
    throw new Refusal(
      'disk-full',
      `The disk that holds the book has no room for this archive: its photos need ${Math.ceil(bytes / 1e6)} MB. Make room, then bring it in again. Nothing was brought in.`,
      { phrase: phrase('archive-room', { megabytes: Math.ceil(bytes / 1e6) }) },
    );
};

/** Photos that the book lacks are laid aside. How many neither of the two has. */
const layPhotos = async (
  store: Store,
  file: ArchiveFile,
  book: BookFile,
  arrival: Arrival,
): Promise<number> => {
  const there = new Set(await store.photos.list());
  for (const photo of book.photos)
    if (!photo.lost && !there.has(photo.sha256)) {
      const kept = await arrival.photo(await file.read(photoName(photo.sha256)));
      if (kept !== photo.sha256) throw damagedArchive('a photo changed while it was brought in');
    }
  return book.photos.filter((photo) => photo.lost && !there.has(photo.sha256)).length;
};

/** Everything that is large first, and then the rows in one short transaction. */
const bringIn = async (
  store: Store,
  file: ArchiveFile,
  book: BookFile,
): Promise<{ readonly merged: Merged; readonly photosLost: number }> => {
  const inOrder = eldersFirst(book.readings);
  if (!inOrder) throw noArchive('its readings stand in for each other in a circle');
  const arrival = await beginArrival(store);
  const arrive = async () => {
    const photosLost = await layPhotos(store, file, book, arrival);
    const { readings, known } = await layReadings(store, file, inOrder, arrival);
    await arrival.ready();
    const twins = await findTwins(store, readings, known);
    const merged = await store.write(async (db) => {
      await arrival.confirm(db);
      const done = await mergeBook(db, book, readings, twins);
      await arrival.finish(db);
      return done;
    });
    return { merged, photosLost };
  };
  try {
    const done = await arrive();
    await arrival.close().catch(() => undefined);
    return done;
  } catch (error) {
    // Where even this fails, nothing of it shows: the next archive sweeps up first.
    await arrival.undo().catch(() => undefined);
    throw error;
  }
};

const WORDS: readonly (readonly [kind: string, one: string, many: string])[] = [
  ['dyes', 'dye', 'dyes'],
  ['cloths', 'cloth', 'cloths'],
  ['lights', 'light', 'lights'],
  ['batches', 'batch', 'batches'],
  ['cards', 'card', 'cards'],
  ['plans', 'strip plan', 'strip plans'],
  ['readings', 'reading', 'readings'],
  ['photos', 'photo', 'photos'],
  ['controls', 'control scrap', 'control scraps'],
  ['prints', 'print', 'prints'],
  ['notes', 'note', 'notes'],
];

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

const sentenceOf = ({ added, known, renewed, renamed }: Merged, photosLost: number): string => {
  const news = WORDS.flatMap(([kind, one, many]) => (added[kind] ? [counted(added[kind], one, many)] : []));
  return [
    news.length === 0 ? 'Nothing new was in the archive.' : `Brought in: ${news.join(', ')}.`,
    ...(renewed > 0
      ? [`${counted(renewed, 'row was', 'rows were')} older here and brought up to date.`]
      : []),
    ...(known > 0 ? [`${counted(known, 'row was', 'rows were')} in the book already.`] : []),
    ...renamed.map(({ from, to }) => `"${from}" is now "${to}": the book has another thing of that name.`),
    ...(photosLost > 0
      ? [
          `${counted(photosLost, 'photo is', 'photos are')} lost: neither the archive nor the book has the file.`,
        ]
      : []),
  ].join(' ');
};

/**
 * Brings an archive into the book: all of it or nothing. Everything in it is looked at before anything is written, and the
 * book can be written by others all the while. What the book has already is not brought in twice; the newer word about a thing wins; readings are never changed.
 *
 * @param path where the archive lies.
 * @throws Refusal `archive-invalid`, `archive-damaged`, `archive-too-large`, and those of the store; the system's error where
 *   there is no such file.
 */
export const readArchive = async (store: Store, path: string): Promise<ArchiveAnswer> => {
  const file = await openArchive(path);
  try {
    await checkRoom(store.folder, file.photoBytes);
    const book = await checkArchive(file);
    const { merged, photosLost } = await bringIn(store, file, book);
    const { added, known, renewed, renamed } = merged;
    return {
      added,
      known,
      renewed,
      renamed,
      photosAdded: added.photos ?? 0,
      photosLost,
      sentence: sentenceOf(merged, photosLost),
    };
  } finally {
    file.close();
  }
};
