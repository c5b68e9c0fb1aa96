import type { INode } from 'svgson';
import { drawOutline } from './draw.js';
import { parseLength } from './length.js';
import { percentBase } from './measure.js';
import { labelOf, type Place, type SvgReading } from './reading.js';
import { inheritStyle } from './style.js';
import { type Char, layOut } from './text-layout.js';

/** Scripts whose letters change with their neighbours, which is not done here. */
const JOINED_SCRIPTS = /[\u0590-\u08ff\u0900-\u0dff\u0e00-\u0fff\u1000-\u109f\u1780-\u17ff]/;

/** Draws a `text` element: the outlines of its letters, one shape for each run of one style. */
export function drawText(reading: SvgReading, node: INode, place: Place): void {
  const chars: Char[] = [];
  collect(reading, node, place, chars, false);
  trim(chars);
  if (chars.length === 0) return;
  if (chars.some((char) => JOINED_SCRIPTS.test(char.text))) {
    note(
      reading,
      node,
      'text-not-joined',
      'is in a script whose letters join or move, which is not done here: turn it into paths',
    );
  }
  for (const [owner, run] of layOut(reading, chars)) {
    drawOutline(reading, owner, reading.cascade.declared(owner), run.place, run.contours, { rule: 'nonzero' });
  }
}

function note(reading: SvgReading, node: INode, code: string, said: string): void {
  const element = labelOf(reading, node);
  reading.notices.add({ code, severity: 'look', message: `The text of ${element} ${said}.`, element });
}

const UNREAD = ['textLength', 'dominant-baseline', 'baseline-shift', 'text-decoration'];

function collect(reading: SvgReading, node: INode, place: Place, chars: Char[], preserved: boolean): void {
  const keep = node.attributes['xml:space'] === undefined ? preserved : node.attributes['xml:space'] === 'preserve';
  const preserve = keep || /^(?:pre|break-spaces)/.test(place.style.values['white-space']);
  const first = chars.length;
  const declared = reading.cascade.declared(node);
  for (const name of UNREAD) {
    const value = declared.get(name) ?? node.attributes[name];
    if (value !== undefined && !/^(?:auto|none|baseline|alphabetic|0)$/.test(value)) {
      note(reading, node, 'text-setting-left-out', `has the setting ${name}, which is left out of account`);
    }
  }
  if (/^(?:tb|vertical)/.test(place.style.values['writing-mode'])) {
    note(reading, node, 'text-setting-left-out', 'runs downwards (writing-mode) but is read as running across');
  }
  for (const child of node.children) {
    if (child.type === 'text') {
      const value = preserve ? child.value.replace(/[\t\n\r]/g, ' ') : child.value.replace(/[ \t\n\r]+/g, ' ');
      for (const text of value) {
        const last = chars.at(-1);
        if (!preserve && text === ' ' && last?.text === ' ') continue;
        chars.push({ text, node, place, x: null, y: null, dx: 0, dy: 0, rotate: 0 });
      }
      continue;
    }
    if (child.name === 'textPath') {
      note(
        reading,
        child,
        'text-on-path-left-out',
        'runs along a path and is left out: turn it into paths in the drawing program',
      );
      continue;
    }
    if (child.name !== 'tspan' && child.name !== 'a') {
      if (!['title', 'desc', 'animate', 'set', 'animateTransform'].includes(child.name)) {
        note(reading, child, 'element-left-out', `(<${child.name}> inside a text) is left out`);
      }
      continue;
    }
    const inner = reading.cascade.declared(child);
    if (inner.get('display') === 'none') {
      note(reading, child, 'hidden-left-out', 'is not displayed and is left out');
      continue;
    }
    collect(reading, child, { ...place, style: inheritStyle(place.style, inner) }, chars, preserve);
  }
  position(reading, node, place, chars, first);
}

/** The lists x, y, dx, dy and rotate of an element bear on its characters in turn; an inner element's own go first. */
function position(reading: SvgReading, node: INode, place: Place, chars: Char[], first: number): void {
  const lists = { x: list(reading, node, place, 'x'), y: list(reading, node, place, 'y') };
  const dx = list(reading, node, place, 'dx');
  const dy = list(reading, node, place, 'dy');
  const rotate = (node.attributes.rotate ?? '')
    .trim()
    .split(/[\s,]+/)
    .filter(Boolean)
    .map(Number);
  // A leading blank that will be trimmed takes no value.
  let from = first;
  while (from < chars.length && chars[from].text === ' ' && (from === 0 || chars[from - 1].text === ' ')) from++;
  for (let k = 0; from + k < chars.length; k++) {
    const char = chars[from + k];
    if (k < lists.x.length) char.x ??= lists.x[k];
    if (k < lists.y.length) char.y ??= lists.y[k];
    if (k < dx.length && char.dx === 0) char.dx = dx[k];
    if (k < dy.length && char.dy === 0) char.dy = dy[k];
    if (rotate.length > 0 && char.rotate === 0) char.rotate = rotate[Math.min(k, rotate.length - 1)] || 0;
  }
}

function list(reading: SvgReading, node: INode, place: Place, name: 'x' | 'y' | 'dx' | 'dy'): number[] {
  const base = { percent: percentBase(place, name.endsWith('x') ? 'x' : 'y'), fontSize: place.style.fontSize };
  const out: number[] = [];
  for (const part of (node.attributes[name] ?? '').trim().split(/[\s,]+/)) {
    if (part === '') continue;
    const value = parseLength(part, base);
    if (value === null) {
      note(reading, node, 'value-not-understood', `has a ${name} "${part.slice(0, 20)}" that is not understood`);
      break;
    }
    out.push(value);
  }
  return out;
}

function trim(chars: Char[]): void {
  const blank = (char: Char | undefined) =>
    char !== undefined && char.text === ' ' && char.node.attributes['xml:space'] !== 'preserve';
  while (blank(chars[0])) {
    const gone = chars.shift() as Char;
    const next = chars[0];
    if (next !== undefined) {
      next.x ??= gone.x;
      next.y ??= gone.y;
    }
  }
  while (blank(chars.at(-1))) chars.pop();
}
