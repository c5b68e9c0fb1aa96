import { defineConfig } from 'vite';

// The built files work from any folder of any static host: every address in them is relative.
export default defineConfig({
  base: './',
  resolve: { conditions: ['okuri-source', 'browser', 'module', 'import', 'default'] },
  worker: { format: 'es' },
  build: { target: 'es2022', outDir: 'dist', emptyOutDir: true, modulePreload: { polyfill: false } },
});
