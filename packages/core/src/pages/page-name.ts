/** The name of a page by its place in reading order, from 0: `P1`, `P2`, … */
export function pageName(index: number): string {
  return `P${index + 1}`;
}
