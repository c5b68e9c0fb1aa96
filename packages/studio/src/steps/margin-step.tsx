/** The controls of the step "margin". */
export function MarginStep() {
  return null;
}
