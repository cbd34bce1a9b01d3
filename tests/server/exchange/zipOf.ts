import { createWriteStream } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { ZipFile } from 'yazl';

/** Packs files as they are given, for archives that no book would make. */
export const zipOf = async (
  path: string,
  files: readonly (readonly [name: string, bytes: Uint8Array, mode?: number])[],
): Promise<void> => {
  const zip = new ZipFile();
  for (const [name, bytes, mode = 0o100644] of files)
    zip.addBuffer(Buffer.from(bytes), name, { mode, mtime: new Date(1980, 0, 1) });
  zip.end();
  await pipeline(zip.outputStream, createWriteStream(path));
};
