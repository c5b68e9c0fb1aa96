/** The controls of the step "cloth". */
export function ClothStep() {
  return null;
}
