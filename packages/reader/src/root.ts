import { type Box, InputError, type Matrix } from '@okuri/core';
import type { INode } from 'svgson';
import type { Declared } from './cascade.js';
import { isPhysical, parseLength, splitLength } from './length.js';
import { parseAspectRatio, parseViewBox, viewBoxMatrix } from './viewport.js';

/** The outermost viewport, in pixels at 96 an inch. */
export interface RootView {
  /** Null where the drawing states neither a size nor a view box. */
  readonly page: Box | null;
  readonly matrix: Matrix;
  readonly view: { readonly width: number; readonly height: number };
  /** The size is stated in a physical unit. */
  readonly physical: boolean;
}

/** What a viewport counts as where nothing is stated (CSS 2.1, 10.3.2). */
const DEFAULT_VIEW = { width: 300, height: 150 };

/**
 * The size and the coordinate system of the outermost `svg`. Where one side is missing, it follows from the view box; a
 * percentage counts as missing.
 *
 * Throws `InputError` for sizes of nothing, negative or unreadable ones, and view boxes without area.
 */
export function readRoot(root: INode, declared: Declared): RootView {
  const box = parseViewBox(root.attributes.viewBox);
  if (box === 'invalid') {
    throw new InputError(
      `The viewBox "${root.attributes.viewBox.slice(0, 60)}" of the drawing is not four numbers with a positive width and height: ` +
        'set the page size again in the drawing program.',
    );
  }
  const width = readSide(declared, 'width');
  const height = readSide(declared, 'height');
  const physical = width?.physical === true || height?.physical === true;
  const ratio = box === null ? null : (box.y1 - box.y0) / (box.x1 - box.x0);
  let w = width?.px ?? null;
  let h = height?.px ?? null;
  if (box !== null && ratio !== null) {
    if (w === null && h === null) w = box.x1 - box.x0;
    w ??= (h as number) / ratio;
    h ??= w * ratio;
  }
  if (w === null || h === null) {
    return {
      page: null,
      matrix: [1, 0, 0, 1, 0, 0],
      view: { width: w ?? DEFAULT_VIEW.width, height: h ?? DEFAULT_VIEW.height },
      physical,
    };
  }
  const matrix = viewBoxMatrix(box, w, h, parseAspectRatio(root.attributes.preserveAspectRatio));
  const view = box === null ? { width: w, height: h } : { width: box.x1 - box.x0, height: box.y1 - box.y0 };
  return { page: { x0: 0, y0: 0, x1: w, y1: h }, matrix, view, physical };
}

function readSide(declared: Declared, name: 'width' | 'height'): { px: number; physical: boolean } | null {
  const text = declared.get(name);
  if (text === undefined || text === '' || text.toLowerCase() === 'auto') return null;
  const parts = splitLength(text);
  if (parts?.unit === '%') return null;
  const px = parseLength(text, { percent: null, fontSize: 16 });
  if (parts === null || px === null || !(px > 0)) {
    throw new InputError(
      `The ${name} "${text.slice(0, 40)}" of the drawing is no positive length: set it, for example to "250mm".`,
    );
  }
  return { px, physical: isPhysical(parts.unit) };
}
