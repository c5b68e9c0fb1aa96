/** A number to so many decimals, never `-0`. By default to a ten-thousandth: of a mm 0.1 µm, finer than anything drawn. */
export function rounded(value: number, decimals = 4): number {
  return Number(value.toFixed(decimals)) + 0;
}
