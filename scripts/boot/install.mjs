import { spawnSync } from 'node:child_process';
import { existsSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';

/** The one version of pnpm that installs this workspace; later major versions need a later Node. */
const PNPM = '10.34.8';

/**
 * Installs the workspace's packages if they are missing or older than the lock file. Everything that is said goes to
 * standard error, so that the command's standard output stays its own.
 */
export function install(root) {
  const mark = join(root, 'node_modules/.modules.yaml');
  const lock = join(root, 'pnpm-lock.yaml');
  if (existsSync(mark) && statSync(mark).mtimeMs >= statSync(lock).mtimeMs) return;
  console.error('Installing packages …');
  const command = pnpmCommand();
  const done = spawnSync(command[0], [...command.slice(1), 'install', '--frozen-lockfile'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
    // Without a terminal, pnpm asks nothing when this is set.
    env: { ...process.env, CI: 'true' },
  });
  if (done.status !== 0 || !existsSync(mark)) {
    throw new Error('The packages could not be installed: see the lines above, check the network and run this again.');
  }
  // An install that found all in place leaves the mark as it was, older than the lock file.
  const now = new Date();
  utimesSync(mark, now, now);
}

/**
 * A pnpm on the path may be a launcher that has to fetch the real one, or another version: it is used only if it answers with the
 * pinned version. It is asked outside the checkout, where no package.json tells a launcher what to do.
 */
function pnpmCommand() {
  const probe = spawnSync('pnpm', ['--version'], {
    cwd: process.platform === 'win32' ? undefined : '/',
    encoding: 'utf8',
    timeout: 10_000,
    shell: process.platform === 'win32',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  return probe.status === 0 && probe.stdout.trim() === PNPM ? ['pnpm'] : ['npx', '--yes', `pnpm@${PNPM}`];
}
