import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { compile } from './build.mjs';
import { buildStudio } from './studio.mjs';

/**
 * The rules that hold the import direction, run by themselves too so that a breach has its own line and count. (Rules that are
 * off for some files in biome.json can't be among them: naming a rule turns it on everywhere. They are part of the lint.)
 */
const DIRECTION_RULES = ['style/noRestrictedImports', 'suspicious/noImportCycles', 'performance/noReExportAll'];

/** Lint, direction, types, the studio's build, which tests in a browser need, and every test. The last line on standard output is the count. */
export function test(root, args) {
  const checks = runChecks(root, [...CHECKS, ['studio builds', studioBuilds]]);
  const tests = runTests(root, args);
  return report({
    passed: checks.passed + tests.passed,
    failed: checks.failed + tests.failed,
    skipped: tests.skipped,
  });
}

/** Lint, direction and types alone. */
export function check(root) {
  return report({ ...runChecks(root, CHECKS), skipped: 0 });
}

function report({ passed, failed, skipped }) {
  console.log(`\n${passed} passed, ${failed} failed, ${skipped} skipped`);
  return failed === 0 ? 0 : 1;
}

const CHECKS = [
  ['lint and format', (root) => biome(root, ['check', '--error-on-warnings', '.'])],
  ['direction of imports', (root) => biome(root, ['lint', ...DIRECTION_RULES.map((rule) => `--only=${rule}`), '.'])],
  ['types', (root) => compile(root, '.') === 0],
  // Reads what the compiler has just written.
  [
    'public face of core',
    (root) => spawnSync(process.execPath, [join(root, 'scripts/api.mjs')], { stdio: 'inherit' }).status === 0,
  ],
];

function runChecks(root, checks) {
  const results = checks.map(([name, holds]) => [name, holds(root)]);
  for (const [name, ok] of results) console.log(`${ok ? 'ok    ' : 'FAILED'} ${name}`);
  const passed = results.filter(([, ok]) => ok).length;
  return { passed, failed: results.length - passed };
}

function studioBuilds(root) {
  try {
    buildStudio(root);
    return true;
  } catch (error) {
    console.error(error.message);
    return false;
  }
}

function biome(root, args) {
  const bin = join(root, 'node_modules/@biomejs/biome/bin/biome');
  return (
    spawnSync(process.execPath, [bin, ...args], { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] }).status === 0
  );
}

function runTests(root, args) {
  const folder = mkdtempSync(join(tmpdir(), 'okuri-test-'));
  try {
    const file = join(folder, 'results.json');
    const vitest = join(root, 'node_modules/vitest/vitest.mjs');
    const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`];
    const run = spawnSync(process.execPath, [vitest, 'run', ...reporters, ...args], {
      cwd: root,
      stdio: ['ignore', 'inherit', 'inherit'],
    });
    return countTests(existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : null, run.status === 0);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/**
 * Counts of one run. A file that could not be loaded has no tests to count and counts as one failure; so does a run that
 * failed without a failed test (an error outside any test, or no results at all).
 */
export function countTests(results, ok) {
  let [passed, failed, skipped] = [0, 0, 0];
  for (const file of results?.testResults ?? []) {
    const states = file.assertionResults.map((one) => one.status);
    const broken = states.filter((state) => state === 'failed').length;
    failed += broken > 0 || file.status !== 'failed' ? broken : 1;
    passed += states.filter((state) => state === 'passed').length;
    skipped += states.filter((state) => state !== 'passed' && state !== 'failed').length;
  }
  if (!ok && failed === 0) failed = 1;
  return { passed, failed, skipped };
}
