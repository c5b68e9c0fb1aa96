import { InputError } from '@okuri/core';
import { SaxesParser, type SaxesTagNS } from 'saxes';
import type { INode } from 'svgson';
import { MAX_ATTRIBUTES, MAX_DEPTH, MAX_ENTITY_TOTAL, MAX_NODES, MAX_PATH_CHARS } from './caps.js';
import { decodeSource } from './decode.js';
import { readEntities } from './entities.js';

export const SVG_NAMESPACE = 'http://www.w3.org/2000/svg';

/** The prefix under which the tree keeps names of these namespaces, whatever prefix the file uses. */
const PREFIX_OF: Readonly<Record<string, string>> = {
  'http://www.w3.org/1999/xlink': 'xlink',
  'http://www.inkscape.org/namespaces/inkscape': 'inkscape',
  'http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd': 'sodipodi',
};

/** Prefixes that hand-trimmed files often use without declaring them. */
const KNOWN_PREFIXES: Record<string, string> = {
  xlink: 'http://www.w3.org/1999/xlink',
  inkscape: 'http://www.inkscape.org/namespaces/inkscape',
  sodipodi: 'http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd',
  svg: SVG_NAMESPACE,
};

/**
 * Reads an SVG document strictly into svgson's tree. Entities are decoded, text is kept as it is (CDATA too), comments
 * are dropped. Elements of the SVG namespace have their plain name (`path` for `svg:path`), others a prefixed one; the
 * root carries the namespace declarations that its tree needs, so svgson's `stringify` writes the same document.
 *
 * Throws `InputError`, with line and column, at the first fault of the XML, beyond the caps, and where the outermost
 * element is not `svg`.
 */
export function readSvgTree(source: string | Uint8Array): INode {
  const text = decodeSource(source);
  refuseLongOutlines(text);
  const parser = new SaxesParser({ xmlns: true, additionalNamespaces: KNOWN_PREFIXES });
  const stack: INode[] = [];
  const declared = new Map<string, string>();
  let root: INode | null = null;
  let nodes = 0;

  const place = () => `line ${parser.line}, column ${parser.column + 1}`;
  const count = () => {
    nodes++;
    if (nodes > MAX_NODES) {
      throw new InputError(`The drawing has more than ${MAX_NODES} elements (at ${place()}): simplify it.`);
    }
  };
  const addText = (value: string) => {
    const parent = stack.at(-1);
    if (parent === undefined || value === '') return;
    const last = parent.children.at(-1);
    if (last?.type === 'text') {
      last.value += value;
      return;
    }
    count();
    parent.children.push({ name: '', type: 'text', value, attributes: {}, children: [] });
  };

  parser.on('error', (error) => {
    throw faultOf(text, error.message.replace(/^[^:]*\d+:\d+: /, ''), parser.line, parser.column + 1);
  });
  parser.on('doctype', (doctype) => {
    declareEntities(parser.ENTITIES as Record<string, string>, readEntities(doctype));
  });
  parser.on('text', addText);
  parser.on('cdata', addText);
  parser.on('opentagstart', () => {
    if (stack.length >= MAX_DEPTH) {
      throw new InputError(`The drawing nests more than ${MAX_DEPTH} elements (at ${place()}): ungroup it.`);
    }
  });
  parser.on('opentag', (tag) => {
    count();
    const node = toNode(tag as SaxesTagNS, declared, place);
    if (root === null) root = node;
    stack.at(-1)?.children.push(node);
    stack.push(node);
  });
  parser.on('closetag', () => {
    stack.pop();
  });
  parser.write(text).close();

  const top = root as INode | null;
  if (top === null) throw new InputError('There is no element in the drawing: this is not an SVG file.');
  if (top.name !== 'svg') {
    throw new InputError(`The outermost element is <${top.name}>, not <svg>: this is not an SVG drawing.`);
  }
  top.attributes.xmlns = SVG_NAMESPACE;
  for (const [prefix, uri] of declared) top.attributes[`xmlns:${prefix}`] = uri;
  return top;
}

function declareEntities(table: Record<string, string>, entities: ReadonlyMap<string, string>): void {
  let total = 0;
  for (const [name, value] of entities) {
    // A getter counts each use: many references to one long entity would swell a small file.
    Object.defineProperty(table, name, {
      get() {
        total += value.length;
        if (total > MAX_ENTITY_TOTAL) {
          throw new InputError(
            `The drawing's entities add more than ${MAX_ENTITY_TOTAL} characters: save it as plain SVG.`,
          );
        }
        return value;
      },
    });
  }
}

