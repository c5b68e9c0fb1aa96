// Runs one of the workspace's tasks from a checkout that may be brand new: installs what is missing, builds what has
// changed, then runs. Uses nothing but Node itself until the packages are there.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from './boot/build.mjs';
import { install } from './boot/install.mjs';
import { buildStudio } from './boot/studio.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/** Exit code for "could not even start": the command's own code for unusable input. */
const CANNOT_START = 2;

const [task, ...args] = process.argv.slice(2);
const tasks = {
  okuri,
  start,
  demo,
  test,
  check,
  build: buildAll,
  api,
  bench,
  corpus,
  docs,
  hashes,
  mutants,
  pictures,
  format,
};

if (task === undefined || !Object.hasOwn(tasks, task)) {
  console.error(`Name a task: ${Object.keys(tasks).join(', ')}.`);
  process.exit(CANNOT_START);
}
try {
  install(root);
  const code = await tasks[task](args);
  if (code !== undefined) process.exitCode = code;
} catch (error) {
  console.error(error.message);
  process.exitCode = CANNOT_START;
}

/** The command itself, standing where the person stands. It sets the exit code. */
async function okuri(rest) {
  if (rest[0] === 'studio') buildStudio(root);
  else build(root, 'packages/cli');
  // npm runs scripts in the checkout and says where the person stood; a nested run of another script says nothing of use.
  const standing = ['okuri', 'start'].includes(process.env.npm_lifecycle_event) ? process.env.INIT_CWD : undefined;
  if (standing !== undefined && existsSync(standing)) process.chdir(standing);
  const main = join(root, 'packages/cli/dist/main.js');
  process.argv = [process.argv[0], main, ...rest];
  await import(pathToFileURL(main).href);
}

/** The studio, opened in the browser. */
function start(rest) {
  return okuri(['studio', ...rest]);
}

async function demo(rest) {
  build(root, 'packages/cli');
  return (await import('./boot/demo.mjs')).demo(root, rest);
}

async function test(rest) {
  return (await import('./boot/test.mjs')).test(root, rest);
}

async function check() {
  return (await import('./boot/test.mjs')).check(root);
}

function buildAll() {
  build(root, '.');
  buildStudio(root);
  return 0;
}

function bench(rest) {
  return script('bench.mjs', rest);
}

function corpus(rest) {
  return script('corpus.mjs', rest);
}

function api(rest) {
  return script('api.mjs', rest);
}

function docs(rest) {
  return script('docs.mjs', rest);
}

function hashes(rest) {
  return script('hashes.mjs', rest);
}

function mutants(rest) {
  return run(join(root, 'scripts/mutants.mjs'), rest);
}

function pictures(rest) {
  return script('pictures.mjs', rest);
}

function script(name, rest) {
  build(root, 'packages/cli');
  return run(join(root, 'scripts', name), rest);
}

function format(rest) {
  return run(join(root, 'node_modules/@biomejs/biome/bin/biome'), [
    'check',
    '--write',
    ...(rest.length ? rest : ['.']),
  ]);
}

function run(file, rest) {
  return spawnSync(process.execPath, [file, ...rest], { cwd: root, stdio: 'inherit' }).status ?? 1;
}
