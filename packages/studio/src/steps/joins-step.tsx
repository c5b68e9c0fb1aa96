/** The controls of the step "joins". */
export function JoinsStep() {
  return null;
}
