import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from './build.mjs';
import { filesStamp, isMadeFrom, keepStamp, stampFile } from './stamp.mjs';

/** Everything that goes into the studio: the packages it is made of, its own sources, and the job it opens with. */
const SOURCES = {
  files: ['pnpm-lock.yaml'],
  folders: ['packages/core', 'packages/scan', 'packages/reader', 'packages/writer', 'packages/studio', 'fixtures/demo'],
  pattern: /\.(?:tsx?|css|html|svg|json|webmanifest)$/,
};

/**
 * Builds the studio into packages/studio/dist, unless nothing has changed since the last build that went well. The old
 * files stay until the new ones are complete. What the bundler can't do it says on standard error.
 */
export function buildStudio(root) {
  build(root, 'packages/cli');
  const dist = join(root, 'packages/studio/dist');
  const kept = stampFile(root, 'studio');
  const stamp = filesStamp(root, SOURCES);
  if (isMadeFrom(stamp, kept) && existsSync(join(dist, 'index.html'))) return dist;
  console.error('Building the studio …');
  const fresh = join(root, `node_modules/.cache/okuri/studio-${process.pid}`);
  mkdirSync(join(fresh, '..'), { recursive: true });
  try {
    if (bundle(root, fresh) !== 0) throw new Error('The studio could not be built: see the lines above.');
    if (putInPlace(fresh, dist)) keepStamp(stamp, kept);
  } finally {
    rmSync(fresh, { recursive: true, force: true });
  }
  return dist;
}

/** False where another build has put its files there at the same moment: they stand, and the next build looks again. */
function putInPlace(fresh, dist) {
  rmSync(dist, { recursive: true, force: true });
  try {
    renameSync(fresh, dist);
    return true;
  } catch (error) {
    if (['ENOTEMPTY', 'EEXIST', 'EPERM'].includes(error.code) && existsSync(join(dist, 'index.html'))) return false;
    throw error;
  }
}

function bundle(root, folder) {
  const studio = join(root, 'packages/studio');
  const vite = join(studio, 'node_modules/vite/bin/vite.js');
  const args = [vite, 'build', '--outDir', folder, '--emptyOutDir', '--logLevel', 'error'];
  const run = spawnSync(process.execPath, args, {
    cwd: studio,
    stdio: ['ignore', process.stderr.fd, process.stderr.fd],
    // Wherever this is called from, a test say, what is built is the same.
    env: { ...process.env, NODE_ENV: 'production' },
  });
  return run.status ?? 1;
}