function toNode(tag: SaxesTagNS, declared: Map<string, string>, place: () => string): INode {
  const attributes: Record<string, string> = Object.create(null);
  let many = 0;
  for (const key in tag.attributes) {
    many++;
    if (many > MAX_ATTRIBUTES) {
      throw new InputError(`<${tag.name}> has more than ${MAX_ATTRIBUTES} attributes (at ${place()}).`);
    }
    const { name, prefix, local, uri, value } = tag.attributes[key];
    if (prefix === 'xmlns' || name === 'xmlns') continue;
    attributes[prefix === '' ? name : qualified(prefix, local, uri, declared)] = value;
  }
  const plain = tag.uri === SVG_NAMESPACE || tag.uri === '';
  const name = plain ? tag.local : qualified(tag.prefix || 'other', tag.local, tag.uri, declared);
  return { name, type: 'element', value: '', attributes, children: [] };
}

function qualified(prefix: string, local: string, uri: string, declared: Map<string, string>): string {
  if (prefix === 'xml') return `xml:${local}`;
  let kept = PREFIX_OF[uri] ?? prefix;
  while (declared.has(kept) && declared.get(kept) !== uri) kept += '_';
  declared.set(kept, uri);
  return `${kept}:${local}`;
}

function faultOf(text: string, message: string, line: number, column: number): InputError {
  const lone = loneAmpersand(text, line, column);
  if (lone !== null) {
    return new InputError(
      `The SVG is not well formed at line ${lone.line}, column ${lone.column}: a lone "&" has to be written "&amp;".`,
    );
  }
  const said = message.replace(/\.$/, '');
  return new InputError(
    `The SVG is not well formed at line ${line}, column ${column}: ${said}; save it again from the drawing program.`,
  );
}

/** The XML reader runs on past a lone `&` and stumbles later: the first one before the fault is the true cause. */
function loneAmpersand(text: string, line: number, column: number): { line: number; column: number } | null {
  const reference = /&(?:#x[0-9a-fA-F]{1,8}|#[0-9]{1,8}|[A-Za-z_:][\w:.-]{0,200});/y;
  let at = text.indexOf('&');
  let from = 0;
  while (at >= 0) {
    const skipped = openBefore(text, from, at);
    if (skipped !== null) {
      if (skipped < 0) return null;
      from = skipped;
      at = text.indexOf('&', skipped);
      continue;
    }
    reference.lastIndex = at;
    if (!reference.test(text)) break;
    from = at + 1;
    at = text.indexOf('&', from);
  }
  if (at < 0) return null;
  const before = text.slice(0, at).split('\n');
  const found = { line: before.length, column: before[before.length - 1].length + 1 };
  return found.line < line || (found.line === line && found.column <= column) ? found : null;
}

/** The end of a comment or a CDATA section that is open at `at`, looked for from `from`; -1 where it never ends. */
function openBefore(text: string, from: number, at: number): number | null {
  let k = from;
  for (;;) {
    k = text.indexOf('<!', k);
    if (k < 0 || k > at) return null;
    const close = text.startsWith('<!--', k) ? '-->' : text.startsWith('<![CDATA[', k) ? ']]>' : null;
    if (close === null) {
      k += 2;
      continue;
    }
    const end = text.indexOf(close, k);
    if (end < 0) return -1;
    if (end > at) return end + 3;
    k = end + 3;
  }
}

/**
 * Refuses outlines of absurd length before the XML reader, which looks at every character, spends its time on them. What looks like one in a
 * comment counts too: nobody has 16 MB of that.
 */
function refuseLongOutlines(text: string): void {
  if (text.length <= MAX_PATH_CHARS) return;
  for (const { 0: start, 1: name, 2: quote, index } of text.matchAll(/\s(d|points)\s*=\s*(["'])/g)) {
    const end = text.indexOf(quote, index + start.length);
    const length = (end < 0 ? text.length : end) - index - start.length;
    if (length <= MAX_PATH_CHARS) continue;
    const line = text.slice(0, index).split('\n').length;
    throw new InputError(
      `The outline "${name}" in line ${line} of the drawing is ${Math.round(length / 1e6)} MB long, and at most ${Math.round(MAX_PATH_CHARS / 1e6)} MB are read: simplify it.`,
    );
  }
}
