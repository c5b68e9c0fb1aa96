import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { FaceMetrics } from '@okuri/core';
import { fontMetrics } from '@okuri/writer/fonts';
import subsetFont from 'subset-font';
import type { Plugin } from 'vite';

/** The faces whose widths and files the studio needs. */
const FILES = { regular: 'DejaVuSansCondensed.ttf', bold: 'DejaVuSansCondensed-Bold.ttf' } as const;

/** What is written on drawings: ASCII, Latin-1 and the signs of the trade's drawings. All else is shown in the reader's own font. */
const SCREEN_CHARACTERS = [
  ...Array.from({ length: 0x17f - 0x20 }, (_, k) => String.fromCodePoint(0x20 + k)),
  ...'–—‘’“”•…′″←↑→↓↔↕−×÷≈≤≥±°½¼¾⅛⅜⅝⅞✓✗▲▼◆●○□■',
].join('');

/**
 * The bundled font for the browser: `virtual:okuri-font-metrics` (the widths, so that labels are placed as the command places them) and
 * `virtual:okuri-screen-font` (addresses of two small files for the screen, and of the whole files that a PDF is written with).
 */
export function bundledFont(): Plugin {
  const files = new Map<string, Uint8Array>();
  return {
    name: 'okuri-bundled-font',
    resolveId: (id) => (id.startsWith('virtual:okuri-') ? `\0${id}` : null),
    async load(id) {
      if (id === '\0virtual:okuri-font-metrics') {
        const { regular, bold } = fontMetrics();
        return `export const regular = ${faceText(regular)};\nexport const bold = ${faceText(bold)};\n`;
      }
      if (id !== '\0virtual:okuri-screen-font') return null;
      const lines: string[] = [];
      for (const [face, file] of Object.entries(FILES)) {
        const whole = readFileSync(createRequire(import.meta.url).resolve(`dejavu-fonts-ttf/ttf/${file}`));
        const small = await subsetFont(whole, SCREEN_CHARACTERS, { targetFormat: 'woff2' });
        lines.push(`export const ${face}Screen = ${address(this, `${face}.woff2`, small)};`);
        lines.push(`export const ${face}Whole = ${address(this, file, whole)};`);
      }
      return `${lines.join('\n')}\n`;
    },
    configureServer(server) {
      server.middlewares.use((request, response, next) => {
        const name = request.url?.split('?')[0].split('/@okuri-font/')[1];
        const bytes = name === undefined ? undefined : files.get(name);
        if (bytes === undefined) return next();
        response.end(bytes);
      });
    },
  };

  /** A file of its own beside the scripts; while developing it is served from memory. */
  function address(
    context: { emitFile(file: { type: 'asset'; name: string; source: Uint8Array }): string; meta: unknown },
    name: string,
    source: Uint8Array,
  ): string {
    files.set(name, source);
    try {
      return `import.meta.ROLLUP_FILE_URL_${context.emitFile({ type: 'asset', name, source })}`;
    } catch {
      return JSON.stringify(`/@okuri-font/${name}`);
    }
  }
}

/** Advances as runs: code points ascend, and many neighbours are equally wide. */
function faceText({ advances, ...rest }: FaceMetrics): string {
  const points = [...advances.keys()].sort((a, b) => a - b);
  const flat: number[] = [];
  let before = 0;
  for (const point of points) {
    flat.push(point - before, advances.get(point) as number);
    before = point;
  }
  return JSON.stringify({ ...rest, flat });
}
