import { spawnSync } from 'node:child_process';
import { expect, it } from 'vitest';

const { countTests } = await import(new URL('./boot/test.mjs', import.meta.url).href);

const file = (status: string, ...states: string[]) => ({
  status,
  assertionResults: states.map((s) => ({ status: s })),
});

it('counts tests by what became of them', () => {
  const results = {
    testResults: [file('passed', 'passed', 'pending', 'todo'), file('failed', 'passed', 'failed', 'skipped')],
  };
  expect(countTests(results, false)).toEqual({ passed: 2, failed: 1, skipped: 3 });
});

it('counts a file that could not be loaded, a run that died and a run without results as failures', () => {
  expect(countTests({ testResults: [file('failed')] }, false)).toEqual({ passed: 0, failed: 1, skipped: 0 });
  expect(countTests({ testResults: [file('passed', 'passed')] }, false)).toEqual({ passed: 1, failed: 1, skipped: 0 });
  expect(countTests(null, false)).toEqual({ passed: 0, failed: 1, skipped: 0 });
});

it('refuses a task that it does not know', () => {
  const boot = new URL('./boot.mjs', import.meta.url).pathname;
  const run = spawnSync(process.execPath, [boot, 'toString'], { encoding: 'utf8' });
  expect(run.status).toBe(2);
  expect(run.stdout).toBe('');
  expect(run.stderr).toContain('okuri, start, demo, test');
});
