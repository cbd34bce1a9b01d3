import { readdirSync, readFileSync } from 'node:fs';
import { extname, join, posix, sep } from 'node:path';
import { gzipSync } from 'node:zlib';

export interface PageFile {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly gzipped: Uint8Array<ArrayBuffer> | null;
  readonly type: string;
  /** Its name carries a fingerprint of its content. */
  readonly lasting: boolean;
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webmanifest': 'application/manifest+json',
};

/** All files of the built page by their address, read once: what is not in this map can't be asked for. */
export const loadPageFiles = (folder: string): ReadonlyMap<string, PageFile> => {
  const files = new Map<string, PageFile>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const type = TYPES[extname(entry.name)];
    if (!type) continue;
    const address = posix.join('/', path.slice(folder.length).split(sep).join('/'));
    const bytes = new Uint8Array(readFileSync(path));
    const gzipped = type.startsWith('image/png') ? null : new Uint8Array(gzipSync(bytes, { level: 9 }));
    files.set(address, { bytes, gzipped, type, lasting: address.startsWith('/assets/') });
  }
  return files;
};
