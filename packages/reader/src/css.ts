import { InputError } from '@okuri/core';
import { type CssNode, generate, type ParseOptions, parse } from 'css-tree';
import { type CompiledSelector, compileSelector } from './selectors.js';

/** One declaration; properties are in lower case, custom ones (`--x`) as written. */
export interface Declaration {
  readonly property: string;
  readonly value: string;
  readonly important: boolean;
}

/** A selector with its declarations, in the order of the sheets. */
export interface StyleRule {
  readonly selector: CompiledSelector;
  readonly declarations: readonly Declaration[];
  readonly order: number;
}

/** Something of a style sheet that is not followed. */
export interface SheetNotice {
  readonly code: string;
  readonly message: string;
}

/** The rules of a style sheet, and what of it is not followed. The drawing is read as a screen in daylight shows it. */
export function readSheet(text: string, firstOrder: number): { rules: StyleRule[]; notices: SheetNotice[] } {
  const rules: StyleRule[] = [];
  const notices: SheetNotice[] = [];
  const broken = (what: string) => {
    notices.push({
      code: 'css-not-understood',
      message: `A part of the style sheet is not understood: ${shown(what)}.`,
    });
  };
  const sheet = parseGuarded(text, {
    parseValue: false,
    parseCustomProperty: false,
    onParseError: (_error, fallback) => broken(generate(fallback)),
  });
  if (sheet.type === 'StyleSheet') addRules(sheet.children, rules, notices, firstOrder);
  return { rules, notices };
}

/** css-tree runs out of stack on styles that are nested thousands deep: those are refused. */
function parseGuarded(text: string, options: ParseOptions): CssNode {
  try {
    return parse(text, options);
  } catch {
    throw new InputError(
      `The styles "${shown(text.trim())}" of the drawing can't be read: save it with plain attributes.`,
    );
  }
}

function addRules(nodes: Iterable<CssNode>, rules: StyleRule[], notices: SheetNotice[], firstOrder: number): void {
  for (const node of nodes) {
    if (node.type === 'Atrule') {
      const name = node.name.toLowerCase();
      const prelude = node.prelude === null ? '' : generate(node.prelude);
      if (node.block !== null && (name === 'media' || name === 'layer' || name === 'supports')) {
        if (name !== 'media' || mediaApplies(prelude)) addRules(node.block.children, rules, notices, firstOrder);
        else {
          const message = `The styles for "@media ${shown(prelude)}" are not applied: the drawing is read as a screen shows it.`;
          notices.push({ code: 'css-media-left-out', message });
        }
      } else if (name === 'import') {
        const message = `The style sheet ${shown(prelude)} is outside the drawing and is not read.`;
        notices.push({ code: 'css-import-left-out', message });
      } else if (name !== 'charset' && name !== 'font-face' && name !== 'namespace' && name !== 'page') {
        notices.push({ code: 'css-not-understood', message: `The style rule "@${shown(name)}" is not followed.` });
      }
      continue;
    }
    if (node.type !== 'Rule' || node.prelude.type !== 'SelectorList') continue;
    const declarations = fromBlock(node.block.children);
    if (declarations.length === 0) continue;
    for (const part of node.prelude.children) {
      const selector = part.type === 'Selector' ? compileSelector(part) : null;
      if (selector !== null) rules.push({ selector, declarations, order: firstOrder + rules.length });
      else {
        const message = `The style selector "${shown(generate(part))}" is not followed.`;
        notices.push({ code: 'css-selector-not-followed', message });
      }
    }
  }
}

/** Media lists: `all` and `screen` hold, `print` and special conditions do not. */
function mediaApplies(prelude: string): boolean {
  return prelude
    .toLowerCase()
    .split(',')
    .some((query) => ['', 'all', 'screen', 'only screen', 'only all', 'not print'].includes(query.trim()));
}

/** The declarations of a `style` attribute. */
export function readStyleAttribute(text: string): readonly Declaration[] {
  return /["'\\({]|\/\*/.test(text) ? parseDeclarations(text) : splitDeclarations(text);
}

/** Drawing programs write thousands of plain lists: these need no parser. */
function splitDeclarations(text: string): Declaration[] {
  const out: Declaration[] = [];
  for (const part of text.split(';')) {
    const colon = part.indexOf(':');
    if (colon > 0) out.push(declaration(part.slice(0, colon), part.slice(colon + 1)));
  }
  return out;
}

function parseDeclarations(text: string): Declaration[] {
  const list = parseGuarded(text, { context: 'declarationList', parseValue: false, parseCustomProperty: false });
  return list.type === 'DeclarationList' ? fromBlock(list.children) : [];
}

function fromBlock(nodes: Iterable<CssNode>): Declaration[] {
  const out: Declaration[] = [];
  for (const node of nodes) {
    if (node.type !== 'Declaration') continue;
    const read = declaration(node.property, node.value.type === 'Raw' ? node.value.value : generate(node.value));
    out.push(node.important === false ? read : { ...read, important: true });
  }
  return out;
}

function declaration(name: string, raw: string): Declaration {
  const property = name.trim();
  const bare = raw.trim();
  const value = bare.replace(/\s*!\s*important$/i, '');
  return {
    property: property.startsWith('--') ? property : property.toLowerCase(),
    value,
    important: value !== bare,
  };
}

function shown(text: string): string {
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}
