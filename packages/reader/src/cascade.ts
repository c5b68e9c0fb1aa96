import { InputError } from '@okuri/core';
import type { INode } from 'svgson';
import { MAX_CSS_CHARS } from './caps.js';
import { type Declaration, readSheet, readStyleAttribute, type SheetNotice, type StyleRule } from './css.js';
import { classesOf, matches, type TreeIndex } from './selectors.js';

/** Attributes that are styles as well (SVG 2, 6.6), as far as they bear on what is cut. */
const PRESENTATION = new Set(
  (
    'clip-path clip-rule color display fill fill-opacity fill-rule filter font font-family font-size font-style ' +
    'font-weight letter-spacing marker marker-end marker-mid marker-start mask opacity overflow paint-order ' +
    'stop-color stop-opacity stroke stroke-dasharray stroke-dashoffset stroke-linecap stroke-linejoin ' +
    'stroke-miterlimit stroke-opacity stroke-width text-anchor text-decoration transform transform-origin vector-effect ' +
    'visibility word-spacing writing-mode dominant-baseline baseline-shift x y cx cy r rx ry width height d'
  ).split(' '),
);

/** The specified values of one element: property to value. */
export type Declared = ReadonlyMap<string, string>;

/** Applies the drawing's style sheets and attributes to its elements, each element once. */
export class Cascade {
  readonly notices: readonly SheetNotice[];
  private readonly rulesByKey = new Map<string, StyleRule[]>();
  private readonly done = new Map<INode, Declared>();
  private readonly styles = new Map<string, readonly Declaration[]>();

  constructor(
    sheets: readonly string[],
    private readonly tree: TreeIndex,
  ) {
    const notices: SheetNotice[] = [];
    let order = 0;
    let chars = 0;
    for (const sheet of sheets) {
      chars += sheet.length;
      if (chars > MAX_CSS_CHARS) {
        throw new InputError(`The drawing's style sheets are longer than ${MAX_CSS_CHARS} characters: simplify them.`);
      }
      const read = readSheet(sheet, order);
      notices.push(...read.notices);
      order += read.rules.length;
      for (const rule of read.rules) {
        const list = this.rulesByKey.get(rule.selector.key);
        if (list === undefined) this.rulesByKey.set(rule.selector.key, [rule]);
        else list.push(rule);
      }
    }
    this.notices = notices;
  }

  /** What is declared on the element, the strongest declaration of each property (CSS Cascade 4, 6). */
  declared(node: INode): Declared {
    const known = this.done.get(node);
    if (known !== undefined) return known;
    const normal = new Map<string, string>();
    const important = new Map<string, string>();
    for (const name in node.attributes) {
      if (PRESENTATION.has(name)) normal.set(name, node.attributes[name].trim());
    }
    const set = ({ property, value, important: strong }: Declaration) => {
      if (value !== '') (strong ? important : normal).set(property, value);
    };
    for (const rule of this.rulesFor(node)) rule.declarations.forEach(set);
    const style = node.attributes.style;
    if (style !== undefined) this.styleAttribute(style).forEach(set);
    for (const [name, value] of important) normal.set(name, value);
    this.done.set(node, normal);
    return normal;
  }

  private rulesFor(node: INode): readonly StyleRule[] {
    if (this.rulesByKey.size === 0) return [];
    const keys = ['*', node.name, `#${node.attributes.id ?? ''}`, ...classesOf(node).map((name) => `.${name}`)];
    const found: StyleRule[] = [];
    for (const key of new Set(keys)) {
      for (const rule of this.rulesByKey.get(key) ?? []) {
        if (matches(rule.selector, node, this.tree)) found.push(rule);
      }
    }
    return found.sort((a, b) => a.selector.specificity - b.selector.specificity || a.order - b.order);
  }

  private styleAttribute(text: string): readonly Declaration[] {
    // Drawing programs repeat one style on thousands of elements.
    let read = this.styles.get(text);
    if (read === undefined) {
      read = readStyleAttribute(text);
      this.styles.set(text, read);
    }
    return read;
  }
}
