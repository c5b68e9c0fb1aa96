/** The controls of the step "proof". */
export function ProofStep() {
  return null;
}
