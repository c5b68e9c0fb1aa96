import { touches } from './reached.mjs';
import { regionOf, usersOf } from './regions.mjs';

/**
 * The regions that have to run for a mutant to be seen, by file; null in place of the list where any use of the file may see it. A
 * change of what runs as a file is loaded is seen where the constant is used, here or in another file.
 */
export function regionsSeeing(mutant, sources) {
  const { tree, regions } = sources.parsed(mutant.file);
  const region = regionOf(tree, regions, mutant);
  if (region >= 0) return new Map([[mutant.file, [region]]]);
  const seeing = new Map();
  const own = usersOf(tree, regions, { start: mutant.start, end: mutant.end });
  if (own === null) return new Map([[mutant.file, null]]);
  seeing.set(mutant.file, own.regions);
  for (const name of own.exported) {
    for (const file of sources.importing(mutant.file, name)) {
      const other = sources.parsed(file);
      const theirs = usersOf(other.tree, other.regions, { name });
      seeing.set(file, theirs.exported.length > 0 ? null : theirs.regions);
    }
  }
  return seeing;
}

/**
 * The test files to run for a mutant, `[[{ file, ids, ms }], …]`: round by round, in each first those that are near and fast. The
 * first round has the tests that reach it; the second what comes after those in their files, as tests may share what an earlier one
 * made; the third those that span packages. The first takes at most `mostMs` as tests take without a mutant, the others half as
 * long: the slowest files are left out.
 */
export function roundsFor(seeing, reached, { mostMs = Number.POSITIVE_INFINITY } = {}) {
  const rounds = [[], [], []];
  const [own] = seeing.keys();
  for (const { file, tier, shared, tests } of reached) {
    const hit = (bits) => [...seeing].some(([name, regions]) => touches(bits.get(name), regions));
    const all = hit(shared);
    const direct = tests.filter((test) => all || hit(test.reached));
    if (direct.length === 0) continue;
    const entry = (some) => ({
      file,
      ids: some.length === tests.length ? null : some.map(({ id }) => id),
      ms: some.reduce((sum, { ms }) => sum + ms, 0),
      near: nearness(file, own),
    });
    rounds[tier === 1 ? 0 : 2].push(entry(direct));
    const after = tests.slice(tests.indexOf(direct[0]));
    if (tier === 1 && after.length > direct.length) rounds[1].push(entry(after));
  }
  return rounds.map((files, k) => within(files, k === 0 ? mostMs : mostMs / 2));
}

/** How likely a test file is to notice a change of a file, against one that lies elsewhere. */
function nearness(test, file) {
  if (test.endsWith(file.replace(/\.ts$/, '.test.ts'))) return 50;
  return test.slice(0, test.lastIndexOf('/')).endsWith(file.slice(0, file.lastIndexOf('/'))) ? 10 : 1;
}

/** Starting a test file takes about so long, whatever it tests, ms. */
const START_MS = 50;

function within(files, mostMs) {
  files.sort((a, b) => (a.ms + START_MS) / a.near - (b.ms + START_MS) / b.near);
  let sum = 0;
  return files.filter(({ ms }) => {
    sum += ms;
    return sum <= mostMs;
  });
}
