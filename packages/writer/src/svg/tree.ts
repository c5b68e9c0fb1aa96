import { type INode, stringify } from 'svgson';

/** Attributes of an element; those that are undefined are left out. */
export type Attributes = Readonly<Record<string, string | undefined>>;

/** An element of the SVG tree. */
export function element(name: string, attributes: Attributes, children: readonly INode[] = []): INode {
  const kept: Record<string, string> = {};
  for (const [key, value] of Object.entries(attributes)) if (value !== undefined) kept[key] = value;
  return { name, type: 'element', value: '', attributes: kept, children: children as INode[] };
}

/**
 * Text inside an element, as the nodes that make it up. The tree's writer puts text with markup in it into a CDATA section
 * but mends only the first `]]>`, so the text is parted there: no node holds the three characters.
 */
export function textNodes(text: string): INode[] {
  return plainText(text)
    .split(/(?<=\]\])(?=>)/)
    .map((value) => ({ name: '', type: 'text', value, attributes: {}, children: [] }));
}

/** Text without what XML can't hold (control characters, halves of surrogate pairs): each becomes U+FFFD, line breaks a space. */
export function plainText(text: string): string {
  return (
    text
      .replace(/[\t\n\r]+/g, ' ')
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are just what XML 1.0, 2.2 does not allow
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '\ufffd')
      .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '\ufffd')
  );
}

/** The tree as an SVG file. */
export function writeTree(root: INode): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${stringify(root)}\n`;
}
