import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { filesStamp, isMadeFrom, keepStamp, stampFile } from './stamp.mjs';

/** Everything the compiler reads. */
const SOURCES = {
  files: ['pnpm-lock.yaml', 'tsconfig.base.json', 'tsconfig.json'],
  folders: ['packages'],
  pattern: /\.tsx?$|^tsconfig.*\.json$|^package\.json$/,
};

/**
 * Compiles `project` (a folder with a tsconfig.json) and what it refers to, unless nothing has changed since the last
 * build that went well. The compiler's words go to standard error.
 */
export function build(root, project) {
  const kept = stampFile(root, project);
  const stamp = filesStamp(root, SOURCES);
  if (isMadeFrom(stamp, kept) && existsSync(join(root, 'packages/cli/dist/main.js'))) return;
  if (compile(root, project, [process.stderr.fd, process.stderr.fd]) !== 0) {
    throw new Error('The sources do not compile: see the lines above.');
  }
  keepStamp(stamp, kept);
}

/** Runs the compiler; its exit code. */
export function compile(root, project, [stdout, stderr] = ['inherit', 'inherit']) {
  const tsc = join(root, 'node_modules/typescript/bin/tsc');
  return (
    spawnSync(process.execPath, [tsc, '-b', project], { cwd: root, stdio: ['ignore', stdout, stderr] }).status ?? 1
  );
}
