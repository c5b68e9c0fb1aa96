import { type Drawing, InputError, type Item } from '@okuri/core';

/**
 * The names of all groups that the items place, directly or through other groups, each after those it is made of. Groups
 * that nothing places are left out. Throws an `InputError` for a group that does not exist or that holds itself.
 */
export function groupOrder(drawing: Drawing, items: readonly Item[]): string[] {
  const done = new Set<string>();
  const open = new Set<string>();
  const visit = (list: readonly Item[]): void => {
    for (const item of list) {
      if (item.kind === 'clip' || item.kind === 'layer') visit(item.items);
      if (item.kind !== 'place' || item.at.length === 0 || done.has(item.group)) continue;
      if (open.has(item.group))
        throw new InputError(`The group "${item.group}" of the drawing "${drawing.title}" holds itself.`);
      open.add(item.group);
      visit(groupItems(drawing, item.group));
      open.delete(item.group);
      done.add(item.group);
    }
  };
  visit(items);
  return [...done];
}

/** The items of a group. Throws an `InputError` when the drawing has no group of that name. */
export function groupItems(drawing: Drawing, name: string): readonly Item[] {
  if (!Object.hasOwn(drawing.groups, name)) {
    throw new InputError(`The drawing "${drawing.title}" places a group "${name}" that it does not have.`);
  }
  return drawing.groups[name];
}
