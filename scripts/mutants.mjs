// Tries how much the tests notice: changes one thing in core's sources at a time (a mutant) and runs the tests that reach it.
import { readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { notCompiling } from './mutants/compiles.mjs';
import { reachedByTests } from './mutants/reached.mjs';
import { report, summary } from './mutants/report.mjs';
import { sample } from './mutants/sample.mjs';
import { Sources } from './mutants/sources.mjs';
import { tryMutants } from './mutants/try.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const HELP = `npm run mutants -- [OPTIONS]
  --seed N[,N…]        samples to try, one after another (1)
  --count N            mutants a sample, as many from each folder (100)
  --only TEXT          only mutants whose name has this in it
  --name NAME[,NAME…]  these mutants and no sample
  --near               only the tests beside the code, not those that span packages
  --seconds N          most time that the tests of one mutant may take, as they take without it (150)
  --lanes N            mutants tried side by side (one a processor, at most 4)
  --json FILE          the result as data too`;
/** Places per folder looked at beyond the sample, in place of mutants that don't compile. */
const SPARE = 12;
const CANNOT_START = 2;

try {
  await main();
  process.exit();
} catch (error) {
  console.error(error.message);
  process.exit(CANNOT_START);
}

async function main() {
  const { seeds, count, only, names, lanes, near, mostMs, json } = read(process.argv.slice(2));
  const began = performance.now();
  const sources = new Sources(root);
  const reasons = JSON.parse(readFileSync(join(root, 'scripts/mutants/survivors.json'), 'utf8'));
  const reached = await reachedByTests(root, { workers: lanes, near, say: console.log });
  const runs = [];
  for (const seed of names.length > 0 ? [null] : seeds) {
    const mutants = seed === null ? named(sources, names) : compiling(sources, { seed, count, only });
    const tried = await tryMutants(root, mutants, { sources, reached, lanes, mostMs, say: console.log });
    runs.push({ seed, tried });
    console.log(report(tried, { title: seed === null ? 'Named mutants' : `Seed ${seed}`, reasons }));
  }
  if (runs.length > 1) {
    const all = [...new Map(runs.flatMap(({ tried }) => tried).map((one) => [one.mutant.name, one])).values()];
    console.log(report(all, { title: `Seeds ${seeds.join(', ')} together`, reasons }));
  }
  if (json !== undefined)
    writeFileSync(
      json,
      `${JSON.stringify(
        runs.map((run) => summary(run, reasons)),
        null,
        2,
      )}\n`,
    );
  console.log(`\n${Math.round((performance.now() - began) / 1000)} s`);
}

function read(args) {
  const { values } = parseArgs({
    args,
    options: {
      seed: { type: 'string', default: '1' },
      count: { type: 'string', default: '100' },
      only: { type: 'string' },
      name: { type: 'string', default: '' },
      near: { type: 'boolean', default: false },
      seconds: { type: 'string', default: '150' },
      lanes: { type: 'string', default: String(Math.min(4, availableParallelism())) },
      json: { type: 'string' },
    },
  });
  const whole = (text, what) => {
    if (!/^\d+$/.test(text)) throw new Error(`${what} has to be a whole number, got "${text}".\n${HELP}`);
    return Number(text);
  };
  const list = (text) => text.split(',').filter((part) => part !== '');
  return {
    seeds: list(values.seed).map((text) => whole(text, '--seed')),
    count: whole(values.count, '--count'),
    only: values.only,
    names: list(values.name),
    lanes: Math.max(1, whole(values.lanes, '--lanes')),
    near: values.near,
    mostMs: 1000 * whole(values.seconds, '--seconds'),
    json: values.json,
  };
}

/** The sample of a seed: what doesn't compile counts for nothing, and the next place of the folder comes in for it. */
function compiling(sources, { seed, count, only }) {
  const byFolder = Object.fromEntries(
    Object.entries(sources.mutants()).map(([folder, all]) => [
      folder,
      only === undefined ? all : all.filter(({ name }) => name.includes(only)),
    ]),
  );
  const parts = Object.values(sample(byFolder, { seed, count, spare: SPARE }));
  const refused = notCompiling(
    root,
    parts.flatMap(({ chosen }) => chosen),
    (file) => sources.text(file),
  );
  return parts.flatMap(({ share, chosen }) => chosen.filter(({ name }) => !refused.has(name)).slice(0, share));
}

function named(sources, names) {
  const all = new Map(Object.values(sources.mutants()).flatMap((list) => list.map((one) => [one.name, one])));
  return names.map((name) => {
    const found = all.get(name) ?? all.get(`packages/core/src/${name}`);
    if (found === undefined) throw new Error(`There is no mutant of the name ${name}.`);
    return found;
  });
}
