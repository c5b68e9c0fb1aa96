// Records what every command writes and what is drawn for the demo, the fixtures and icons of open sets, and says later what differs from it: with --write it
// records, else it compares. Exit 1 where anything but rounding differs, 2 where it can't start.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { isMainThread, parentPort, Worker } from 'node:worker_threads';
import { gunzipSync, gzipSync } from 'node:zlib';
import { core } from './core.mjs';
import { difference } from './hashes/compare.mjs';
import { jobs } from './hashes/jobs.mjs';
import { recordJob } from './hashes/record.mjs';

const DEFAULT_FOLDER = fileURLToPath(new URL('../out/hashes', import.meta.url));

if (isMainThread) await main(process.argv.slice(2));
else await work();

async function main(args) {
  const writes = args.includes('--write');
  const [only, folder] = ['--only', '--record'].map((name) =>
    args.includes(name) ? args[args.indexOf(name) + 1] : null,
  );
  const record = folder ?? DEFAULT_FOLDER;
  if (!writes && !existsSync(`${record}/index.json`)) {
    console.error('Nothing is recorded yet: run it with --write first, on what the work is compared with.');
    process.exitCode = 2;
    return;
  }
  const list = jobs();
  const chosen = list.flatMap(({ name }, k) => (only === null || name.includes(only) ? [k] : []));
  const known = existsSync(`${record}/index.json`) ? JSON.parse(readFileSync(`${record}/index.json`, 'utf8')) : {};
  const index = {};
  const found = [];
  if (writes) {
    if (only === null) rmSync(record, { recursive: true, force: true });
    mkdirSync(record, { recursive: true });
  }
  await share(chosen, (k, texts) => {
    const { name } = list[k];
    const hashes = Object.fromEntries(Object.entries(texts).map(([what, text]) => [what, hashOf(text)]));
    index[name] = hashes;
    if (writes) {
      for (const [what, text] of Object.entries(texts)) {
        writeFileSync(`${record}/${hashes[what]}.gz`, gzipSync(Buffer.from(text), { level: 1 }));
      }
      return;
    }
    const own = compareJob(name, known[name] ?? {}, hashes, texts, record);
    found.push(...own);
    for (const line of own) console.log(lineOf(line));
  });
  if (writes) writeFileSync(`${record}/index.json`, JSON.stringify(only === null ? index : { ...known, ...index }));
  const counts = {};
  for (const { kind } of found) counts[kind] = (counts[kind] ?? 0) + 1;
  const texts = Object.values(index).reduce((sum, own) => sum + Object.keys(own).length, 0);
  console.log(JSON.stringify({ jobs: chosen.length, texts, ...(writes ? { written: record } : { differ: counts }) }));
  process.exitCode = found.some(({ kind }) => kind === 'other' || kind === 'words') ? 1 : 0;
}

/** A file that a writer packs differs by bytes; it counts as other only where nothing that is drawn for the same job differs. */
function compareJob(name, before, after, texts, record) {
  const whats = [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (what) => before[what] !== after[what],
  );
  const differences = whats.map((what) => {
    const old =
      before[what] === undefined ? undefined : gunzipSync(readFileSync(`${record}/${before[what]}.gz`)).toString();
    return { name, what, ...difference(what, old, texts[what]) };
  });
  const drawn = differences.some(({ what }) => /^(drawn|words) /.test(what));
  return differences.map((one) =>
    one.kind === 'bytes' && !drawn ? { ...one, kind: 'other', lines: ['its bytes differ'] } : one,
  );
}

function lineOf({ name, what, kind, byMm, lines }) {
  const by = byMm === undefined ? '' : ` by ${byMm.toExponential(1)}`;
  return [`${kind}${by}: ${name} · ${what}`, ...lines.map((line) => `    ${line}`)].join('\n');
}

function hashOf(text) {
  return createHash('sha256').update(text).digest('hex').slice(0, 24);
}

async function share(chosen, take) {
  let next = 0;
  await Promise.all(
    Array.from({ length: Math.min(2, availableParallelism()) }, async () => {
      const worker = new Worker(new URL(import.meta.url));
      await new Promise((resolve, reject) => {
        worker.on('error', reject);
        worker.on('message', (done) => {
          try {
            if (done !== null) take(done.index, done.texts);
          } catch (error) {
            reject(error);
          }
          if (next < chosen.length) worker.postMessage(chosen[next++]);
          else worker.terminate().then(resolve, reject);
        });
      });
    }),
  );
}

async function work() {
  const [reader, writer, cli] = await Promise.all(
    ['reader', 'writer', 'cli'].map(
      (name) => import(new URL(`../packages/${name}/dist/index.js`, import.meta.url).href),
    ),
  );
  const { Resvg } = await import('@resvg/resvg-js');
  const list = jobs();
  parentPort.on('message', async (index) => {
    parentPort.postMessage({ index, texts: await recordJob({ core, reader, writer, cli, Resvg }, list[index]) });
  });
  parentPort.postMessage(null);
}
