/** The sum of the whole numbers from 1 on. Only here so that the mutants' own machinery has something small to be tried on. */
export function tally(upTo: number): number {
  let sum = 0;
  for (let k = 1; k <= upTo; k++) sum += k;
  return sum;
}

/** How often a number can be halved before it is 1 or less. */
export function halvings(of: number): number {
  let [rest, count] = [of, 0];
  while (rest > 1) {
    rest = rest / 2;
    count++;
  }
  return count;
}
