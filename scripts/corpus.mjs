// Holds the cut lines of thousands of drawings against their artwork: open sets of icons and patterns, or the drawings of a folder. One JSON document on
// standard output; how it goes on on standard error. Exit 1 where a line is missing, invented or exempt too often, 2 where it can't start.
import { availableParallelism } from 'node:os';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { core } from './core.mjs';
import { addLengths, checkDrawing, NOTHING } from './corpus/check-drawing.mjs';
import { drawingsOfFolder, sampleOfSets } from './corpus/sample.mjs';

const DEFAULTS = { seed: 1, count: null, files: null, jobs: Math.min(2, availableParallelism()), from: 0 };
/** Drawings of the sets that are looked at where nobody says how many. */
const COUNT = 2400;
/** Misses of one drawing that are listed; all are counted. */
const LISTED = 12;
const EXEMPT_MOST = 0.005;
const SAID_EVERY = 100;

if (isMainThread) await main();
else await work();

async function main() {
  let options;
  try {
    options = optionsOf(process.argv.slice(2));
  } catch (error) {
    console.error(error.message);
    process.exitCode = 2;
    return;
  }
  const start = performance.now();
  const list = listOf(options);
  const outcomes = new Array(list.length);
  let next = options.from;
  let done = 0;
  await Promise.all(
    Array.from({ length: options.jobs }, async () => {
      const worker = new Worker(new URL(import.meta.url), { workerData: options });
      await new Promise((resolve, reject) => {
        const give = () => {
          if (next < list.length) worker.postMessage(next++);
          else worker.terminate().then(resolve, reject);
        };
        worker.on('error', reject);
        worker.on('message', ({ index, outcome }) => {
          if (index !== undefined) {
            outcomes[index] = outcome;
            const [first] = outcome.misses ?? [];
            if (first)
              console.error(`${list[index].name}: ${first.what} at ${first.x.toFixed(3)}, ${first.y.toFixed(3)}`);
            if (outcome.broke) console.error(`${list[index].name}: ${outcome.broke}`);
          }
          if (index !== undefined && ++done % SAID_EVERY === 0) {
            console.error(`${done} of ${list.length - options.from} drawings`);
          }
          give();
        });
      });
    }),
  );
  const report = reportOf(list, outcomes, options, (performance.now() - start) / 1000);
  console.log(JSON.stringify(report, null, 1));
  process.exitCode = report.failed.length > 0 ? 1 : 0;
}

async function work() {
  const [verify, reader, writer] = await Promise.all(
    ['core/dist/verify/index.js', 'reader/dist/index.js', 'writer/dist/index.js'].map(
      (path) => import(new URL(`../packages/${path}`, import.meta.url).href),
    ),
  );
  const list = listOf(workerData);
  parentPort.on('message', (index) => {
    const { name, read, settings } = list[index];
    const start = performance.now();
    let outcome;
    try {
      outcome = checkDrawing({ core, verify, reader, writer }, { name, svg: read() }, settings);
    } catch (error) {
      outcome = { broke: error.stack ?? String(error) };
    }
    parentPort.postMessage({ index, outcome: { ...outcome, ms: Math.round(performance.now() - start) } });
  });
  parentPort.postMessage({});
}

function listOf({ seed, count, files }) {
  return files === null ? sampleOfSets(seed, count ?? COUNT) : drawingsOfFolder(files, seed, count);
}

function reportOf(list, outcomes, { seed, files }, seconds) {
  const total = { ...NOTHING };
  const missKinds = {};
  const report = { refused: [], failed: [], sheets: 0, ties: 0, misses: 0, checked: 0, exemptMost: 0 };
  const repeats = {};
  list.forEach(({ name, settings }, k) => {
    const outcome = outcomes[k];
    if (outcome === undefined) return;
    const laid = { name, widthMm: settings.widthMm, repeat: settings.repeat };
    if (outcome.refused !== undefined) {
      report.refused.push({ ...laid, sentence: outcome.refused });
      return;
    }
    if (outcome.broke !== undefined) {
      report.failed.push({ ...laid, settings, broke: outcome.broke });
      return;
    }
    addLengths(total, outcome);
    report.checked++;
    report.sheets += outcome.sheets;
    report.ties += outcome.ties;
    report.misses += outcome.misses.length;
    report.exemptMost = Math.max(report.exemptMost, outcome.exemptMost);
    repeats[settings.repeat] = (repeats[settings.repeat] ?? 0) + 1;
    const kinds = {};
    for (const { what } of outcome.misses) kinds[what] = (kinds[what] ?? 0) + 1;
    for (const [what, count] of Object.entries(kinds)) missKinds[what] = (missKinds[what] ?? 0) + count;
    if (outcome.misses.length === 0 && outcome.exemptMost <= EXEMPT_MOST) return;
    const { misses, exempt, exemptMost } = outcome;
    report.failed.push({ ...laid, settings, kinds, exempt, exemptMost, misses: misses.slice(0, LISTED) });
  });
  const { refused, failed, ...counts } = report;
  const exemptMm = Object.values(total.exempt).reduce((sum, mm) => sum + mm, 0);
  return {
    seed,
    files,
    drawings: list.length,
    ...counts,
    missKinds,
    repeats,
    ...total,
    exemptShare: total.lengthMm > 0 ? exemptMm / total.lengthMm : 0,
    seconds: Math.round(seconds),
    refused,
    failed,
  };
}

function optionsOf(args) {
  const options = { ...DEFAULTS };
  for (let k = 0; k < args.length; k += 2) {
    const key = args[k].replace(/^--/, '');
    if (!args[k].startsWith('--') || !Object.hasOwn(DEFAULTS, key) || args[k + 1] === undefined) {
      throw new Error('Say --seed N, --count N, --files FOLDER, --jobs N or --from N, each with its value.');
    }
    options[key] = key === 'files' ? args[k + 1] : wholeNumber(args[k], args[k + 1]);
  }
  return options;
}

function wholeNumber(name, text) {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 0) throw new Error(`${name} is "${text}": give a whole number.`);
  return value;
}
