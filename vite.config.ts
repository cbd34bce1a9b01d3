import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { defineConfig, type Plugin } from 'vite';

/** Tells the offline worker which files the page has, once all of them are written. */
const pageFiles = (): Plugin => ({
  name: 'page-files',
  writeBundle({ dir }) {
    if (dir === undefined) return;
    const worker = join(dir, 'sw.js');
    const assets = readdirSync(join(dir, 'assets')).map((name) => `assets/${name}`);
    const files = ['./', 'mark.svg', 'early.js', ...assets.sort()];
    // Names in assets carry a fingerprint; of what has none, the content counts.
    const version = createHash('sha256')
      .update(files.join('\n'))
      .update(readFileSync(join(dir, 'early.js')))
      .digest('hex')
      .slice(0, 16);
    writeFileSync(
      worker,
      readFileSync(worker, 'utf8')
        .replaceAll('PAGE_FILES', JSON.stringify(files))
        .replaceAll('PAGE_VERSION', JSON.stringify(version)),
    );
  },
});

/** The page: web/ → dist/web. */
export default defineConfig({
  root: 'web',
  base: './',
  plugins: [pageFiles()],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    rolldownOptions: {
      input: {
        index: resolve(import.meta.dirname, 'web/index.html'),
        sw: resolve(import.meta.dirname, 'web/offline/worker.ts'),
      },
      output: {
        // What every first visit needs in one script: it compresses better than in six.
        codeSplitting: {
          groups: [
            {
              name: 'base',
              test: /node_modules\/@?preact|web\/(kept|words|numbers|times|api)\.ts$|analysis\/(errors|phrases|plan\/time)\.ts$|preload-helper/,
            },
          ],
        },
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
      },
    },
  },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
});
