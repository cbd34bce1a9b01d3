import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of this package, whether it runs from source or from dist/. */
export const packageRoot = (from: string): string => {
  let folder = dirname(fileURLToPath(from));
  while (!existsSync(join(folder, 'package.json'))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error('package.json is missing above the running script');
    folder = parent;
  }
  return folder;
};

/** The version in the package's package.json. */
export const packageVersion = (root: string): string =>
  String(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version);
