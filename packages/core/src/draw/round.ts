import type { Contour, Matrix } from '../geometry/types.js';
import type { Drawing, Item, LineStyle } from './types.js';

/** Parts of a mm that coordinates keep: 0.1 µm, far below what any tool can follow. */
const PARTS_PER_MM = 1e4;

/** Parts of 1 that scales and turns keep: at 5 m, the longest page, an error of 5e-6 mm. */
const SCALE_PARTS = 1e9;

/**
 * The drawing with all coordinates, sizes and widths rounded to 0.1 µm: engines differ in the last digits of their Math functions, and no
 * file shall. Scales of placed copies keep nine digits. Numbers that are not finite stay, for the writers to refuse.
 */
export function roundDrawing(drawing: Drawing): Drawing {
  const groups = Object.entries(drawing.groups).map(([name, items]) => [name, items.map(roundItem)] as const);
  return {
    ...drawing,
    groups: Object.fromEntries(groups),
    pages: drawing.pages.map((page) => ({
      ...page,
      widthMm: round(page.widthMm),
      heightMm: round(page.heightMm),
      items: page.items.map(roundItem),
    })),
  };
}

function roundItem(item: Item): Item {
  switch (item.kind) {
    case 'path':
      return {
        ...item,
        contours: item.contours.map(roundContour),
        ...(item.line && { line: roundLine(item.line) }),
      };
    case 'text':
      return {
        ...item,
        x: round(item.x),
        y: round(item.y),
        sizeMm: round(item.sizeMm),
        ...(item.turn !== undefined && { turn: roundTo(item.turn, SCALE_PARTS) }),
      };
    case 'clip':
      return { ...item, contours: item.contours.map(roundContour), items: item.items.map(roundItem) };
    case 'layer':
      return { ...item, items: item.items.map(roundItem) };
    case 'place':
      return {
        ...item,
        at: item.at.map(roundMatrix),
        ...(item.tile && {
          tile: {
            x0: round(item.tile.x0),
            y0: round(item.tile.y0),
            x1: round(item.tile.x1),
            y1: round(item.tile.y1),
          },
        }),
      };
  }
}

function roundContour({ closed, coords }: Contour): Contour {
  return { closed, coords: coords.map(round) };
}

function roundLine(line: LineStyle): LineStyle {
  return { ...line, widthMm: round(line.widthMm), ...(line.dashMm && { dashMm: line.dashMm.map(round) }) };
}

function roundMatrix([a, b, c, d, e, f]: Matrix): Matrix {
  return [
    roundTo(a, SCALE_PARTS),
    roundTo(b, SCALE_PARTS),
    roundTo(c, SCALE_PARTS),
    roundTo(d, SCALE_PARTS),
    round(e),
    round(f),
  ];
}

function round(mm: number): number {
  return roundTo(mm, PARTS_PER_MM);
}

/** Adding zero turns -0 into 0, which writers would tell apart. */
function roundTo(value: number, parts: number): number {
  return Math.round(value * parts) / parts + 0;
}
