import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/** The bundled font is DejaVu Sans Condensed (package dejavu-fonts-ttf, Bitstream Vera licence). */
const FILES = { regular: 'DejaVuSansCondensed.ttf', bold: 'DejaVuSansCondensed-Bold.ttf' } as const;

/** The TrueType file of a face, from the package on disk. A browser has `face-files-browser.ts` in its place. */
export function faceFile(name: 'regular' | 'bold'): Uint8Array {
  return readFileSync(createRequire(import.meta.url).resolve(`dejavu-fonts-ttf/ttf/${FILES[name]}`));
}
