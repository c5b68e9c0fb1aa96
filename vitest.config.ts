import { defineConfig } from 'vitest/config';

// Packages are tested from their sources: the condition names the `okuri-source` entry of each package's exports.
export default defineConfig({
  resolve: { conditions: ['okuri-source'] },
  ssr: { resolve: { conditions: ['okuri-source'], externalConditions: ['okuri-source'] } },
  test: {
    include: ['packages/*/src/**/*.test.ts', 'tests/**/*.test.ts', 'scripts/**/*.test.ts'],
    setupFiles: ['scripts/property-seed.ts'],
    // Ten times what the longest takes by itself: a machine may be slow, and busy with other things.
    testTimeout: 900_000,
    hookTimeout: 900_000,
    maxWorkers: 2,
  },
});
