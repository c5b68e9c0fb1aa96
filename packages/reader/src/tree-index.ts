import type { INode } from 'svgson';
import type { TreeIndex } from './selectors.js';

/** A tree with what is looked up in it. */
export interface IndexedTree extends TreeIndex {
  readonly byId: ReadonlyMap<string, INode>;
  /** How notices and errors name an element: `<path id="leaf">`, or `path[12]` for the twelfth path of the drawing. */
  readonly labels: ReadonlyMap<INode, string>;
  /** The texts of the `style` elements. */
  readonly sheets: readonly string[];
}

/** Looks through the tree once, in document order. Where an id is used twice, its first element counts. */
export function indexTree(root: INode): IndexedTree {
  const parentOf = new Map<INode, INode>();
  const placeOf = new Map<INode, number>();
  const byId = new Map<string, INode>();
  const labels = new Map<INode, string>();
  const counts = new Map<string, number>();
  const sheets: string[] = [];
  const lists = new Map<INode, readonly INode[]>();
  const look = (node: INode) => {
    const n = (counts.get(node.name) ?? 0) + 1;
    counts.set(node.name, n);
    const { id } = node.attributes;
    labels.set(node, id ? `<${node.name} id="${id.slice(0, 80)}">` : `${node.name}[${n}]`);
    if (id && !byId.has(id)) byId.set(id, node);
    if (node.name === 'style' && /^(?:|text\/css)$/i.test(node.attributes.type?.trim() ?? '')) {
      sheets.push(node.children.map((child) => child.value).join(''));
    }
    let place = 0;
    for (const child of node.children) {
      if (child.type !== 'element') continue;
      place++;
      parentOf.set(child, node);
      placeOf.set(child, place);
      look(child);
    }
  };
  look(root);
  const elementsOf = (parent: INode): readonly INode[] => {
    let list = lists.get(parent);
    if (list === undefined) {
      list = parent.children.filter((child) => child.type === 'element');
      lists.set(parent, list);
    }
    return list;
  };
  return { parentOf, placeOf, elementsOf, byId, labels, sheets, work: { tests: 0 } };
}
