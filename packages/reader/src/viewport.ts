import type { Box, Matrix } from '@okuri/core';
import { IDENTITY } from '@okuri/core/inside';
import { parseNumbers } from './length.js';

/** How a view box is laid into its viewport: shares of the spare room on the left and top, and which scale is taken. */
export interface AspectRatio {
  readonly mode: 'none' | 'meet' | 'slice';
  readonly alignX: number;
  readonly alignY: number;
}

const SHARE: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };

/** Reads `preserveAspectRatio` (SVG 2, 8.7). What is not understood counts as the default, `xMidYMid meet`. */
export function parseAspectRatio(text: string | undefined): AspectRatio {
  const words = (text ?? '').trim().split(/\s+/);
  if (words[0] === 'defer') words.shift();
  if (words[0] === 'none') return { mode: 'none', alignX: 0, alignY: 0 };
  const found = /^x(Min|Mid|Max)Y(Min|Mid|Max)$/.exec(words[0]);
  const mode = found !== null && words[1] === 'slice' ? 'slice' : 'meet';
  return { mode, alignX: found === null ? 0.5 : SHARE[found[1]], alignY: found === null ? 0.5 : SHARE[found[2]] };
}

/** Reads a `viewBox`: null where there is none; `'invalid'` where it is not four numbers or has no area. */
export function parseViewBox(text: string | undefined): Box | null | 'invalid' {
  if (text === undefined) return null;
  const v = parseNumbers(text);
  if (v?.length !== 4 || v[2] <= 0 || v[3] <= 0) return 'invalid';
  return { x0: v[0], y0: v[1], x1: v[0] + v[2], y1: v[1] + v[3] };
}

/** The map from the view box to a viewport of the given size with its upper left at the origin (SVG 2, 8.2). */
export function viewBoxMatrix(box: Box | null, width: number, height: number, ratio: AspectRatio): Matrix {
  if (box === null) return IDENTITY;
  const w = box.x1 - box.x0;
  const h = box.y1 - box.y0;
  let sx = width / w;
  let sy = height / h;
  if (ratio.mode !== 'none') {
    sx = ratio.mode === 'meet' ? Math.min(sx, sy) : Math.max(sx, sy);
    sy = sx;
  }
  const left = (width - w * sx) * ratio.alignX;
  const top = (height - h * sy) * ratio.alignY;
  return [sx, 0, 0, sy, left - box.x0 * sx, top - box.y0 * sy];
}
