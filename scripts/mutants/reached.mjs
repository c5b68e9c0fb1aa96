import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { globTests, runNoting } from './servers.mjs';

/** Tests of the folders that are tried and of those above them; folders below them can't reach them. */
const FIRST_TIER = /^packages\/core\/src\/(?!units|geometry|motif|scan)/;
/** What spans packages and runs the sources in its own process, in seconds and not in minutes: tried on what is left. */
const SECOND_TIER =
  /^tests\/(squaring|plan|drift|guide|labels|second-cut|second-cut-strips|paper-necks|paper-islands|double-sheets|outside|whole-job\/.*)\.test\.ts$/;

const NOTES = 'node_modules/.cache/okuri-mutants/reached';
/** Raised when notes are written in another way: old ones count no longer. */
const FORM = 1;

/**
 * What every test file reaches: `[{ file, tier, ms, tests: [{ id, ms, state, reached }], shared }]`, `reached` and `shared` as `Map`
 * of a source's name to the bits of its regions. Kept from run to run by the contents of what a file loaded; only what has changed
 * is run again.
 */
export async function reachedByTests(root, { workers, near, say }) {
  const folder = join(root, NOTES);
  mkdirSync(folder, { recursive: true });
  const files = (await globTests(root)).filter((file) => [1, near ? 1 : 2].includes(tierOf(relative(root, file))));
  const seen = new Map();
  const stale = files.filter((file) => !fresh(root, noteOf(folder, file), seen));
  if (stale.length > 0) {
    say(`Noting what ${stale.length} test files reach; this is kept until they change.`);
    await runNoting(root, stale, { folder, workers });
    for (const file of stale) seal(root, noteOf(folder, file), seen);
  }
  const notes = files.map((file) => noteOf(folder, file)).filter(existsSync);
  const reached = notes.map((note) => read(root, note));
  refuseFailing(reached, notes);
  return reached;
}

/** A test that fails as the sources are would seem to notice every mutant. */
function refuseFailing(reached, notes) {
  const failing = reached.map(({ tests }) => tests.filter(({ state }) => state === 'fail').map(({ name }) => name));
  const names = failing.flat();
  if (names.length === 0) return;
  failing.forEach((own, k) => {
    if (own.length > 0) rmSync(notes[k]);
  });
  throw new Error(`These tests fail as the sources are: ${names.join('; ')}. Mend them first.`);
}

/** 1 for tests beside the code, 2 for those tried afterwards, 0 for those never tried. */
export function tierOf(name) {
  return FIRST_TIER.test(name) ? 1 : SECOND_TIER.test(name) ? 2 : 0;
}

function noteOf(folder, file) {
  return join(folder, `${file.replaceAll(/[^\w.-]+/g, '_')}.json`);
}

function fresh(root, note, seen) {
  if (!existsSync(note)) return false;
  const { hash, modules, file } = JSON.parse(readFileSync(note, 'utf8'));
  return hash !== undefined && hash === hashOf(root, file, modules, seen);
}

function seal(root, note, seen) {
  if (!existsSync(note)) return;
  const kept = JSON.parse(readFileSync(note, 'utf8'));
  writeFileSync(note, JSON.stringify({ ...kept, hash: hashOf(root, kept.file, kept.modules, seen) }));
}

function hashOf(root, file, modules, seen) {
  const all = createHash('sha256').update(String(FORM));
  for (const name of [relative(root, file), ...modules]) {
    if (!seen.has(name)) {
      const path = join(root, name);
      seen.set(name, existsSync(path) ? createHash('sha256').update(readFileSync(path)).digest('hex') : 'gone');
    }
    all.update(name).update(seen.get(name));
  }
  return all.digest('hex');
}

function read(root, note) {
  const { file, ms, tests, shared } = JSON.parse(readFileSync(note, 'utf8'));
  return {
    file,
    tier: tierOf(relative(root, file)),
    ms,
    shared: bitsOf(shared),
    tests: tests.map((test) => ({ ...test, reached: bitsOf(test.reached) })),
  };
}

function bitsOf(texts) {
  return new Map(Object.entries(texts).map(([name, text]) => [name, Buffer.from(text, 'base64')]));
}

/** Whether any of the regions (null: any at all) is among the bits. */
export function touches(bits, regions) {
  if (bits === undefined) return false;
  return regions === null || regions.some((n) => (bits[n >> 3] & (1 << (n & 7))) !== 0);
}
