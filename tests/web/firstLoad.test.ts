import { resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build, type Rolldown } from 'vite';
import { beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');

let chunks: readonly Rolldown.OutputChunk[];

beforeAll(async () => {
  const built = (await build({
    configFile: resolve(root, 'vite.config.ts'),
    logLevel: 'error',
    build: { write: false },
  })) as Rolldown.RolldownOutput;
  chunks = built.output.filter((one) => one.type === 'chunk');
});

const chunkOf = (source: string): Rolldown.OutputChunk => {
  const found = chunks.find(({ moduleIds }) => moduleIds.some((id) => id === resolve(root, 'web', source)));
  if (!found) throw new Error(`no script of the built page holds web/${source}`);
  return found;
};

/** Script files that these sources need before they run, each once. */
const neededBy = (...sources: readonly string[]): ReadonlyMap<string, Rolldown.OutputChunk> => {
  const needed = new Map<string, Rolldown.OutputChunk>();
  const take = (chunk: Rolldown.OutputChunk): void => {
    if (needed.has(chunk.fileName)) return;
    needed.set(chunk.fileName, chunk);
    for (const name of chunk.imports) {
      const imported = chunks.find(({ fileName }) => fileName === name);
      if (imported) take(imported);
    }
  };
  for (const source of sources) take(chunkOf(source));
  return needed;
};

describe.each([
  ['English', 'words/english.ts', 'words/german.ts'],
  ['German', 'words/german.ts', 'words/english.ts'],
])('the first load in %s', (_, own, other) => {
  it('is at most 60 kB of script, gzipped as it is served', () => {
    const bytes = [...neededBy('main.tsx', own).values()].reduce(
      (sum, { code }) => sum + gzipSync(code, { level: 9 }).length,
      0,
    );
    expect(bytes).toBeGreaterThan(20_000);
    expect(bytes).toBeLessThanOrEqual(60_000);
  });

  it('holds the words of no other language, and no sentences of the analysis', () => {
    const held = [...neededBy('main.tsx', own).values()].flatMap(({ moduleIds }) => moduleIds);
    for (const later of [other, '../analysis/words/germanPhrases.ts', 'views/PlanView.tsx', 'advisor.ts'])
      expect(held).not.toContain(resolve(root, 'web', later));
  });
});
