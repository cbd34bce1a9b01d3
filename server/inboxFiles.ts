import { randomUUID } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { type InboxPhoto, inboxPhoto } from './contracts/pairing.ts';
import { asRefusal } from './store/trouble.ts';

/** Where the inbox keeps its photos. */
export interface InboxFiles {
  /** Makes the place ready; what lies there from before. Rejects where there can be none. */
  load(): Promise<readonly InboxPhoto[]>;
  /** When it returns, the photo is where it stays. @throws Refusal `disk-full` or `book-read-only`. */
  keep(photo: InboxPhoto, bytes: Uint8Array): Promise<void>;
  /** Null where the file is gone. */
  read(id: string): Promise<Uint8Array | null>;
  drop(id: string): Promise<void>;
}

/** In memory, where there is no folder to write to: gone when the server stops. */
export const memoryInboxFiles = (): InboxFiles => {
  const kept = new Map<string, Uint8Array>();
  return {
    load: async () => [],
    keep: async ({ id }, bytes) => {
      kept.set(id, bytes);
    },
    read: async (id) => kept.get(id) ?? null,
    drop: async (id) => {
      kept.delete(id);
    },
  };
};

/** Writes a file that is either whole under its name or not there at all. */
const writeWhole = async (folder: string, name: string, content: Uint8Array | string): Promise<void> => {
  const temporary = join(folder, `${randomUUID()}.part`);
  try {
    const file = await open(temporary, 'wx', 0o600);
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, join(folder, name));
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => undefined);
    throw asRefusal(error);
  }
};

const OUR_NAME = /^([0-9a-f]{32})\.(photo|json)$/;

/** As files in a folder of their own: they outlast the server. */
export const diskInboxFiles = (folder: string): InboxFiles => {
  const drop = async (id: string): Promise<void> => {
    // What is said about it last: a photo of which nothing is said is swept up at the next start.
    for (const ending of ['json', 'photo']) await rm(join(folder, `${id}.${ending}`), { force: true });
  };
  const loadOne = async (id: string): Promise<InboxPhoto | null> => {
    try {
      const said = inboxPhoto.parse(JSON.parse(await readFile(join(folder, `${id}.json`), 'utf8')));
      const file = await open(join(folder, `${id}.photo`), 'r');
      const { size } = await file.stat();
      await file.close();
      return said.id === id && said.bytes === size ? said : null;
    } catch {
      return null;
    }
  };
  return {
    async load() {
      await mkdir(folder, { recursive: true, mode: 0o700 });
      const names = await readdir(folder);
      for (const name of names) if (name.endsWith('.part')) await rm(join(folder, name), { force: true });
      const ids = new Set(names.flatMap((name) => OUR_NAME.exec(name)?.[1] ?? []));
      const found: InboxPhoto[] = [];
      for (const id of ids) {
        const photo = await loadOne(id);
        if (photo) found.push(photo);
        else await drop(id);
      }
      return found;
    },
    async keep(photo, bytes) {
      await writeWhole(folder, `${photo.id}.photo`, bytes);
      await writeWhole(folder, `${photo.id}.json`, JSON.stringify(photo));
    },
    read: (id) =>
      readFile(join(folder, `${id}.photo`)).then(
        (bytes) => new Uint8Array(bytes),
        () => null,
      ),
    drop,
  };
};
