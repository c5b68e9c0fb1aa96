import { defineConfig } from 'vite';
import { bundledFont } from './build/bundled-font.ts';
import { offline } from './build/offline.ts';

// The built files work from any folder of any static host: every address in them is relative.
export default defineConfig({
  base: './',
  plugins: [bundledFont(), offline()],
  resolve: { conditions: ['okuri-source', 'browser', 'module', 'import', 'default'] },
  worker: { format: 'es', plugins: () => [bundledFont()] },
  build: {
    target: 'es2022',
    outDir: 'dist',
    emptyOutDir: true,
    modulePreload: { polyfill: false },
    // What a first visit may fetch is tested by itself (tests/studio-offline.test.ts).
    chunkSizeWarningLimit: 5_000,
  },
});
