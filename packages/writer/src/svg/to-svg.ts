import type { Drawing, Item, LineStyle, Matrix, PathItem, PlaceItem, TextItem } from '@okuri/core';
import type { INode } from 'svgson';
import { MITER_LIMIT } from '../shared/bounds.js';
import { checkedColour } from '../shared/colours.js';
import { groupItems, groupOrder } from '../shared/groups.js';
import { pageOf } from '../shared/lengths.js';
import { type NumberWriter, numberWriter } from '../shared/numbers.js';
import { textPathData } from '../text/outline.js';
import { pathData } from './path-data.js';
import { type Attributes, element, plainText, textNodes, writeTree } from './tree.js';

export interface SvgOptions {
  /** Decimals of a millimetre, 0 to 6. Default 4 (0.1 µm). */
  readonly digits?: number;
}

/** What the picture writers ask for instead of a page at true size: a part of the page, as so many pixels. */
export interface SvgWindow {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

const DEFAULTS = { digits: 4 } as const;

/** Windows are placed finer than coordinates, so that neighbouring windows share their pixel grid. */
const WINDOW_DIGITS = 6;

/**
 * One page of a drawing as an SVG file at true size: `width` and `height` in mm, the view box in mm. Layers are `<g>` with
 * `id`, `data-label` and `aria-label`; groups stand once in `<defs>` and are placed by `<use>`; texts are outlines of the bundled
 * font, their plain text kept in `aria-label`. Throws an `InputError` for a page or group that does not exist, for colours
 * other than `#rrggbb`, and for numbers that are not finite.
 */
export function toSvg(drawing: Drawing, pageIndex: number, options: SvgOptions = {}): string {
  const { digits } = { ...DEFAULTS, ...options };
  const page = pageOf(drawing, pageIndex);
  const num = numberWriter(digits);
  const [width, height] = [num(page.widthMm), num(page.heightMm)];
  const title = element('title', {}, textNodes(page.name === '' ? drawing.title : `${drawing.title}: ${page.name}`));
  return svgFile(drawing, page.items, num, [title], {
    width: `${width}mm`,
    height: `${height}mm`,
    viewBox: `0 0 ${width} ${height}`,
  });
}

/** Items in the frame of a page, seen through a window, as an SVG file of so many pixels. */
export function itemsToSvg(drawing: Drawing, items: readonly Item[], window: SvgWindow): string {
  const fine = numberWriter(WINDOW_DIGITS);
  return svgFile(drawing, items, numberWriter(DEFAULTS.digits), [], {
    width: fine(window.widthPx),
    height: fine(window.heightPx),
    viewBox: [window.xMm, window.yMm, window.widthMm, window.heightMm].map(fine).join(' '),
    preserveAspectRatio: 'none',
  });
}

function svgFile(
  drawing: Drawing,
  items: readonly Item[],
  num: NumberWriter,
  head: readonly INode[],
  size: Attributes,
): string {
  const names = idNames(drawing, items);
  const context: Context = { num, names, clips: new Map(), clipNodes: [] };
  const groups = groupOrder(drawing, items).map((name) =>
    element('g', { id: names.ofGroup(name) }, itemNodes(groupItems(drawing, name), context)),
  );
  const body = itemNodes(items, context);
  const defs = [...context.clipNodes, ...groups];
  return writeTree(
    element(
      'svg',
      { xmlns: 'http://www.w3.org/2000/svg', 'xmlns:xlink': 'http://www.w3.org/1999/xlink', version: '1.1', ...size },
      [...head, ...(defs.length > 0 ? [element('defs', {}, defs)] : []), ...body],
    ),
  );
}

interface Context {
  readonly num: NumberWriter;
  readonly names: Names;
  /** Clip path data and rule → id. */
  readonly clips: Map<string, string>;
  readonly clipNodes: INode[];
}

function itemNodes(items: readonly Item[], context: Context): INode[] {
  return items.flatMap((item) => itemNode(item, context));
}

function itemNode(item: Item, context: Context): INode[] {
  switch (item.kind) {
    case 'path':
      return pathNode(item, context.num);
    case 'text':
      return [textNode(item, context.num)];
    case 'place':
      return placeNodes(item, context);
    case 'layer': {
      const label = plainText(item.label);
      const id = context.names.fresh(item.id);
      return [element('g', { id, 'data-label': label, 'aria-label': label }, itemNodes(item.items, context))];
    }
    case 'clip': {
      const data = pathData(item.contours, context.num);
      const key = `${item.rule ?? 'nonzero'} ${data}`;
      let id = context.clips.get(key);
      if (id === undefined) {
        id = context.names.fresh('clip');
        context.clips.set(key, id);
        const rule = item.rule === 'evenodd' ? 'evenodd' : undefined;
        context.clipNodes.push(element('clipPath', { id }, [element('path', { d: data, 'clip-rule': rule })]));
      }
      return [element('g', { 'clip-path': `url(#${id})` }, itemNodes(item.items, context))];
    }
  }
}

function pathNode(item: PathItem, num: NumberWriter): INode[] {
  const d = pathData(item.contours, num);
  if (d === '' || (item.fill === undefined && item.line === undefined)) return [];
  return [
    element('path', {
      d,
      fill: item.fill === undefined ? 'none' : checkedColour(item.fill),
      'fill-rule': item.fill !== undefined && item.rule === 'evenodd' ? 'evenodd' : undefined,
      ...(item.line === undefined ? {} : lineAttributes(item.line, num)),
    }),
  ];
}

function lineAttributes(line: LineStyle, num: NumberWriter): Attributes {
  const { cap = 'butt', join = 'miter', dashMm = [] } = line;
  return {
    stroke: checkedColour(line.colour),
    'stroke-width': num(line.widthMm),
    'stroke-dasharray': dashMm.some((length) => length > 0) ? dashMm.map(num).join(' ') : undefined,
    'stroke-linecap': cap === 'butt' ? undefined : cap,
    'stroke-linejoin': join === 'miter' ? undefined : join,
    'stroke-miterlimit': join === 'miter' ? num(MITER_LIMIT) : undefined,
  };
}

function textNode(item: TextItem, num: NumberWriter): INode {
  const d = textPathData(item, num);
  const outline = d === '' ? [] : [element('path', { d })];
  return element('g', { 'aria-label': plainText(item.text), fill: checkedColour(item.colour) }, outline);
}

/** Turns and scales of a matrix are written finer than places: over a metre the fourth decimal is a tenth of a millimetre. */
const MATRIX_DIGITS = 6;

function placeNodes(item: PlaceItem, { num, names }: Context): INode[] {
  const fine = numberWriter(MATRIX_DIGITS);
  const href = `#${names.ofGroup(item.group)}`;
  return item.at.map((m) => element('use', { 'xlink:href': href, transform: transformText(m, num, fine) }));
}

function transformText(m: Matrix, num: NumberWriter, fine: NumberWriter): string | undefined {
  const [a, b, c, d, e, f] = m;
  if (a === 1 && b === 0 && c === 0 && d === 1) {
    return e === 0 && f === 0 ? undefined : `translate(${num(e)} ${num(f)})`;
  }
  return `matrix(${[a, b, c, d].map(fine).join(' ')} ${num(e)} ${num(f)})`;
}

interface Names {
  readonly ofGroup: (name: string) => string;
  /** An id made from the wish, not given before. */
  readonly fresh: (wish: string) => string;
}

function idNames(drawing: Drawing, items: readonly Item[]): Names {
  const taken = new Set<string>();
  const fresh = (wish: string): string => {
    // ids as XML names without a colon.
    const base = wish.replace(/[^A-Za-z0-9_.-]/g, '-').replace(/^(?![A-Za-z_])/, '_');
    let id = base;
    for (let k = 2; taken.has(id); k++) id = `${base}-${k}`;
    taken.add(id);
    return id;
  };
  const groups = new Map(groupOrder(drawing, items).map((name) => [name, fresh(`group-${name}`)]));
  return { ofGroup: (name) => groups.get(name) as string, fresh };
}
