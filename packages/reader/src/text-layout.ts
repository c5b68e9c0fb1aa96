import { type Contour, transformContour } from '@okuri/core';
import type { Font, Glyph } from 'opentype.js';
import type { INode } from 'svgson';
import { glyphContours, splitFamilies } from './fonts.js';
import { parseLength } from './length.js';
import { labelOf, type Place, type SvgReading } from './reading.js';
import { aboutPoint } from './transform.js';

/** One character and what the drawing says of its place: set coordinates, moves, and a turn in degrees. */
export interface Char {
  readonly text: string;
  readonly node: INode;
  readonly place: Place;
  x: number | null;
  y: number | null;
  dx: number;
  dy: number;
  rotate: number;
}

/** The letters of one element in user units. */
export interface TextRun {
  readonly place: Place;
  readonly contours: Contour[];
}

interface Setting {
  readonly font: Font;
  readonly size: number;
  readonly letterSpacing: number;
  readonly wordSpacing: number;
}

interface Placed {
  readonly char: Char;
  readonly glyph: Glyph;
  readonly size: number;
  readonly x: number;
  readonly y: number;
}

/**
 * Sets the characters on their lines (SVG 2, 11.5): a set coordinate begins a chunk, which `text-anchor` moves as a
 * whole; pairs are kerned as the font asks. Characters without a font or a glyph are left out with a notice.
 */
export function layOut(reading: SvgReading, chars: readonly Char[]): ReadonlyMap<INode, TextRun> {
  const settings = new Map<INode, Setting | null>();
  const runs = new Map<INode, TextRun>();
  const missing = new Map<INode, Set<string>>();
  let x = 0;
  let y = 0;
  let at = 0;
  while (at < chars.length) {
    const placed: Placed[] = [];
    const anchor = chars[at].place.style.values['text-anchor'];
    x = chars[at].x ?? x;
    y = chars[at].y ?? y;
    const start = x;
    let before: { glyph: Glyph; setting: Setting } | null = null;
    const first = at;
    for (; at < chars.length && (at === first || (chars[at].x === null && chars[at].y === null)); at++) {
      const char = chars[at];
      const setting = settingOf(reading, char, settings);
      x += char.dx;
      y += char.dy;
      if (setting === null) {
        before = null;
        continue;
      }
      const glyph: Glyph = setting.font.charToGlyph(char.text);
      if (glyph.index === 0 && char.text !== ' ') {
        addTo(missing, char.node, char.text);
        before = null;
        continue;
      }
      const unit = setting.size / setting.font.unitsPerEm;
      if (before?.setting.font === setting.font && setting.letterSpacing === 0) {
        x += setting.font.getKerningValue(before.glyph, glyph) * unit;
      }
      placed.push({ char, glyph, size: setting.size, x, y });
      x += (glyph.advanceWidth ?? 0) * unit + setting.letterSpacing;
      if (char.text === ' ') x += setting.wordSpacing;
      before = { glyph, setting };
    }
    const shift = anchor === 'middle' ? (start - x) / 2 : anchor === 'end' ? start - x : 0;
    x += shift;
    for (const item of placed) addGlyph(runs, item, shift);
  }
  for (const [node, set] of missing) {
    const element = labelOf(reading, node);
    const shown = [...set].slice(0, 12).join(' ');
    const message = `The text of ${element} has characters that its font lacks, which are left out: ${shown}`;
    reading.notices.add({ code: 'character-missing', severity: 'look', message, element });
  }
  return runs;
}

function addGlyph(runs: Map<INode, TextRun>, item: Placed, shift: number): void {
  const { char } = item;
  let run = runs.get(char.node);
  if (run === undefined) {
    run = { place: char.place, contours: [] };
    runs.set(char.node, run);
  }
  const x = item.x + shift;
  const outline = glyphContours(item.glyph, x, item.y, item.size);
  if (char.rotate === 0) {
    run.contours.push(...outline);
    return;
  }
  const turn = (char.rotate * Math.PI) / 180;
  const m = aboutPoint([Math.cos(turn), Math.sin(turn), -Math.sin(turn), Math.cos(turn), 0, 0], x, item.y);
  run.contours.push(...outline.map((contour) => transformContour(contour, m)));
}

function settingOf(reading: SvgReading, char: Char, known: Map<INode, Setting | null>): Setting | null {
  const found = known.get(char.node);
  if (found !== undefined) return found;
  const { values, fontSize } = char.place.style;
  const family = values['font-family'];
  const element = labelOf(reading, char.node);
  const face = reading.fonts.find(family, values['font-weight'], values['font-style']);
  const first = splitFamilies(family)[0] ?? family;
  let setting: Setting | null = null;
  if (face === null) {
    const message = `The text of ${element} needs the font "${first}", which was not given, and is left out: give its font file, or turn the text into paths.`;
    reading.notices.add({ code: 'text-needs-font', severity: 'look', message, element });
  } else {
    if (!face.exact) {
      const message = `The text of ${element} asks for a weight or slant of "${first}" that was not given: the nearest is taken.`;
      reading.notices.add({ code: 'font-style-missing', severity: 'look', message, element });
    }
    setting = {
      font: face.font,
      size: fontSize,
      letterSpacing: spacing(values['letter-spacing'], fontSize),
      wordSpacing: spacing(values['word-spacing'], fontSize),
    };
  }
  known.set(char.node, setting);
  return setting;
}

function spacing(text: string, fontSize: number): number {
  return parseLength(text, { percent: fontSize, fontSize }) ?? 0;
}

function addTo(sets: Map<INode, Set<string>>, node: INode, text: string): void {
  const set = sets.get(node);
  if (set === undefined) sets.set(node, new Set([text]));
  else set.add(text);
}
