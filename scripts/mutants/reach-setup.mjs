import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeEach } from 'vitest';

// Before every test file: writes down which regions of the sources each of its tests runs, and how long it takes.

const folder = process.env.OKURI_REACHED;
/** What the processor has spent on this process, ms. */
function spentMs() {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

const began = spentMs();
const tests = [];
const loaded = new Map();
let started = 0;
let file = '';

/** What has run since the last time this was asked, as bits by file. */
function take() {
  const taken = {};
  for (const [file, marks] of globalThis.__okuriReached ?? []) {
    if (!marks.includes(1)) continue;
    const bits = Buffer.alloc(Math.ceil(marks.length / 8));
    marks.forEach((mark, n) => {
      if (mark) bits[n >> 3] |= 1 << (n & 7);
    });
    taken[file] = bits.toString('base64');
    marks.fill(0);
  }
  return taken;
}

/** What has run outside any test counts for all tests of the file. */
function share(taken) {
  for (const [file, text] of Object.entries(taken)) {
    const bits = Buffer.from(text, 'base64');
    const before = loaded.get(file);
    before?.forEach((byte, k) => {
      bits[k] |= byte;
    });
    loaded.set(file, bits);
  }
}

beforeEach(({ task }) => {
  file = task.file.filepath;
  share(take());
  started = spentMs();
});

afterEach(({ task }) => {
  tests.push({
    id: task.id,
    name: task.name,
    ms: spentMs() - started,
    state: task.result?.state,
    reached: take(),
  });
});

afterAll(() => {
  share(take());
  if (file === '') return;
  const shared = Object.fromEntries([...loaded].map(([name, bits]) => [name, bits.toString('base64')]));
  const modules = [...(globalThis.__okuriReached?.keys() ?? [])].sort();
  mkdirSync(folder, { recursive: true });
  const text = JSON.stringify({ file, modules, shared, tests, ms: spentMs() - began });
  writeFileSync(join(folder, `${file.replaceAll(/[^\w.-]+/g, '_')}.json`), text);
});
