import { InputError } from '@okuri/core';
import type { AttributeSelector, CssNode, Nth, PseudoClassSelector, Selector } from 'css-tree';
import type { INode } from 'svgson';
import { MAX_SELECTOR_TESTS } from './caps.js';

/** One test of a single element. */
type Test = (node: INode, tree: TreeIndex) => boolean;

/** A compound selector and what joins it to the one on its left. */
interface Compound {
  readonly tests: readonly Test[];
  readonly joined: ' ' | '>' | '+' | '~' | null;
}

/** A selector ready to be matched, leftmost compound first. */
export interface CompiledSelector {
  readonly compounds: readonly Compound[];
  /** `[ids, classes, types]` packed in one number, CSS Selectors 4, 17. */
  readonly specificity: number;
  /** A name that an element must have to match: looked up before anything is tried. */
  readonly key: string;
}

/** Where elements stand among each other. Text nodes don't count. */
export interface TreeIndex {
  readonly parentOf: ReadonlyMap<INode, INode>;
  /** 1-based place among the parent's elements. */
  readonly placeOf: ReadonlyMap<INode, number>;
  readonly elementsOf: (parent: INode) => readonly INode[];
  /** Counts the tests made, across all selectors. */
  readonly work: { tests: number };
}

const ID = 1_000_000;
const CLASS = 1_000;

/** Compiles a parsed selector; null where it holds something that has no meaning for a still drawing (`:hover`). */
export function compileSelector(selector: Selector): CompiledSelector | null {
  const compounds: Compound[] = [];
  let tests: Test[] = [];
  let joined: Compound['joined'] = null;
  let specificity = 0;
  let key = '*';
  for (const part of selector.children) {
    if (part.type === 'Combinator') {
      compounds.push({ tests, joined });
      tests = [];
      key = '*';
      if (part.name !== ' ' && part.name !== '>' && part.name !== '+' && part.name !== '~') return null;
      joined = part.name;
      continue;
    }
    const simple = compileSimple(part);
    if (simple === null) return null;
    tests.push(simple.test);
    specificity += simple.weight;
    if (simple.key !== null && (key === '*' || simple.key.startsWith('#'))) key = simple.key;
  }
  compounds.push({ tests, joined });
  return compounds.every((compound) => compound.tests.length > 0) ? { compounds, specificity, key } : null;
}

/** Whether the element matches. Throws `InputError` when all matching together exceeds its cap. */
export function matches(selector: CompiledSelector, node: INode, tree: TreeIndex): boolean {
  return matchesFrom(selector.compounds, selector.compounds.length - 1, node, tree);
}

function matchesFrom(compounds: readonly Compound[], k: number, node: INode, tree: TreeIndex): boolean {
  const { tests, joined } = compounds[k];
  tree.work.tests += tests.length;
  if (tree.work.tests > MAX_SELECTOR_TESTS) {
    throw new InputError('The style sheets of the drawing take too long to apply: save it with plain attributes.');
  }
  if (!tests.every((test) => test(node, tree))) return false;
  if (k === 0) return true;
  if (joined === '>' || joined === ' ') {
    let up = tree.parentOf.get(node);
    while (up !== undefined) {
      if (matchesFrom(compounds, k - 1, up, tree)) return true;
      if (joined === '>') return false;
      up = tree.parentOf.get(up);
    }
    return false;
  }
  const parent = tree.parentOf.get(node);
  if (parent === undefined) return false;
  const siblings = tree.elementsOf(parent);
  for (let i = (tree.placeOf.get(node) as number) - 2; i >= 0; i--) {
    if (matchesFrom(compounds, k - 1, siblings[i], tree)) return true;
    if (joined === '+') return false;
  }
  return false;
}

interface Simple {
  readonly test: Test;
  readonly weight: number;
  readonly key: string | null;
}

function compileSimple(part: CssNode): Simple | null {
  if (part.type === 'TypeSelector') {
    const name = part.name.slice(part.name.lastIndexOf('|') + 1);
    if (name === '*') return { test: () => true, weight: 0, key: null };
    return { test: (node) => node.name === name, weight: 1, key: name };
  }
  if (part.type === 'IdSelector') {
    return { test: (node) => node.attributes.id === part.name, weight: ID, key: `#${part.name}` };
  }
  if (part.type === 'ClassSelector') {
    return { test: (node) => classesOf(node).includes(part.name), weight: CLASS, key: `.${part.name}` };
  }
  if (part.type === 'AttributeSelector') {
    const test = attributeTest(part);
    return test === null ? null : { test, weight: CLASS, key: null };
  }
  return part.type === 'PseudoClassSelector' ? pseudoClass(part) : null;
}

