/** Lengths that differ by no more are the same but for rounding: 0.1 µm. */
const ROUNDING_MM = 1e-4;
const NUMBER = /-?\d+(?:\.\d+)?(?:e[-+]?\d+)?/g;
const LINES_SHOWN = 3;

/** How two texts under one name differ: `rounding` (numbers alone, by at most `byMm`), `words` (a text on paper) or `other`, with the first lines that do. */
export function difference(name, before, after) {
  if (before === undefined || after === undefined) {
    return { kind: 'other', lines: [before === undefined ? 'was not there' : 'is there no more'] };
  }
  if (name.endsWith('.pdf') || name.endsWith('.png')) return { kind: 'bytes', lines: [] };
  const byMm = farthestApart(before, after);
  if (byMm !== null && byMm <= ROUNDING_MM) return { kind: 'rounding', byMm, lines: [] };
  return { kind: name.startsWith('words ') ? 'words' : 'other', lines: unlike(before, after) };
}

/** The most that two numbers at the same place of two texts differ; null where anything else does. */
function farthestApart(before, after) {
  if (before.replaceAll(NUMBER, '#') !== after.replaceAll(NUMBER, '#')) return null;
  const others = after.match(NUMBER) ?? [];
  return (before.match(NUMBER) ?? []).reduce(
    (most, text, k) => Math.max(most, Math.abs(Number(text) - Number(others[k]))),
    0,
  );
}

/** The first lines that stand in one text alone. */
function unlike(before, after) {
  const [old, now] = [before.split('\n'), after.split('\n')];
  const [had, has] = [new Set(old), new Set(now)];
  const gone = old.filter((line) => !has.has(line)).slice(0, LINES_SHOWN);
  const come = now.filter((line) => !had.has(line)).slice(0, LINES_SHOWN);
  const lines = [...gone.map((line) => `- ${line.slice(0, 300)}`), ...come.map((line) => `+ ${line.slice(0, 300)}`)];
  return lines.length > 0 ? lines : ['the same lines in another order'];
}
