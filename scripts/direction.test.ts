import { spawnSync } from 'node:child_process';
import { copyFileSync, cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, it } from 'vitest';

// The direction of imports is a rule of the linter: each case plants one breach in a copy of the workspace's outline and
// looks for the linter's refusal. A clean file in the same place must pass, so that a refusal means something.
const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const packages = ['core', 'scan', 'reader', 'writer', 'cli'];
const coreFolders = [
  'units',
  'geometry',
  'motif',
  'repeat',
  'joins',
  'strength',
  'ties',
  'register',
  'stencil',
  'cloth',
  'pages',
  'proof',
  'draw',
  'papers/sheet',
  'papers/guide',
  'job-file',
  'job',
  'reports',
  'verify',
];

let copy: string;

beforeEach(() => {
  copy = mkdtempSync(join(tmpdir(), 'okuri-direction-'));
  for (const file of ['biome.json', 'package.json', '.gitignore']) copyFileSync(join(root, file), join(copy, file));
  for (const name of packages) {
    mkdirSync(join(copy, 'packages', name, 'src'), { recursive: true });
    cpSync(join(root, 'packages', name, 'package.json'), join(copy, 'packages', name, 'package.json'));
  }
  for (const folder of coreFolders) plant(`packages/core/src/${folder}/thing.ts`, 'export const thing = 1;\n');
  plant('packages/core/src/index.ts', "export { thing } from './job/thing.js';\n");
});

afterEach(() => rmSync(copy, { recursive: true, force: true }));

function plant(path: string, code: string): void {
  mkdirSync(dirname(join(copy, path)), { recursive: true });
  writeFileSync(join(copy, path), code);
}

function lint(): { ok: boolean; said: string } {
  const biome = join(root, 'node_modules/@biomejs/biome/bin/biome');
  const run = spawnSync(process.execPath, [biome, 'lint', '--max-diagnostics=100', '.'], {
    cwd: copy,
    encoding: 'utf8',
  });
  return { ok: run.status === 0, said: run.stdout + run.stderr };
}

const uses = (from: string) => `import { thing } from '${from}';\nexport const other = thing;\n`;

it('passes imports along the arrows', () => {
  plant('packages/core/src/papers/guide/good.ts', uses('../../pages/thing.js'));
  plant('packages/core/src/pages/good.ts', uses('../units/thing.js'));
  plant('packages/core/src/cloth/good.ts', uses('../stencil/thing.js'));
  plant('packages/core/src/joins/good.ts', uses('../motif/thing.js'));
  plant('packages/core/src/joins/index-of-boxes.ts', uses('flatbush'));
  plant(
    'packages/core/src/geometry/engine.ts',
    uses('clipper2-ts') + uses('paper/dist/paper-core.js').replaceAll('thing', 'paper').replace('other', 'more'),
  );
  plant('packages/core/src/geometry/types.ts', 'export type thing = 1;\n');
  plant(
    'packages/core/src/verify/good.ts',
    "import type { thing } from '../geometry/types.js';\nexport const other: thing = 1;\n",
  );
  plant('packages/core/src/job/good.ts', uses('../papers/guide/thing.js'));
  plant('packages/reader/src/good.ts', uses('@okuri/core'));
  plant('packages/cli/src/scans.ts', uses('@okuri/reader/scan'));
  plant(
    'packages/cli/src/good.ts',
    `${uses('@okuri/reader')}${uses('@okuri/writer').replace('{ thing }', '{ thing as t }').replace('other = thing', 'third = t')}`,
  );
  const { ok, said } = lint();
  expect(said).not.toContain('noRestrictedImports');
  expect(ok).toBe(true);
});

it.each([
  ['units', '../geometry/thing.js'],
  ['geometry', '../motif/thing.js'],
  ['motif', '../repeat/thing.js'],
  ['repeat', '../joins/thing.js'],
  ['joins', '../stencil/thing.js'],
  ['strength', '../repeat/thing.js'],
  ['repeat', '../strength/thing.js'],
  ['strength', '../ties/thing.js'],
  ['register', '../stencil/thing.js'],
  ['stencil', '../joins/thing.js'],
  ['stencil', '../cloth/thing.js'],
  ['cloth', '../pages/thing.js'],
  ['pages', '../cloth/thing.js'],
  ['pages', '../draw/thing.js'],
  ['draw', '../papers/sheet/thing.js'],
  ['papers/sheet', '../guide/thing.js'],
  ['papers/guide', '../../job/thing.js'],
  ['job-file', '../job/thing.js'],
  ['job', '../reports/thing.js'],
  ['job', '../index.js'],
  ['repeat', 'clipper2-ts'],
  ['motif', 'paper/dist/paper-core.js'],
  ['draw', 'zod'],
  ['job', 'node:fs'],
  ['job', '@okuri/reader'],
  ['draw', '../../../writer/src/thing.js'],
  ['verify', '../geometry/thing.js'],
  ['verify', '../repeat/thing.js'],
  ['verify', 'flatbush'],
  ['job', '../verify/thing.js'],
])('refuses %s of core importing %s', (folder, from) => {
  plant(`packages/core/src/${folder}/bad.ts`, uses(from));
  const { ok, said } = lint();
  expect(said).toContain(`packages/core/src/${folder}/bad.ts`);
  expect(said).toContain('noRestrictedImports');
  expect(ok).toBe(false);
});

it.each([
  ['scan', '@okuri/reader'],
  ['scan', '../../core/src/thing.js'],
  ['reader', '@okuri/writer'],
  ['reader', '@okuri/cli'],
  ['reader', '../../writer/src/thing.js'],
  ['writer', '@okuri/reader'],
  ['writer', '@okuri/core/src/geometry/thing.js'],
  ['cli', '../../core/src/geometry/thing.js'],
])('refuses %s importing %s', (name, from) => {
  plant(`packages/${name}/src/bad.ts`, uses(from));
  const { ok, said } = lint();
  expect(said).toContain(`packages/${name}/src/bad.ts`);
  expect(said).toContain('noRestrictedImports');
  expect(ok).toBe(false);
});

it('refuses a cycle, of types alone too', () => {
  plant('packages/core/src/joins/one.ts', "import type { Two } from './two.js';\nexport type One = Two | 1;\n");
  plant('packages/core/src/joins/two.ts', "import type { One } from './one.js';\nexport type Two = One[];\n");
  const { ok, said } = lint();
  expect(said).toContain('noImportCycles');
  expect(ok).toBe(false);
});

it.each([
  ['a package that is not declared', uses('left-over-package'), 'noUndeclaredDependencies'],
  ['export *', "export * from './thing.js';\n", 'noReExportAll'],
  ['a default export', 'export default 1;\n', 'noDefaultExport'],
])('refuses %s', (_what, code, rule) => {
  plant('packages/reader/src/thing.ts', 'export const thing = 1;\n');
  plant('packages/reader/src/bad.ts', code);
  const { ok, said } = lint();
  expect(said).toContain(rule);
  expect(ok).toBe(false);
});
