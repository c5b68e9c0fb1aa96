import { readFileSync } from 'node:fs';
import type { Point } from '@okuri/core';
import type { PaperDrawing } from './paper-scan.js';
import type { Wear } from './paper-wear.js';
import { generator } from './proof-print.js';

/** Dots round a drawing are this far across, mm. */
export const DOT_MM = 3;

/** Construction lines of a hard pencil: thin, and grey at their darkest. */
function pencilled(paths: string): string {
  return `<g fill="none" stroke="#000" stroke-width="0.35" stroke-linecap="round">${paths}</g>`;
}

/** Middle lines, diagonals, a grid, circles with crossing strokes, and a bit of hatching, as a drawing is set out with. */
export function settingOut(widthMm: number, heightMm: number, { seed = 5, gridMm = 20 } = {}): string {
  const random = generator(seed);
  const lines: string[] = [];
  const tremble = (): number => (random() - 0.5) * 0.4;
  const line = (x0: number, y0: number, x1: number, y1: number, opacity = 0.8, width = 0.35): void => {
    lines.push(
      `<path d="M${x0 + tremble()} ${y0 + tremble()}Q${(x0 + x1) / 2 + tremble()} ${(y0 + y1) / 2 + tremble()} ${x1 + tremble()} ${y1 + tremble()}" stroke-opacity="${opacity}" stroke-width="${width}"/>`,
    );
  };
  for (let x = gridMm; x < widthMm; x += gridMm) line(x, 0, x, heightMm, 0.55);
  for (let y = gridMm; y < heightMm; y += gridMm) line(0, y, widthMm, y, 0.55);
  line(0, 0, widthMm, heightMm);
  line(widthMm, 0, 0, heightMm);
  for (let k = 0; k < (widthMm * heightMm) / 1500; k++) {
    const [x, y, r] = [random() * widthMm, random() * heightMm, 4 + 14 * random()];
    lines.push(`<circle cx="${x}" cy="${y}" r="${r}" stroke-opacity="${0.5 + 0.5 * random()}"/>`);
    // Looked for and found twice: a darker, wider stroke.
    line(x - r, y - r / 2, x + r, y + r / 2, 1, 0.5);
  }
  const [hx, hy] = [0.72 * widthMm, 0.3 * heightMm];
  for (let k = 0; k < 14; k++) line(hx + k * 0.9, hy, hx + 8 + k * 0.9, hy + 9, 0.75);
  return pencilled(lines.join(''));
}

/** A sheet that was folded in four and carried about. */
export function foldedInFour(widthMm: number, heightMm: number): Wear {
  const [mx, my] = [widthMm * 0.49, heightMm * 0.515];
  return {
    folds: [
      { from: { x: mx, y: 0 }, to: { x: mx + 0.6, y: heightMm }, depth: 0.28 },
      { from: { x: 0, y: my }, to: { x: widthMm, y: my - 0.5 }, depth: 0.22, ridge: true },
    ],
    smudges: [
      { at: { x: widthMm * 0.3, y: heightMm * 0.25 }, rx: widthMm * 0.12, ry: heightMm * 0.06, depth: 0.12 },
      { at: { x: widthMm * 0.65, y: heightMm * 0.7 }, rx: widthMm * 0.08, ry: heightMm * 0.1, depth: 0.16 },
    ],
    unevenLight: 0.35,
    thumb: { at: { x: widthMm * 0.99, y: heightMm * 0.62 }, radiusMm: Math.min(28, widthMm / 6), depth: 0.5 },
    dust: 40,
  };
}

/** The demo's motif on a sheet with a margin, with a dot at every corner of its unit. */
export function demoOnPaper(marginMm = 15): PaperDrawing & { readonly unit: Point } {
  const svg = readFileSync(new URL('../../fixtures/demo/motif.svg', import.meta.url), 'utf8');
  const inner = /<g [\s\S]*<\/g>/.exec(svg)![0];
  return onPaper(inner, 300, 420, marginMm);
}

/** Leaves that run over the sides of a unit of 120 by 90 mm, a wave that never ends, and a drop: as in `fixtures/motifs/straight.svg`, each in one piece. */
const STRAIGHT = [
  'M28 30C20 36 8 40 0 38C-8 36 -18 36 -26 31C-19 27 -8 24 0 22C8 20 20 24 28 30Z',
  'M58 28C64 20 68 8 66 0C64 -8 64 -12 59 -18C54 -12 52 -8 50 0C48 8 52 20 58 28Z',
  'M72 48C76 38 86 34 90 20C98 34 92 46 72 48Z',
  'M24 86C16 86 14 78 24 70C34 78 32 86 24 86ZM24 82C27 82 27 78 24 76C21 78 21 82 24 82Z',
  'M100 80A4 4 0 1 1 92 80A4 4 0 1 1 100 80Z',
];
const WAVE =
  'M-120 60C-100 52 -80 52 -60 60C-40 68 -20 68 0 60C20 52 40 52 60 60C80 68 100 68 120 60C140 52 160 52 180 60V65C160 57 140 57 120 65C100 73 80 73 60 65C40 57 20 57 0 65C-20 73 -40 73 -60 65C-80 57 -100 57 -120 65Z';

/** A straight unit with its neighbours drawn around it as far as the sheet goes, and dots at its corners. */
export function straightOnPaper(marginMm = 12): PaperDrawing & { readonly unit: Point } {
  const path = (d: string, x: number, y: number): string =>
    `<path fill-rule="evenodd" transform="translate(${x} ${y})" d="${d}"/>`;
  const copies = [-90, 0, 90].flatMap((y) => [
    path(WAVE, 0, y),
    ...[-120, 0, 120].flatMap((x) => STRAIGHT.map((d) => path(d, x, y))),
  ]);
  return onPaper(copies.join(''), 120, 90, marginMm);
}

