/** Rows of a list that a person reads, two spaces in, columns under one another; those in `figures` stand by their last digit. */
export function textTable(
  heads: readonly string[],
  rows: readonly (readonly string[])[],
  figures: readonly number[] = [],
): string[] {
  const widths = heads.map((head, c) => rows.reduce((width, row) => Math.max(width, row[c].length), head.length));
  return [heads, ...rows].map((row) => {
    const cells = row.map((text, c) => (figures.includes(c) ? text.padStart(widths[c]) : text.padEnd(widths[c])));
    return `  ${cells.join('  ')}`.trimEnd();
  });
}
