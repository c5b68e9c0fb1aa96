import type { Colour, Drawing, Item } from '@okuri/core';

/** Items with their colours exchanged; colours that are not in the map (keys in lower case) stay. Placed groups are not followed. */
export function recoloured(items: readonly Item[], colours: ReadonlyMap<Colour, Colour>): Item[] {
  const change = (colour: Colour): Colour => colours.get(colour.toLowerCase()) ?? colour;
  return items.map((item): Item => {
    switch (item.kind) {
      case 'path':
        return {
          ...item,
          ...(item.fill !== undefined && { fill: change(item.fill) }),
          ...(item.line !== undefined && { line: { ...item.line, colour: change(item.line.colour) } }),
        };
      case 'text':
        return { ...item, colour: change(item.colour) };
      case 'place':
        return item;
      default:
        return { ...item, items: recoloured(item.items, colours) };
    }
  });
}

/** The drawing with the colours of its groups exchanged; its pages stay as they are. */
export function recolouredGroups(drawing: Drawing, colours: ReadonlyMap<Colour, Colour>): Drawing {
  const groups = Object.entries(drawing.groups).map(([name, items]) => [name, recoloured(items, colours)]);
  return { ...drawing, groups: Object.fromEntries(groups) };
}
