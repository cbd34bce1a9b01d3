import { createHash, randomUUID } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Refusal } from '../refusal.ts';

/** Photos that are on the disk and not yet among the others: all of them come in, or none. */
export interface PhotoStage {
  /** Keeps the bytes aside and returns their SHA-256. */
  keep(bytes: Uint8Array): Promise<string>;
  /** Puts them among the others; the SHA-256 of those that were not there. When it returns, that is on the disk. */
  takeIn(): Promise<readonly string[]>;
  /** Takes away what is still aside. */
  drop(): Promise<void>;
}

/** Photos as files, each named by the SHA-256 of its bytes. */
export interface PhotoFolder {
  /** Keeps the bytes and returns their SHA-256. When it returns, they are on the disk. */
  keep(bytes: Uint8Array): Promise<string>;
  /** @throws Refusal `photo-lost` where the file is gone or no longer what it was. */
  read(sha256: string): Promise<Uint8Array>;
  /** Every photo that is there. */
  list(): Promise<readonly string[]>;
  /** Where one lies. */
  pathOf(sha256: string): string;
  /** Is there a file of this name? What is in it is not looked at. */
  has(sha256: string): Promise<boolean>;
  stage(): Promise<PhotoStage>;
  /** Takes a photo away; only for one that no row names. */
  remove(sha256: string): Promise<void>;
}

export const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Makes a new or renamed entry of a folder last through a loss of power. */
const flushFolder = async (path: string): Promise<void> => {
  // Windows keeps its folders by itself, and does not open them.
  if (process.platform === 'win32') return;
  const folder = await open(path, 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
};

/** Left by a process that ended while it wrote; nothing can name it. */
const STALE_MS = 24 * 3_600_000;

const writeFlushed = async (path: string, bytes: Uint8Array): Promise<void> => {
  const file = await open(path, 'wx');
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
};

export const openPhotoFolder = async (folder: string): Promise<PhotoFolder> => {
  const incoming = join(folder, 'incoming');
  await mkdir(incoming, { recursive: true });
  for (const name of await readdir(incoming)) {
    const path = join(incoming, name);
    const { mtimeMs } = await stat(path).catch(() => ({ mtimeMs: Date.now() }));
    if (Date.now() - mtimeMs > STALE_MS) await rm(path, { force: true, recursive: true });
  }
  const shelfOf = (sha256: string) => join(folder, sha256.slice(0, 2));
  const pathOf = (sha256: string) => join(shelfOf(sha256), sha256);
  const has = (sha256: string): Promise<boolean> =>
    stat(pathOf(sha256)).then(
      () => true,
      (error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return false;
        throw error;
      },
    );

  return {
    pathOf,
    async keep(bytes) {
      const sha256 = sha256Of(bytes);
      // A file that went bad is written anew while its bytes are at hand.
      const there = await readFile(pathOf(sha256)).catch(() => null);
      if (there && sha256Of(there) === sha256) return sha256;
      const made = await mkdir(shelfOf(sha256), { recursive: true });
      const temporary = join(incoming, randomUUID());
      try {
        await writeFlushed(temporary, bytes);
        await rename(temporary, pathOf(sha256));
      } catch (error) {
        await rm(temporary, { force: true }).catch(() => undefined);
        throw error;
      }
      await flushFolder(shelfOf(sha256));
      if (made !== undefined) await flushFolder(folder);
      return sha256;
    },
    async read(sha256) {
      const bytes = await readFile(pathOf(sha256)).catch((error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return null;
        throw error;
      });
      if (bytes && sha256Of(bytes) === sha256) return new Uint8Array(bytes);
      throw new Refusal(
        'photo-lost',
        bytes
          ? 'The file of this photo is no longer what it was. Bring the photos folder back from a backup; the reading itself stands.'
          : 'The file of this photo is not in the data folder. Bring the photos folder back from a backup; the reading itself stands.',
      );
    },
    has,
    remove: (sha256) => rm(pathOf(sha256), { force: true }),
    async stage() {
      const aside = join(incoming, randomUUID());
      await mkdir(aside);
      const staged = new Set<string>();
      return {
        async keep(bytes) {
          const sha256 = sha256Of(bytes);
          if (staged.has(sha256)) return sha256;
          await writeFlushed(join(aside, sha256), bytes);
          staged.add(sha256);
          return sha256;
        },
        async takeIn() {
          const news: string[] = [];
          const shelves = new Set<string>();
          for (const sha256 of staged) {
            if (await has(sha256)) continue;
            await mkdir(shelfOf(sha256), { recursive: true });
            await rename(join(aside, sha256), pathOf(sha256));
            shelves.add(shelfOf(sha256));
            news.push(sha256);
          }
          for (const shelf of shelves) await flushFolder(shelf);
          if (shelves.size > 0) await flushFolder(folder);
          return news;
        },
        drop: () => rm(aside, { recursive: true, force: true }),
      };
    },
    async list() {
      const shelves = (await readdir(folder)).filter((name) => /^[0-9a-f]{2}$/.test(name));
      const names = await Promise.all(shelves.map((shelf) => readdir(join(folder, shelf))));
      return names.flat().filter((name) => /^[0-9a-f]{64}$/.test(name));
    },
  };
};
