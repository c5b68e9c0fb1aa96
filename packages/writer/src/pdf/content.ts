import type {
  Colour,
  Contour,
  Drawing,
  FillRule,
  Item,
  LineStyle,
  Matrix,
  PathItem,
  PlaceItem,
  TextItem,
} from '@okuri/core';
import { MITER_LIMIT } from '../shared/bounds.js';
import { colourChannels } from '../shared/colours.js';
import { groupItems } from '../shared/groups.js';
import { POINTS_PER_MM } from '../shared/lengths.js';
import { numberWriter } from '../shared/numbers.js';
import { isLine } from '../shared/straight.js';
import { layoutText } from '../text/layout.js';
import type { PdfFace } from './fonts.js';

/** Decimals of a point: a step of 0.035 µm. */
const num = numberWriter(4);

/** Turns, scales and colour channels: at 14400 points the sixth decimal is a hundredth of a point. */
const fine = numberWriter(6);

const CAPS = { butt: 0, round: 1, square: 2 } as const;
const JOINS = { miter: 0, round: 1, bevel: 2 } as const;

/** What a content stream says, and the fonts and groups that it names. */
export interface Content {
  readonly operators: string;
  readonly fonts: readonly PdfFace[];
  readonly groups: readonly string[];
}

/** Where a stream finds fonts and the names of groups. */
export interface ContentSource {
  readonly face: (bold: boolean) => PdfFace;
  readonly groupName: (group: string) => string;
}

/**
 * Items as PDF operators (ISO 32000-1, 8.4 to 9.4) in points, in a space whose y runs down. Numbers that are not finite throw an
 * `InputError`.
 */
export function contentOf(drawing: Drawing, items: readonly Item[], source: ContentSource): Content {
  const out: string[] = [`${num(MITER_LIMIT)} M`];
  const fonts = new Map<string, PdfFace>();
  const groups = new Set<string>();
  const write = (list: readonly Item[]): void => {
    for (const item of list) writeItem(item);
  };
  const writeItem = (item: Item): void => {
    switch (item.kind) {
      case 'path':
        writePath(item, out);
        break;
      case 'text': {
        const face = source.face(item.bold ?? false);
        fonts.set(face.name, face);
        writeText(item, face, out);
        break;
      }
      case 'layer':
        write(item.items);
        break;
      case 'clip':
        out.push('q');
        // A clip path without a point would leave everything visible; a box without area hides all.
        if (!writeContours(item.contours, out)) out.push('0 0 0 0 re');
        out.push(item.rule === 'evenodd' ? 'W* n' : 'W n');
        write(item.items);
        out.push('Q');
        break;
      case 'place':
        if (item.at.length > 0 && groupItems(drawing, item.group).length > 0) {
          groups.add(item.group);
          writePlaces(item, source.groupName(item.group), out);
        }
    }
  };
  write(items);
  return { operators: out.join('\n'), fonts: [...fonts.values()], groups: [...groups] };
}

function writePath(item: PathItem, out: string[]): void {
  const { fill, line } = item;
  if (fill === undefined && line === undefined) return;
  const state: string[] = [];
  if (fill !== undefined) state.push(`${channels(fill)} rg`);
  if (line !== undefined) state.push(lineState(line));
  const path: string[] = [];
  if (!writeContours(item.contours, path)) return;
  out.push(...state, path.join('\n'), paintOperator(fill !== undefined, line !== undefined, item.rule));
}

function paintOperator(fill: boolean, line: boolean, rule: FillRule | undefined): string {
  const star = fill && rule === 'evenodd' ? '*' : '';
  if (fill && line) return `B${star}`;
  return fill ? `f${star}` : 'S';
}

function lineState(line: LineStyle): string {
  const { cap = 'butt', join = 'miter', dashMm = [] } = line;
  const dash = dashMm.some((length) => length > 0) ? dashMm.map(points).join(' ') : '';
  return `${channels(line.colour)} RG ${points(line.widthMm)} w ${CAPS[cap]} J ${JOINS[join]} j [${dash}] 0 d`;
}

/** Writes the contours that have a curve at all; false when there is none. */
function writeContours(contours: readonly Contour[], out: string[]): boolean {
  let some = false;
  for (const { closed, coords } of contours) {
    const last = coords.length - 2;
    if (last < 6) continue;
    some = true;
    let text = `${points(coords[0])} ${points(coords[1])} m`;
    const returns = coords[last] === coords[0] && coords[last + 1] === coords[1];
    // A closing side that is straight is what h draws.
    const drawn = closed && last > 6 && returns && isLine(coords, last - 6) ? last - 6 : last;
    for (let k = 0; k < drawn; k += 6) {
      const end = `${points(coords[k + 6])} ${points(coords[k + 7])}`;
      text += isLine(coords, k)
        ? `\n${end} l`
        : `\n${points(coords[k + 2])} ${points(coords[k + 3])} ${points(coords[k + 4])} ${points(coords[k + 5])} ${end} c`;
    }
    out.push(closed ? `${text}\nh` : text);
  }
  return some;
}

function writeText(item: TextItem, face: PdfFace, out: string[]): void {
  const { glyphs, matrix } = layoutText(item);
  if (glyphs.length === 0) return;
  const [a, b, c, d, e, f] = matrix;
  const codes = face.encode(glyphs.map((glyph) => glyph.codePoint));
  // Letters stand upright in a space whose y runs up: the second axis is turned round.
  const frame = `${fine(a)} ${fine(b)} ${fine(-c)} ${fine(-d)} ${points(e)} ${points(f)} Tm`;
  out.push(`BT ${channels(item.colour)} rg /${face.name} ${points(item.sizeMm)} Tf ${frame} <${codes}> Tj ET`);
}

function writePlaces(item: PlaceItem, name: string, out: string[]): void {
  for (const matrix of item.at) out.push(`q ${matrixText(matrix)} cm /${name} Do Q`);
}

function matrixText([a, b, c, d, e, f]: Matrix): string {
  return `${fine(a)} ${fine(b)} ${fine(c)} ${fine(d)} ${points(e)} ${points(f)}`;
}

function channels(colour: Colour): string {
  return colourChannels(colour)
    .map((value) => fine(value / 255))
    .join(' ');
}

function points(mm: number): string {
  return num(mm * POINTS_PER_MM);
}
