import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Compiles `project` (a folder with a tsconfig.json) and what it refers to, unless nothing has changed since the last
 * build that went well. The compiler's words go to standard error.
 */
export function build(root, project) {
  const stampFile = join(root, 'node_modules/.cache/okuri', `${project.replaceAll(/\W+/g, '-')}.built`);
  const stamp = sourcesStamp(root);
  if (
    existsSync(stampFile) &&
    readFileSync(stampFile, 'utf8') === stamp &&
    existsSync(join(root, 'packages/cli/dist/main.js'))
  ) {
    return;
  }
  if (compile(root, project, [process.stderr.fd, process.stderr.fd]) !== 0) {
    throw new Error('The sources do not compile: see the lines above.');
  }
  mkdirSync(join(root, 'node_modules/.cache/okuri'), { recursive: true });
  writeFileSync(stampFile, stamp);
}

/** Runs the compiler; its exit code. */
export function compile(root, project, [stdout, stderr] = ['inherit', 'inherit']) {
  const tsc = join(root, 'node_modules/typescript/bin/tsc');
  return (
    spawnSync(process.execPath, [tsc, '-b', project], { cwd: root, stdio: ['ignore', stdout, stderr] }).status ?? 1
  );
}

/** Names, sizes and times of everything the compiler reads: cheap to gather, and notices files that went away. */
function sourcesStamp(root) {
  const lines = [];
  const note = (file) => {
    const { size, mtimeMs } = statSync(join(root, file));
    lines.push(`${file} ${size} ${mtimeMs}`);
  };
  const walk = (folder) => {
    for (const entry of readdirSync(join(root, folder), { withFileTypes: true })) {
      const path = `${folder}/${entry.name}`;
      if (entry.isDirectory()) {
        if (entry.name !== 'node_modules' && entry.name !== 'dist') walk(path);
      } else if (/\.ts$|^tsconfig.*\.json$|^package\.json$/.test(entry.name) && !entry.name.endsWith('.test.ts'))
        note(path);
    }
  };
  for (const file of ['pnpm-lock.yaml', 'tsconfig.base.json', 'tsconfig.json']) note(file);
  walk('packages');
  return lines.sort().join('\n');
}