function onPaper(inner: string, widthMm: number, heightMm: number, marginMm: number) {
  const corners = [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ];
  const dots = corners.map(([x, y]) => `<circle cx="${x}" cy="${y}" r="${DOT_MM / 2}"/>`).join('');
  const [w, h] = [widthMm + 2 * marginMm, heightMm + 2 * marginMm];
  const at = `translate(${marginMm} ${marginMm})`;
  return {
    widthMm: w,
    heightMm: h,
    ink: `<g transform="${at}">${inner}${dots}</g>`,
    pencil: settingOut(w, h),
    back: `<path d="M20 40C80 20 ${w - 90} 90 ${w - 30} 60" fill="none" stroke="#000" stroke-width="7"/>`,
    unit: { x: marginMm, y: marginMm },
  };
}

/** Even lines of these widths, mm. */
export const PEN_WIDTHS_MM = [0.3, 0.4, 0.5, 0.6, 0.8] as const;

/**
 * What a pen and a brush do, on 120 by 90 mm: even lines straight, bent and slanting, signs like letters of no script, a comb with sharp tips, broad fills
 * with narrow gaps.
 */
export function penAndBrush(): PaperDrawing {
  const lines = PEN_WIDTHS_MM.map((w, k) => {
    const x = 8 + 5 * k;
    return `<path d="M${x} 8V28C${x} 34 ${x + 20} 30 ${x + 22} 38L${x + 30} 46" fill="none" stroke="#000" stroke-width="${w}"/>`;
  });
  return {
    widthMm: 120,
    heightMm: 90,
    ink: lines.join('') + signs(62, 8) + comb(64, 34) + fills(8, 54),
    pencil: settingOut(120, 90, { seed: 11, gridMm: 15 }),
    back: '<path d="M10 70C40 50 80 88 112 66" fill="none" stroke="#000" stroke-width="5"/>',
  };
}

/** Signs of hooks, bars and bowls, 9 mm high, in pen strokes that end square, and one row of 4 mm. */
function signs(x: number, y: number): string {
  const strokes = [
    'M0 0V9M0 4.5C3 3 5 4.5 5 9',
    'M0 1C5 -1 6 3 3 4.5C6 6 5 10 0 8',
    'M5 1C-1 -1 -1 10 5 8M0 4.5H4',
    'M0 9L2.5 0L5 9M1 6H4',
    'M5 0H0V4H3C6 4 6 9 2.5 9H0',
    'M0 0V6C0 10 5 10 5 6V0',
  ];
  const row = (size: number, w: number): string =>
    strokes
      .map(
        (d, k) => `<path transform="translate(${8 * size * k} 0) scale(${size})" d="${d}" stroke-width="${w / size}"/>`,
      )
      .join('');
  return `<g fill="none" stroke="#000" transform="translate(${x} ${y})">${row(1, 1.1)}<g transform="translate(0 15)">${row(0.45, 0.5)}</g></g>`;
}

/** Eleven thorns of 12 mm and 30° to 4°, on a bar. */
function comb(x: number, y: number): string {
  let d = `M0 0H50V2`;
  for (let k = 10; k >= 0; k--) {
    const half = 2.2 - 0.19 * k;
    const middle = 2.5 + 4.5 * k;
    d += `L${middle + half} 2L${middle} 14L${middle - half} 2`;
  }
  return `<path transform="translate(${x} ${y})" d="${d}L0 2Z"/>`;
}

/** Broad fills with gaps of 0.4 to 1.6 mm between them, and a hole with a stem of paper. */
function fills(x: number, y: number): string {
  const parts: string[] = [];
  let at = 0;
  for (const gap of [0.4, 0.6, 0.8, 1.2, 1.6]) {
    parts.push(
      `<path d="M${at} 0C${at + 3} 6 ${at + 3} 16 ${at} 24H${at + 12}C${at + 15} 16 ${at + 15} 6 ${at + 12} 0Z"/>`,
    );
    at += 12 + gap;
  }
  parts.push(
    '<path fill-rule="evenodd" d="M74 2A13 11 0 1 1 74 24A13 11 0 1 1 74 2ZM72 8C66 10 66 16 72 18C80 20 82 6 72 8Z"/>',
  );
  return `<g transform="translate(${x} ${y})">${parts.join('')}</g>`;
}

/** Strokes of a dry brush, from full to broken: nobody can say where their edge is. */
export function dryBrush(): PaperDrawing {
  const random = generator(3);
  const hairs: string[] = [];
  for (let stroke = 0; stroke < 5; stroke++) {
    const y = 8 + 12 * stroke;
    for (let hair = 0; hair < 46; hair++) {
      const dy = (hair / 45) * 8;
      const end = 30 + 70 * (1 - (stroke + 1) / 6) + 35 * random();
      const gaps =
        stroke === 0
          ? ''
          : ` stroke-dasharray="${(6 + 12 * random()).toFixed(2)} ${(0.4 * stroke * random()).toFixed(2)}"`;
      const tone = 1 - 0.15 * stroke * random();
      hairs.push(
        `<path d="M8 ${y + dy}C30 ${y + dy + 2} 60 ${y + dy - 3} ${8 + end} ${y + dy + random()}" stroke-width="${0.16 + 0.12 * random()}" stroke-opacity="${tone.toFixed(2)}"${gaps}/>`,
      );
    }
  }
  return { widthMm: 120, heightMm: 72, ink: `<g fill="none" stroke="#000">${hairs.join('')}</g>` };
}
