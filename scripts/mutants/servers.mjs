import { readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { BaseSequencer, createVitest } from 'vitest/node';
import { noting } from './regions.mjs';

/** Sources whose regions are noted: what runs in the packages, and what helps tests. */
const NOTED = /^(packages\/[^/]+\/src|tests\/support)\/.*(?<!\.test|\.d)\.ts$/;

/** Those among them that are tried, or that may use a constant of one that is. */
const DEEP = /^packages\/core\/src\/(?!units|geometry|motif|scan)/;

/** Test files in the order in which they are given. */
class AsGiven extends BaseSequencer {
  sort(specifications) {
    return specifications;
  }
}

const QUIET = { watch: false, reporters: [{}], passWithNoTests: true, coverage: { enabled: false } };

/** Longer than any mutant is given, ms. */
const NEVER_MS = 3_600_000;

/** A server that runs test files of the project with one module swapped at a time. */
export async function mutantServer(root, reporter) {
  let active = null;
  const vitest = await createVitest(
    'test',
    {
      ...QUIET,
      root,
      reporters: [reporter],
      bail: 1,
      isolate: false,
      fileParallelism: false,
      maxWorkers: 1,
      pool: 'threads',
      sequence: { sequencer: AsGiven },
      // The clock says nothing on a busy machine: what takes too long is told by the processor's time.
      testTimeout: NEVER_MS,
      hookTimeout: NEVER_MS,
      setupFiles: ['scripts/property-seed.ts', 'scripts/mutants/no-shrinking.mjs'],
    },
    {
      plugins: [{ name: 'okuri-mutant', enforce: 'pre', load: (id) => (id === active?.path ? active.source : null) }],
      server: { watch: null, hmr: false, ws: false },
    },
  );
  await vitest.standalone?.();
  return {
    vitest,
    /** Runs tests `[{ file, ids }]` with `source` in place of the module at `path`. */
    async run({ path, source, files }) {
      active = { path, source };
      vitest.invalidateFile(path);
      const specifications = files.map(({ file, ids }) =>
        vitest.getRootProject().createSpecification(file, ids === null ? undefined : { testIds: ids }),
      );
      const result = await vitest.runTestSpecifications(specifications);
      active = null;
      vitest.invalidateFile(path);
      return result;
    },
  };
}

/** Runs test files with sources that note what is reached; see `reach-setup.mjs` for what is written down, into `folder`. */
export async function runNoting(root, files, { folder, workers }) {
  process.env.OKURI_REACHED = folder;
  const vitest = await createVitest(
    'test',
    {
      ...QUIET,
      root,
      maxWorkers: workers,
      testTimeout: NEVER_MS,
      hookTimeout: NEVER_MS,
      setupFiles: ['scripts/property-seed.ts', 'scripts/mutants/reach-setup.mjs'],
      env: { OKURI_REACHED: folder },
    },
    {
      plugins: [
        {
          name: 'okuri-noting',
          enforce: 'pre',
          load(id) {
            const name = relative(root, id);
            return NOTED.test(name)
              ? noting(name, readFileSync(join(root, name), 'utf8'), { deep: DEEP.test(name) })
              : null;
          },
        },
      ],
      server: { watch: null, hmr: false, ws: false },
    },
  );
  await vitest.standalone?.();
  const project = vitest.getRootProject();
  await vitest.runTestSpecifications(files.map((file) => project.createSpecification(file)));
  await vitest.close();
}

/** All test files of the project. */
export async function globTests(root) {
  const vitest = await createVitest('test', { ...QUIET, root }, { server: { watch: null, hmr: false, ws: false } });
  const found = await vitest.globTestSpecifications();
  await vitest.close();
  return found.map(({ moduleId }) => moduleId).sort();
}
