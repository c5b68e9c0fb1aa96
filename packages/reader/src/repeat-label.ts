import type { INode } from 'svgson';

/** Where drawing programs keep the name that a person gives to an element. */
const NAMES = ['id', 'inkscape:label', 'data-name', 'aria-label', 'serif:id'];

/** Whether a person named the element as the box that repeats: `repeat`, in any case of letters. */
export function isRepeatLabelled(node: INode): boolean {
  return NAMES.some((name) => node.attributes[name]?.trim().toLowerCase() === 'repeat');
}
