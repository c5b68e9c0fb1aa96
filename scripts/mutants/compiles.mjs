import { spawnSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { mutated } from './operators.mjs';

/** Where the compiler finds core's own packages, and no build looks. */
const BENCH = 'packages/core/node_modules/.cache/okuri-mutants';

/**
 * The names of those mutants that the compiler refuses. All are laid beside one another, each as a file of its own that imports what
 * the file it comes from imports, and compiled in one go.
 */
export function notCompiling(root, mutants, sourceOf) {
  const bench = join(root, BENCH);
  rmSync(bench, { recursive: true, force: true });
  const placed = new Map();
  mutants.forEach((mutant, k) => {
    const name = mutant.file.replace(/^packages\/core\/src\//, '').replace(/\.ts$/, `.mutant${k}.ts`);
    const path = join(bench, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, mutated(sourceOf(mutant.file), mutant));
    placed.set(name, mutant.name);
  });
  const config = {
    extends: join(root, 'packages/core/tsconfig.json'),
    compilerOptions: {
      noEmit: true,
      composite: false,
      incremental: false,
      declaration: false,
      rootDirs: [bench, join(root, 'packages/core/src')],
      rootDir: root,
      // A name that is left over is no fault of a program that runs.
      noUnusedLocals: false,
      noUnusedParameters: false,
    },
    files: [...placed.keys()].map((name) => join(bench, name)),
    include: [join(root, 'packages/core/src/**/*.d.ts')],
  };
  writeFileSync(join(bench, 'tsconfig.json'), JSON.stringify(config));
  const run = spawnSync(
    process.execPath,
    [join(root, 'node_modules/typescript/bin/tsc'), '-p', bench, '--pretty', 'false'],
    {
      cwd: bench,
      encoding: 'utf8',
      maxBuffer: 1 << 28,
    },
  );
  const refused = new Set();
  for (const line of run.stdout.split('\n')) {
    const [, file, what] = /^(.+?)\(\d+,\d+\): error (.*)$/.exec(line) ?? [];
    if (file === undefined) {
      if (/^error /.test(line)) throw new Error(`The mutants can't be compiled: ${line}`);
      continue;
    }
    if (!placed.has(file)) throw new Error(`The sources don't compile as they are: ${file}: ${what}`);
    refused.add(placed.get(file));
  }
  rmSync(bench, { recursive: true, force: true });
  return refused;
}
