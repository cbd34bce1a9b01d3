import { existsSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const entries = ['main', 'worker', 'cli']
  .map((name) => [name, resolve(import.meta.dirname, `server/${name}.ts`)] as const)
  .filter(([, path]) => existsSync(path));

/** The server, its worker and the command line: server/ → dist/server, packages left in node_modules. */
export default defineConfig({
  ssr: { external: true },
  build: {
    ssr: true,
    outDir: 'dist/server',
    emptyOutDir: true,
    target: 'node20',
    sourcemap: true,
    minify: false,
    rolldownOptions: {
      input: Object.fromEntries(entries),
      external: [...builtinModules, /^node:/],
      output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'part-[name]-[hash].js' },
    },
  },
});
