import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** Folders that are made, not written. */
const MADE = ['node_modules', 'dist', 'dist-types'];

/**
 * Names, sizes and times of files: cheap to gather, and notices files that went away. `folders` are walked for names that fit
 * `pattern`; tests are left out.
 */
export function filesStamp(root, { files, folders, pattern }) {
  const lines = [];
  const note = (file) => {
    const { size, mtimeMs } = statSync(join(root, file));
    lines.push(`${file} ${size} ${mtimeMs}`);
  };
  const walk = (folder) => {
    for (const entry of readdirSync(join(root, folder), { withFileTypes: true })) {
      const path = `${folder}/${entry.name}`;
      if (entry.isDirectory()) {
        if (!MADE.includes(entry.name)) walk(path);
      } else if (pattern.test(entry.name) && !/\.test\.tsx?$/.test(entry.name)) note(path);
    }
  };
  for (const file of files) note(file);
  for (const folder of folders) walk(folder);
  return lines.sort().join('\n');
}

/** Where the stamp of something made is kept. */
export function stampFile(root, name) {
  return join(root, 'node_modules/.cache/okuri', `${name.replaceAll(/\W+/g, '-')}.built`);
}

/** Whether something was made from just this. */
export function isMadeFrom(stamp, file) {
  return existsSync(file) && readFileSync(file, 'utf8') === stamp;
}

export function keepStamp(stamp, file) {
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, stamp);
}
