/** The controls of the step "motif". */
export function MotifStep() {
  return null;
}
