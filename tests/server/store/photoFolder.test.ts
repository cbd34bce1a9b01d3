import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openPhotoFolder, sha256Of } from '../../../server/store/photoFolder.ts';

const root = mkdtempSync(join(tmpdir(), 'tonestep-photos-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const abc = new TextEncoder().encode('abc');
/** SHA-256 of "abc": NIST FIPS 180-2, appendix B.1. */
const ABC = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';

describe('the photos folder', () => {
  it('keeps "abc" under the SHA-256 that FIPS 180-2 gives, once', async () => {
    const folder = join(root, 'one');
    const photos = await openPhotoFolder(folder);
    expect(sha256Of(abc)).toBe(ABC);
    expect(await photos.keep(abc)).toBe(ABC);
    expect(await photos.keep(abc)).toBe(ABC);
    expect(await photos.list()).toEqual([ABC]);
    expect(readFileSync(join(folder, 'ba', ABC))).toEqual(Buffer.from(abc));
    expect(readdirSync(join(folder, 'incoming'))).toEqual([]);
  });

  it('keeps one photo that eight writers bring at once', async () => {
    const photos = await openPhotoFolder(join(root, 'eight'));
    const bytes = new Uint8Array(500_000).fill(7);
    const names = await Promise.all(Array.from({ length: 8 }, () => photos.keep(bytes)));
    expect(new Set(names).size).toBe(1);
    expect(await photos.read(names[0])).toEqual(bytes);
  });

  it('does not hand out a file whose bytes have changed, and mends it when the photo comes again', async () => {
    const folder = join(root, 'changed');
    const photos = await openPhotoFolder(folder);
    await photos.keep(abc);
    writeFileSync(photos.pathOf(ABC), 'abd');
    await expect(photos.read(ABC)).rejects.toMatchObject({ code: 'photo-lost' });
    await photos.keep(abc);
    expect(await photos.read(ABC)).toEqual(abc);
  });

  it('clears what a process left half-written a day ago, not what is being written now', async () => {
    const folder = join(root, 'stale');
    mkdirSync(join(folder, 'incoming'), { recursive: true });
    for (const name of ['old', 'new']) writeFileSync(join(folder, 'incoming', name), 'half');
    const twoDaysAgo = Date.now() / 1000 - 2 * 86_400;
    utimesSync(join(folder, 'incoming', 'old'), twoDaysAgo, twoDaysAgo);
    await openPhotoFolder(folder);
    expect(readdirSync(join(folder, 'incoming'))).toEqual(['new']);
  });
});
