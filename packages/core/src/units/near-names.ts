/** Of the `known` names the ones that a slip of the pen may have meant, the nearest first; case is of no account. */
export function nearNames(name: string, known: readonly string[], limit = 4): string[] {
  const wanted = name.trim().toLowerCase();
  // A third of the letters, and one at least, may be wrong.
  const slack = Math.max(1, Math.floor(wanted.length / 3));
  return known
    .map((one) => ({ one, distance: editDistance(wanted, one.toLowerCase()) }))
    .filter(({ distance }) => distance <= slack)
    .sort((a, b) => a.distance - b.distance)
    .slice(0, limit)
    .map(({ one }) => one);
}

/** Letters to insert, delete or exchange to turn one text into the other (Levenshtein 1965). */
export function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, k) => k);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let k = 1; k <= b.length; k++) {
      const exchange = row[k - 1] + (a[i - 1] === b[k - 1] ? 0 : 1);
      next.push(Math.min(exchange, row[k] + 1, next[k - 1] + 1));
    }
    row = next;
  }
  return row[b.length];
}
