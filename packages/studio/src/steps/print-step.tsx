/** The controls of the step "print". */
export function PrintStep() {
  return null;
}
