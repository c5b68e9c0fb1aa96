import { fork } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const LANE = join(dirname(fileURLToPath(import.meta.url)), 'lane.mjs');

/** A test file may take this many times what the processor spends on it without a mutant, and at least so many ms. */
const SLOWER_AT_MOST = 5;
const LEAST_LIMIT_MS = 10_000;
/** What noticed a mutant where no test of a file could begin. */
export const NOT_LOADED = 'a test file that can no longer be loaded';
/** A process that tells nothing for so long is stuck, ms. */
const STILL_LIMIT_MS = 120_000;
/** Starting a process and reading the sources, ms. */
const START_LIMIT_MS = 60_000;

/** One process that tries mutants one after another, and is started anew after a mutant that never came back. */
export class Lane {
  #root;
  #leastLimitMs;
  #child = null;

  constructor(root, { leastLimitMs = LEAST_LIMIT_MS } = {}) {
    this.#root = root;
    this.#leastLimitMs = leastLimitMs;
  }

  /**
   * Runs test files `[{ file, ids, ms }]` in their order until one fails: `{ verdict: 'killed' | 'timed out' | 'survived', by }`,
   * with `by` the test, and the milliseconds it took.
   */
  async run({ path, source, files }) {
    const child = await this.#started();
    const began = performance.now();
    return new Promise((resolve) => {
      let [current, killer, since, limitMs] = [files[0]?.file, null, null, 0];
      const end = (verdict, by) => {
        clearTimeout(clock);
        child.removeAllListeners('message');
        child.removeAllListeners('exit');
        if (verdict === 'timed out') this.close();
        resolve({ verdict, by, ms: performance.now() - began });
      };
      const limit = (file) => {
        const usual = files.find((one) => one.file === file)?.ms ?? 0;
        [since, limitMs] = [null, Math.max(this.#leastLimitMs, SLOWER_AT_MOST * usual)];
      };
      const clock = setTimeout(() => end('timed out', current), STILL_LIMIT_MS);
      child.on('message', ({ began: start, ended, state, failed, spent, done, broken, why }) => {
        if (start !== undefined) {
          current = start;
          limit(start);
        } else if (ended !== undefined) {
          if (state === 'failed') killer ??= failed[0] ?? NOT_LOADED;
          limit(null);
        } else if (done) end(killer !== null || broken ? 'killed' : 'survived', killer ?? why ?? null);
        if (spent === undefined) return;
        since ??= spent;
        clock.refresh();
        if (spent - since > limitMs) end('timed out', current);
      });
      // A mutant that fills the memory takes the process along.
      child.on('exit', () => {
        this.#child = null;
        end('timed out', current);
      });
      limit(current);
      child.send({ path, source, files: files.map(({ file, ids }) => ({ file, ids })) });
    });
  }

  close() {
    this.#child?.removeAllListeners('exit');
    this.#child?.kill('SIGKILL');
    this.#child = null;
  }

  #started() {
    if (this.#child !== null) return this.#child;
    // A lane that is itself started by a test must not take itself for a part of that run.
    const env = Object.fromEntries(Object.entries(process.env).filter(([name]) => !name.startsWith('VITEST')));
    const child = fork(LANE, [this.#root], {
      cwd: this.#root,
      env,
      execArgv: [],
      stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    });
    this.#child = child;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error('The test server does not start.')), START_LIMIT_MS);
      child.once('message', () => {
        clearTimeout(timer);
        resolve(child);
      });
      child.once('exit', (code) => reject(new Error(`The test server ended with code ${code}.`)));
    }).finally(() => child.removeAllListeners('exit'));
  }
}
