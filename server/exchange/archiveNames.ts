/** Names of the files in an archive; nothing else may be in one. */
export const BOOK_NAME = 'book.json';
export const readingName = (id: string): string => `readings/${id}.json`;
export const photoName = (sha256: string): string => `photos/${sha256}`;

const READING = /^readings\/[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}\.json$/;
const PHOTO = /^photos\/[0-9a-f]{64}$/;

export type ArchiveFileKind = 'book' | 'reading' | 'photo';

/** What kind of file a name stands for; null for any other name. */
export const kindOfName = (name: string): ArchiveFileKind | null =>
  name === BOOK_NAME ? 'book' : READING.test(name) ? 'reading' : PHOTO.test(name) ? 'photo' : null;

/** Most bytes that a file of each kind may unpack to. */
export const MOST_BYTES: Readonly<Record<ArchiveFileKind, number>> = {
  book: 256_000_000,
  reading: 4_000_000,
  photo: 100_000_000,
};

/** Most files in one archive: two for each of 200,000 readings. */
export const MOST_FILES = 400_001;
