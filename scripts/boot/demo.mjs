import { spawnSync } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';

/** Makes everything for the jobs in fixtures/demo, into out/demo, and lists what was made. */
export function demo(root) {
  const jobs = readdirSync(join(root, 'fixtures/demo')).filter((name) => name.endsWith('.okuri.json'));
  if (jobs.length === 0) throw new Error('There is no job (*.okuri.json) in fixtures/demo.');
  const main = join(root, 'packages/cli/dist/main.js');
  for (const job of jobs.sort()) {
    const name = job.replace(/\.okuri\.json$/, '');
    const folder = join(root, 'out/demo', ...(jobs.length > 1 ? [name] : []));
    console.log(`okuri make fixtures/demo/${job} -o ${relative(root, folder)} --no-keep`);
    const run = spawnSync(
      process.execPath,
      [main, 'make', join(root, 'fixtures/demo', job), '-o', folder, '--no-keep'],
      {
        cwd: root,
        stdio: ['ignore', 'inherit', 'inherit'],
      },
    );
    // 1 says that everything was made and that something in the artwork has to be mended: not a fault of the run.
    if (run.status === 1)
      console.log('(exit code 1: everything was made; the findings above need mending before the first cut)');
    else if (run.status !== 0) return run.status ?? 1;
    const made = list(folder);
    if (made.length === 0) return 1;
    console.log('\nMade:');
    for (const { path, bytes } of made) console.log(`  ${relative(root, path).padEnd(44)} ${kilobytes(bytes)}`);
  }
  return 0;
}

function list(folder) {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
    .sort()
    .map((path) => ({ path, bytes: statSync(path).size }));
}

function kilobytes(bytes) {
  return `${(bytes / 1000).toFixed(bytes < 10_000 ? 1 : 0)} kB`;
}
