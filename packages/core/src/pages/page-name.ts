const LETTERS = 26;

/** The name of a page: its row as a letter (A to Z, then AA, AB, …), its column as a number from 1. Both are 0-based. */
export function pageName(row: number, column: number): string {
  let letters = '';
  for (let k = row + 1; k > 0; k = Math.floor((k - 1) / LETTERS)) {
    letters = String.fromCharCode(0x41 + ((k - 1) % LETTERS)) + letters;
  }
  return `${letters}${column + 1}`;
}
