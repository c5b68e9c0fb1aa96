import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from './build.mjs';
import { filesStamp, isMadeFrom, keepStamp, stampFile } from './stamp.mjs';

/** Everything that goes into the studio: the packages it is made of, its own sources, and the job it opens with. */
const SOURCES = {
  files: ['pnpm-lock.yaml'],
  folders: ['packages/core', 'packages/reader', 'packages/writer', 'packages/studio', 'fixtures/demo'],
  pattern: /\.(?:tsx?|css|html|svg|json|webmanifest)$/,
};

/**
 * Builds the studio into packages/studio/dist, unless nothing has changed since the last build that went well. The old
 * files stay until the new ones are complete. What the bundler says goes to standard error.
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
    rmSync(dist, { recursive: true, force: true });
    renameSync(fresh, dist);
  } finally {
    rmSync(fresh, { recursive: true, force: true });
  }
  keepStamp(stamp, kept);
  return dist;
}

function bundle(root, folder) {
  const studio = join(root, 'packages/studio');
  const vite = join(studio, 'node_modules/vite/bin/vite.js');
  const args = [vite, 'build', '--outDir', folder, '--emptyOutDir', '--logLevel', 'warn'];
  return (
    spawnSync(process.execPath, args, { cwd: studio, stdio: ['ignore', process.stderr.fd, process.stderr.fd] })
      .status ?? 1
  );
}
