import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A disk of its own, of so many bytes. */
export interface SmallDisk {
  readonly folder: string;
  /** From now on nothing can be written on it. */
  readonly makeReadOnly: () => void;
  readonly remove: () => void;
}

const mount = (...words: readonly string[]): boolean =>
  spawnSync('mount', words, { stdio: 'ignore' }).status === 0;

/** Mounts a small disk in memory; null where this user may not. */
export const smallDisk = (bytes: number): SmallDisk | null => {
  const folder = mkdtempSync(join(tmpdir(), 'tonestep-disk-'));
  if (!mount('-t', 'tmpfs', '-o', `size=${bytes}`, 'tmpfs', folder)) {
    rmSync(folder, { recursive: true, force: true });
    return null;
  }
  return {
    folder,
    makeReadOnly: () => {
      if (!mount('-o', 'remount,ro', folder)) throw new Error('the disk could not be made read-only');
    },
    remove: () => {
      spawnSync('umount', ['-l', folder], { stdio: 'ignore' });
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
