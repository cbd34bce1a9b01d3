import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';
import { type Entry, openPromise, type ZipFile } from 'yauzl';
import { type ArchiveFileKind, kindOfName, MOST_BYTES, MOST_FILES } from './archiveNames.ts';
import { damagedArchive, hugeArchive, noArchive } from './archiveRefusals.ts';

export interface Fingerprint {
  readonly sha256: string;
  readonly bytes: number;
  /** The first bytes, enough to tell what kind of file it is. */
  readonly head: Uint8Array;
}

/** An archive whose table of contents has been looked through; what is in the files has not. */
export interface ArchiveFile {
  /** Names of the files, in no order. */
  readonly names: ReadonlySet<string>;
  /** Bytes of all photos when unpacked, as declared and, when read, held to. */
  readonly photoBytes: number;
  /** A file whole. @throws Refusal `archive-damaged`, `archive-too-large`. */
  read(name: string): Promise<Uint8Array>;
  /** SHA-256, size and beginning of a file, without holding it. @throws as `read`. */
  fingerprint(name: string): Promise<Fingerprint>;
  close(): void;
}

const HEAD_BYTES = 4096;
const FILE_TYPE = 0o170000;
const REGULAR = 0o100000;
const UNIX = 3;
const STORED = 0;
const DEFLATED = 8;
/** Deflate can't shrink further than about 1030 : 1; texts of a book shrink by about 8. */
const MOST_SHRUNK = 200;

const why = (error: unknown): string =>
  error instanceof Error && /end of central directory|central directory/i.test(error.message)
    ? 'its end is missing'
    : 'its table of contents can not be read';

/** What speaks against one entry, whatever is in it. */
const checkEntry = (entry: Entry): ArchiveFileKind => {
  const kind = kindOfName(entry.fileName);
  if (kind === null) throw noArchive('it holds a file that does not belong in one');
  if (entry.isEncrypted()) throw noArchive('it is encrypted');
  if (entry.compressionMethod !== STORED && entry.compressionMethod !== DEFLATED)
    throw noArchive('it is packed in a way that is not used here');
  const type = (entry.externalFileAttributes >>> 16) & FILE_TYPE;
  if (entry.versionMadeBy >>> 8 === UNIX && type !== 0 && type !== REGULAR)
    throw noArchive('it holds a link or a folder in place of a file');
  if (entry.uncompressedSize > MOST_BYTES[kind])
    throw hugeArchive(`one ${kind} in it would have ${entry.uncompressedSize} bytes`);
  if (entry.uncompressedSize > 1_000_000 && entry.uncompressedSize > MOST_SHRUNK * entry.compressedSize)
    throw hugeArchive('a file in it unpacks to more than 200 times its size');
  if (entry.compressionMethod === STORED && entry.compressedSize !== entry.uncompressedSize)
    throw damagedArchive('the sizes in its table of contents contradict each other');
  return kind;
};

/** Files that share bytes are how a small archive unpacks to a huge one. */
const checkApart = (entries: readonly Entry[]): void => {
  const inOrder = entries.toSorted((a, b) => a.relativeOffsetOfLocalHeader - b.relativeOffsetOfLocalHeader);
  inOrder.forEach((entry, i) => {
    const next = inOrder[i + 1];
    if (next && entry.relativeOffsetOfLocalHeader + entry.compressedSize > next.relativeOffsetOfLocalHeader)
      throw noArchive('two files in it lie on the same bytes');
  });
};

/** How ZIP files begin: PK, 3, 4. Source: APPNOTE 4.3.7. */
const ZIP_BEGINS = Buffer.from([0x50, 0x4b, 3, 4]);

const beginsAsZip = async (path: string): Promise<boolean> => {
  const file = await open(path);
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(ZIP_BEGINS.length), 0, ZIP_BEGINS.length, 0);
    return buffer.subarray(0, bytesRead).equals(ZIP_BEGINS.subarray(0, bytesRead));
  } finally {
    await file.close();
  }
};

const openZip = async (path: string): Promise<ZipFile> => {
  try {
    return await openPromise(path, {
      lazyEntries: true,
      autoClose: false,
      validateEntrySizes: true,
      strictFileNames: true,
    });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') throw error;
    if (!(await beginsAsZip(path))) throw noArchive('it is no ZIP file');
    throw damagedArchive(why(error));
  }
};

const entriesOf = async (zip: ZipFile): Promise<ReadonlyMap<string, Entry>> => {
  if (zip.entryCount > MOST_FILES) throw hugeArchive(`it holds ${zip.entryCount} files`);
  const entries = new Map<string, Entry>();
  try {
    for await (const entry of zip.eachEntry()) {
      checkEntry(entry);
      if (entries.has(entry.fileName)) throw noArchive('it holds two files of one name');
      if (entries.size >= MOST_FILES) throw hugeArchive(`it holds more than ${MOST_FILES} files`);
      entries.set(entry.fileName, entry);
    }
  } catch (error) {
    if (error instanceof Error && error.name === 'Refusal') throw error;
    throw /file name|relative path|absolute path|characters in/i.test((error as Error).message)
      ? noArchive('it holds a file that does not belong in one')
      : damagedArchive(why(error));
  }
  checkApart([...entries.values()]);
  return entries;
};

/**
 * Opens an archive and looks through its table of contents. No name in it is ever used as a path.
 *
 * @throws Refusal `archive-invalid`, `archive-damaged`, `archive-too-large`; the system's error where there is no such file.
 */
export const openArchive = async (path: string): Promise<ArchiveFile> => {
  const zip = await openZip(path);
  try {
    const entries = await entriesOf(zip);
    async function* chunks(name: string): AsyncGenerator<Uint8Array> {
      const entry = entries.get(name);
      if (!entry) throw damagedArchive('a file that it names is missing');
      let left = entry.uncompressedSize;
      try {
        const stream = await zip.openReadStreamPromise(entry);
        for await (const chunk of stream as AsyncIterable<Uint8Array>) {
          left -= chunk.byteLength;
          if (left < 0) break;
          yield chunk;
        }
      } catch {
        throw damagedArchive('a file in it can not be unpacked');
      }
      if (left !== 0) throw damagedArchive('a file in it has another size than its table of contents says');
    }
    return {
      names: new Set(entries.keys()),
      photoBytes: [...entries.values()]
        .filter(({ fileName }) => kindOfName(fileName) === 'photo')
        .reduce((sum, { uncompressedSize }) => sum + uncompressedSize, 0),
      async read(name) {
        const parts: Uint8Array[] = [];
        for await (const chunk of chunks(name)) parts.push(chunk);
        return new Uint8Array(Buffer.concat(parts));
      },
      async fingerprint(name) {
        const hash = createHash('sha256');
        const head: Uint8Array[] = [];
        let bytes = 0;
        for await (const chunk of chunks(name)) {
          if (bytes < HEAD_BYTES) head.push(chunk.slice(0, HEAD_BYTES - bytes));
          hash.update(chunk);
          bytes += chunk.byteLength;
        }
        return { sha256: hash.digest('hex'), bytes, head: new Uint8Array(Buffer.concat(head)) };
      },
      close: () => zip.close(),
    };
  } catch (error) {
    zip.close();
    throw error;
  }
};
