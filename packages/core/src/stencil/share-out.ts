/** Which of the things are on the second sheet, and the pairs that could not be parted. */
export interface Shares {
  readonly onB: readonly boolean[];
  readonly left: readonly (readonly [number, number])[];
}

/**
 * Shares out `count` things over two sheets so that pairs which stand in each other's way come apart. Things in no pair stay on the first
 * sheet, and of every group that hangs together the fewer go to the second. Rings of odd length can't be parted wholly: the pairs left over
 * (a thing that stands in its own way among them) are given back. Throws `RangeError` for a pair of things that are not there.
 */
export function shareOut(count: number, apart: readonly (readonly [number, number])[]): Shares {
  const foes: number[][] = Array.from({ length: count }, () => []);
  for (const [a, b] of apart) {
    if (!(a in foes && b in foes)) throw new RangeError(`got the pair ${a} and ${b}, expected numbers below ${count}`);
    if (a === b) continue;
    foes[a].push(b);
    foes[b].push(a);
  }
  const onB: (boolean | undefined)[] = new Array(count);
  for (let start = 0; start < count; start++) {
    if (onB[start] !== undefined) continue;
    const group = [start];
    onB[start] = false;
    for (let k = 0; k < group.length; k++) {
      for (const foe of foes[group[k]]) {
        if (onB[foe] !== undefined) continue;
        onB[foe] = !onB[group[k]];
        group.push(foe);
      }
    }
    settle(group, foes, onB as boolean[]);
    if (2 * group.filter((k) => onB[k]).length > group.length) for (const k of group) onB[k] = !onB[k];
  }
  const sides = onB as boolean[];
  return { onB: sides, left: apart.filter(([a, b]) => sides[a] === sides[b]) };
}

/** Moves things of a group over while that parts more pairs than it brings together. Every move lowers the count of pairs left, so it ends. */
function settle(group: readonly number[], foes: readonly (readonly number[])[], onB: boolean[]): void {
  const todo = [...group];
  for (let k = todo.pop(); k !== undefined; k = todo.pop()) {
    const here = k;
    const together = foes[here].filter((foe) => onB[foe] === onB[here]).length;
    if (2 * together <= foes[here].length) continue;
    onB[here] = !onB[here];
    todo.push(...foes[here]);
  }
}
