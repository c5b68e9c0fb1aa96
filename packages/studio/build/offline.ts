import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Plugin, transformWithOxc } from 'vite';
import { POLICY } from './policy.ts';

const SOURCE = fileURLToPath(new URL('../src/offline/service-worker.ts', import.meta.url));
const NAME = 'service-worker.js';
const START = 'index.html';

/**
 * Writes the service worker beside the built files, with the list of all of them, and the policy into the page. The worker's version is the
 * hash of that list: it changes exactly when a file does.
 */
export function offline(): Plugin {
  return {
    name: 'okuri-offline',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY },
        // Before anything that it has to hold for.
        injectTo: 'head-prepend',
      },
    ],
    async writeBundle({ dir }) {
      if (dir === undefined) throw new Error('the built files have no folder');
      await writeServiceWorker(dir);
    },
  };
}

/** Writes the service worker for the files that stand in a folder. */
export async function writeServiceWorker(dir: string): Promise<void> {
  const files = listed(dir);
  const version = createHash('sha256').update(JSON.stringify(files)).digest('hex').slice(0, 16);
  const { code } = await transformWithOxc(readFileSync(SOURCE, 'utf8'), SOURCE);
  const known = Object.entries({ FILES: files, VERSION: version, POLICY });
  const lines = known.map(([name, value]) => `const ${name} = ${JSON.stringify(value)};`);
  writeFileSync(join(dir, NAME), `${lines.join('\n')}\n${code}`);
}

/** All built files with the hash of their bytes as Subresource Integrity writes it, in the order of their names. The start page is the folder itself. */
function listed(dir: string): [path: string, integrity: string][] {
  return readdirSync(dir, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(dir.length + 1))
    .filter((path) => path !== NAME)
    .sort()
    .map((path) => {
      const hash = createHash('sha256')
        .update(readFileSync(join(dir, path)))
        .digest('base64');
      return [path === START ? './' : path.split(sep).join('/'), `sha256-${hash}`];
    });
}
