import { createHash } from 'node:crypto';
import { resolve } from 'node:path';
import { defineConfig, type Plugin } from 'vite';

/** Tells the offline worker which files the page has, and names it sw.js beside the page. */
const pageFiles = (): Plugin => ({
  name: 'page-files',
  generateBundle(_, bundle) {
    const worker = Object.values(bundle).find((file) => file.fileName === 'sw.js');
    if (worker?.type !== 'chunk') return;
    const files = Object.keys(bundle).filter((name) => name !== 'sw.js' && !name.endsWith('.html'));
    const version = createHash('sha256').update(files.sort().join('\n')).digest('hex').slice(0, 16);
    worker.code = worker.code
      .replaceAll('PAGE_FILES', JSON.stringify(['./', 'mark.svg', ...files]))
      .replaceAll('PAGE_VERSION', JSON.stringify(version));
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
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
      },
    },
  },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
});