/** The class names of an element. */
export function classesOf(node: INode): readonly string[] {
  return node.attributes.class?.split(/\s+/) ?? [];
}

function attributeTest(part: AttributeSelector): Test | null {
  const name = part.name.name.replace('|', ':').replace(/^[*:]+/, '');
  const fold = (text: string) => (part.flags?.toLowerCase() === 'i' ? text.toLowerCase() : text);
  const raw = part.value === null ? '' : part.value.type === 'String' ? part.value.value : part.value.name;
  const wanted = fold(raw);
  const on = (check: (value: string) => boolean): Test => {
    return (node) => node.attributes[name] !== undefined && check(fold(node.attributes[name]));
  };
  switch (part.matcher) {
    case null:
      return on(() => true);
    case '=':
      return on((value) => value === wanted);
    case '~=':
      return on((value) => value.split(/\s+/).includes(wanted));
    case '|=':
      return on((value) => value === wanted || value.startsWith(`${wanted}-`));
    case '^=':
      return on((value) => wanted !== '' && value.startsWith(wanted));
    case '$=':
      return on((value) => wanted !== '' && value.endsWith(wanted));
    case '*=':
      return on((value) => wanted !== '' && value.includes(wanted));
    default:
      return null;
  }
}

function pseudoClass(part: PseudoClassSelector): Simple | null {
  const name = part.name.toLowerCase();
  const plain = (test: Test): Simple => ({ test, weight: CLASS, key: null });
  const alike = (node: INode, tree: TreeIndex) => {
    const siblings = siblingsOf(node, tree);
    tree.work.tests += siblings.length;
    return siblings.filter((other) => other.name === node.name);
  };
  if (name === 'root') return plain((node, tree) => !tree.parentOf.has(node));
  if (name === 'first-child') return plain((node, tree) => tree.placeOf.get(node) === 1);
  if (name === 'last-child') return plain((node, tree) => tree.placeOf.get(node) === siblingsOf(node, tree).length);
  if (name === 'only-child') return plain((node, tree) => siblingsOf(node, tree).length === 1);
  if (name === 'first-of-type') return plain((node, tree) => alike(node, tree)[0] === node);
  if (name === 'last-of-type') return plain((node, tree) => alike(node, tree).at(-1) === node);
  if (name === 'only-of-type') return plain((node, tree) => alike(node, tree).length === 1);
  if (name === 'empty') return plain((node) => node.children.length === 0);
  if (name === 'not' || name === 'is' || name === 'where' || name === 'matches') return nested(name, part);
  const inner = part.children?.first;
  if (inner?.type !== 'Nth') return null;
  const fits = nthTest(inner);
  if (fits === null || inner.selector !== null) return null;
  if (name === 'nth-child') return plain((node, tree) => fits(tree.placeOf.get(node) ?? 1));
  if (name === 'nth-last-child') {
    return plain((node, tree) => fits(siblingsOf(node, tree).length + 1 - (tree.placeOf.get(node) ?? 1)));
  }
  if (name === 'nth-of-type') return plain((node, tree) => fits(alike(node, tree).indexOf(node) + 1));
  return null;
}

function nested(name: string, part: PseudoClassSelector): Simple | null {
  const list = part.children?.first;
  if (list?.type !== 'SelectorList') return null;
  const inner: CompiledSelector[] = [];
  for (const child of list.children) {
    const compiled = child.type === 'Selector' ? compileSelector(child) : null;
    if (compiled === null) return null;
    inner.push(compiled);
  }
  const any: Test = (node, tree) => inner.some((selector) => matches(selector, node, tree));
  const weight = name === 'where' ? 0 : Math.max(...inner.map((selector) => selector.specificity));
  return { test: name === 'not' ? (node, tree) => !any(node, tree) : any, weight, key: null };
}

function siblingsOf(node: INode, tree: TreeIndex): readonly INode[] {
  const parent = tree.parentOf.get(node);
  return parent === undefined ? [node] : tree.elementsOf(parent);
}

function nthTest(nth: Nth): ((place: number) => boolean) | null {
  let a: number;
  let b: number;
  if (nth.nth.type === 'Identifier') {
    a = 2;
    b = nth.nth.name === 'odd' ? 1 : 0;
  } else {
    a = Number(nth.nth.a ?? 0);
    b = Number(nth.nth.b ?? 0);
  }
  if (!Number.isFinite(a) || !Number.isFinite(b)) return null;
  return (place) => (a === 0 ? place === b : (place - b) % a === 0 && (place - b) / a >= 0);
}
