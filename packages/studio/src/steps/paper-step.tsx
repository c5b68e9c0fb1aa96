/** The controls of the step "paper". */
export function PaperStep() {
  return null;
}
