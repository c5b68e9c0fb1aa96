import { type Box, type Frame, InputError, type Motif, type Notice } from '@okuri/core';
import type { INode } from 'svgson';
import { MAX_SIDE_MM, MIN_SIDE_MM } from './caps.js';
import { Cascade } from './cascade.js';
import { finishShapes } from './finish.js';
import { FontBook, type FontFile } from './fonts.js';
import { type FoundFrame, findFrame } from './frame.js';
import { MM_PER_PX } from './length.js';
import { NoticeList, type RawNotice } from './notices.js';
import type { Place, Sink, SvgReading } from './reading.js';
import { readRoot } from './root.js';
import { INITIAL_STYLE } from './style.js';
import { indexTree } from './tree-index.js';
import { visit } from './walk.js';
import { readSvgTree } from './xml.js';

export interface ReadOptions {
  /** The unit's width, mm: everything is scaled evenly to it. Null or absent: as the drawing states it. */
  readonly widthMm?: number | null;
  /** How closed unfilled lines under 0.5 mm are read: the `area` inside them (default), or the `line` itself. */
  readonly hairlines?: 'area' | 'line';
  /** Fonts for texts, found by family name. Default: none. */
  readonly fonts?: readonly FontFile[];
}

/**
 * Reads an SVG drawing as a motif in mm, the upper left of the box that repeats at the origin. Fills and strokes stay
 * symbolic; what can't be read as drawn is in the notices.
 *
 * Throws `InputError`, one sentence for a person, where the drawing can't be used: XML or sizes that are broken, loops,
 * coordinates that are not finite, more than the caps allow, no inked shape, or sides outside 5 to 3000 mm.
 */
export function readSvg(source: string | Uint8Array, options: ReadOptions = {}): Motif {
  return readTree(readSvgTree(source), options);
}

/** As `readSvg`, from a tree that was read before. The tree is not changed. */
export function readTree(root: INode, options: ReadOptions = {}): Motif {
  const { widthMm = null, hairlines = 'area', fonts = [] } = options;
  if (widthMm !== null && !(Number.isFinite(widthMm) && widthMm > 0)) {
    throw new InputError(`The width asked for, ${widthMm} mm, is no positive length.`);
  }
  const tree = indexTree(root);
  const cascade = new Cascade(tree.sheets, tree);
  const notices = new NoticeList();
  for (const { code, message } of cascade.notices) notices.add({ code, severity: 'look', message, element: '<style>' });
  const sink: Sink = { shapes: [], rectangles: [], repeats: [] };
  const reading: SvgReading = {
    byId: tree.byId,
    labels: tree.labels,
    cascade,
    parentOf: tree.parentOf,
    clips: new Map(),
    fonts: new FontBook(fonts),
    notices,
    counters: { segments: 0, visits: 0, copies: 0 },
    sink,
    mode: 'paint',
  };
  const rootView = readRoot(root, cascade.declared(root));
  const start: Place = {
    ctm: [1, 0, 0, 1, 0, 0],
    style: INITIAL_STYLE,
    view: rootView.view,
    clips: [],
    open: [],
    depth: 0,
    hidden: false,
  };
  visit(reading, root, start, { kind: 'page', matrix: rootView.matrix, view: rootView.view });
  if (sink.shapes.length === 0) throw nothingInked(notices.list());

  const found = findFrame(sink, rootView.page);
  const wPx = found.box.x1 - found.box.x0;
  const hPx = found.box.y1 - found.box.y0;
  const mmPerPx = widthMm === null ? MM_PER_PX : widthMm / wPx;
  const assumed = !rootView.physical && widthMm === null;
  const frame: Frame = {
    widthMm: widthMm ?? tidy(wPx * mmPerPx),
    heightMm: tidy(hPx * mmPerPx),
    from: found.from,
    assumedPpi: assumed ? 96 : null,
  };
  checkSides(frame, widthMm !== null);
  const artwork = sink.shapes.filter((shape) => shape !== found.drawnBy);
  const finished = finishShapes(artwork, found.box, { mmPerPx, hairlines });
  if (finished.shapes.length === 0) throw nothingInked([...notices.list(), ...finished.notices]);

  if (assumed) notices.add(sizeNotice(frame));
  for (const notice of [...found.notices, ...finished.notices]) notices.add(notice);
  return { frame, shapes: finished.shapes, notices: notices.list().map((notice) => inMm(notice, found, mmPerPx)) };
}

/** Takes off the rounding of unit conversions (80.00000000000001 mm): to a picometre. */
function tidy(mm: number): number {
  return Math.abs(mm) < 1e6 ? Math.round(mm * 1e9) / 1e9 : mm;
}

function nothingInked(notices: readonly RawNotice[]): InputError {
  const first =
    notices.find((notice) => notice.code.endsWith('left-out') || notice.code === 'text-needs-font') ?? notices[0];
  const why = first === undefined ? '' : ` (${first.message.replace(/\.$/, '')})`;
  return new InputError(`The drawing holds no inked shape, so there is nothing to cut${why}.`);
}

const SOURCE_IN_WORDS: Readonly<Record<Frame['from'], string>> = {
  shape: 'from the shape named "repeat"',
  rectangle: 'from the rectangle around the artwork',
  page: 'from the page',
  artwork: "from the artwork's box",
};

function checkSides(frame: Frame, asked: boolean): void {
  const { widthMm, heightMm } = frame;
  const fits = [widthMm, heightMm].every((side) => side >= MIN_SIDE_MM && side <= MAX_SIDE_MM);
  if (fits) return;
  throw new InputError(
    `The unit is ${shown(widthMm)} × ${shown(heightMm)} mm (${SOURCE_IN_WORDS[frame.from]}); its sides must be ${MIN_SIDE_MM} mm ` +
      `to ${MAX_SIDE_MM} mm: ${asked ? 'choose another width' : 'set its width'}.`,
  );
}

function sizeNotice(frame: Frame): RawNotice {
  const other = 96 / 72;
  const message =
    `The drawing states no physical size: read at 96 pixels an inch its unit is ${shown(frame.widthMm)} × ` +
    `${shown(frame.heightMm)} mm; at 72 it would be ${shown(frame.widthMm * other)} × ${shown(frame.heightMm * other)} mm.`;
  return { code: 'size-assumed', severity: 'look', message, element: '<svg>' };
}

function shown(mm: number): string {
  return String(Number(mm.toPrecision(Math.abs(mm) >= 1000 ? 6 : 4)));
}

function inMm(notice: RawNotice, found: FoundFrame, k: number): Notice {
  const { boxPx, ...plain } = notice;
  if (boxPx === undefined) return plain;
  const { x0, y0 } = found.box;
  const boxMm: Box = {
    x0: (boxPx.x0 - x0) * k,
    y0: (boxPx.y0 - y0) * k,
    x1: (boxPx.x1 - x0) * k,
    y1: (boxPx.y1 - y0) * k,
  };
  return { ...plain, boxMm };
}
