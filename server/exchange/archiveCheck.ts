import { photoFormat } from '../../analysis/photo/format.ts';
import { parseStoredReading } from '../commands/storedReading.ts';
import {
  ARCHIVE_FORMAT,
  ARCHIVE_VERSION,
  type ArchivedPhoto,
  type BookFile,
  bookFile,
  type ReadingFile,
  readingFile,
} from '../contracts/archive.ts';
import { nameKey } from '../record/nameKey.ts';
import { Refusal } from '../refusal.ts';
import { sha256Of } from '../store/photoFolder.ts';
import type { ArchiveFile } from './archiveFile.ts';
import { archiveJson, checked } from './archiveJson.ts';
import { BOOK_NAME, kindOfName, photoName, readingName } from './archiveNames.ts';
import { damagedArchive, noArchive } from './archiveRefusals.ts';

const versionOf = (json: unknown): unknown =>
  typeof json === 'object' && json !== null && 'version' in json ? json.version : undefined;

/** book.json, by its schema. */
const readBook = async (file: ArchiveFile): Promise<BookFile> => {
  if (!file.names.has(BOOK_NAME)) throw noArchive('it has no book.json');
  const json = archiveJson(await file.read(BOOK_NAME), BOOK_NAME);
  const version = versionOf(json);
  if (typeof version === 'number' && version > ARCHIVE_VERSION)
    throw new Refusal(
      'archive-invalid',
      'This archive was made by a newer Tonestep. Update Tonestep, then bring it in. Nothing was brought in.',
    );
  if (typeof json !== 'object' || json === null || !('format' in json) || json.format !== ARCHIVE_FORMAT)
    throw noArchive('its book.json is of another format');
  return checked(bookFile, json, BOOK_NAME);
};

const twice = (values: readonly string[]): boolean => new Set(values).size < values.length;

/** Every row once, and everything that a row points to is there. */
const checkRows = (book: BookFile): void => {
  const { dyes, cloths, lights, batches, cards, plans, readings, controls, prints, notes, photos } = book;
  const ids = {
    dye: dyes,
    cloth: cloths,
    light: lights,
    batch: batches,
    card: cards,
    plan: plans,
    reading: readings,
    control: controls,
    print: prints,
  };
  const known = Object.fromEntries(
    Object.entries(ids).map(([kind, rows]) => [kind, new Set(rows.map((row) => row.id))]),
  ) as unknown as Record<keyof typeof ids, ReadonlySet<string>>;
  const all = [...Object.values(ids).flatMap((rows) => rows.map((row) => row.id)), ...notes.map((n) => n.id)];
  if (twice(all)) throw noArchive('two rows of book.json have one id');
  for (const things of [dyes, cloths, lights, batches, cards])
    if (twice(things.map((thing) => nameKey(thing.name))))
      throw noArchive('two things of one kind in book.json have one name');
  const fingerprints = new Set(photos.map((photo) => photo.sha256));
  if (fingerprints.size < photos.length) throw noArchive('book.json names a photo twice');

  const need = (kind: keyof typeof ids, id: string | null): void => {
    if (id !== null && !known[kind].has(id))
      throw noArchive(`book.json points to a ${kind} that is not in it`);
  };
  for (const { dyeId } of batches) need('dye', dyeId);
  for (const row of [...plans, ...readings, ...controls, ...prints]) {
    need('dye', row.dyeId);
    need('cloth', row.clothId);
    need('light', row.lightId);
  }
  for (const row of [...readings, ...controls, ...prints]) need('batch', row.batchId);
  for (const row of readings) {
    need('card', row.cardId);
    need('plan', row.planId);
    need('reading', row.supersedesId);
    if (!fingerprints.has(row.photo)) throw noArchive('book.json has a reading whose photo it does not name');
  }
  for (const row of controls) {
    need('reading', row.againstId);
    need('reading', row.readingId);
  }
  for (const row of prints) {
    need('reading', row.calibrationId);
    need('reading', row.readingId);
  }
  for (const { on } of notes) need(on.kind, on.id);
};

/** The files are those that book.json names, no more and no fewer. */
const checkFiles = ({ names }: ArchiveFile, book: BookFile): void => {
  const wanted = new Set([
    BOOK_NAME,
    ...book.readings.map(({ id }) => readingName(id)),
    ...book.photos.filter((photo) => !photo.lost).map(({ sha256 }) => photoName(sha256)),
  ]);
  for (const name of wanted)
    if (!names.has(name)) throw damagedArchive(`a ${kindOfName(name)} that book.json names is missing`);
  if (names.size > wanted.size) throw noArchive('it holds a file that book.json does not name');
};

/** A reading of an archive: the file is what book.json says, and its numbers are those that a strip can give. */
export const archivedReadingOf = async (
  file: ArchiveFile,
  { id, body }: Pick<BookFile['readings'][number], 'id' | 'body'>,
): Promise<{ readonly settings: never; readonly reading: never }> => {
  const bytes = await file.read(readingName(id));
  if (sha256Of(bytes) !== body) throw damagedArchive('a reading is not what book.json says');
  const json = archiveJson(bytes, 'a reading');
  const { reading } = checked(readingFile, json, 'a reading');
  if (reading.curve.kind === 'fitted')
    try {
      parseStoredReading('a reading in it', reading);
    } catch (error) {
      throw noArchive((error as Error).message.replace(/ Give what .*$/, '').replace(/\.$/, ''));
    }
  // As it was written, not as the schema gives it back: a reading is kept as it was made.
  return json as never;
};

const formatOf = (head: Uint8Array): string | null => {
  try {
    return photoFormat(head);
  } catch {
    return null;
  }
};

/** One photo: its bytes are what its name says, and it begins as a photo does. */
const checkPhoto = async (file: ArchiveFile, { sha256, bytes, format }: ArchivedPhoto): Promise<void> => {
  const found = await file.fingerprint(photoName(sha256));
  if (found.bytes !== bytes || found.sha256 !== sha256)
    throw damagedArchive('a photo is not what its name says');
  if (formatOf(found.head) !== format) throw noArchive('a file in it is given out for a photo and is none');
};

/**
 * Looks at everything in an archive, file by file, and changes nothing: what passes can be brought in.
 *
 * @throws Refusal `archive-invalid`, `archive-damaged`, `archive-too-large`.
 */
export const checkArchive = async (file: ArchiveFile): Promise<BookFile> => {
  const book = await readBook(file);
  checkRows(book);
  checkFiles(file, book);
  const named = new Set(book.photos.map((photo) => photo.sha256));
  for (const row of book.readings) {
    const { settings }: ReadingFile = await archivedReadingOf(file, row);
    if ((settings.also ?? []).some(({ photo }) => !named.has(photo)))
      throw noArchive('a reading has a further photo that book.json does not name');
  }
  for (const photo of book.photos) if (!photo.lost) await checkPhoto(file, photo);
  return book;
};
