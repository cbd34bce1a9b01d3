import { defineConfig } from 'vite';

/** The page: web/ → dist/web. */
export default defineConfig({
  root: 'web',
  base: './',
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
  },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
});
