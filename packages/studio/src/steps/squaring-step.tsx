/** The controls of the step "squaring". */
export function SquaringStep() {
  return null;
}
