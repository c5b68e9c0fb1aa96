/** Digits of a length in a job file: 1e-9 mm at a metre, so that reading it back gives the same job. */
const LENGTH_DIGITS = 12;

/** A length as the job file has it: whole tenths of metres from one metre on in metres, all else in mm. */
export function lengthText(mm: number): string {
  const value = Number(mm.toPrecision(LENGTH_DIGITS));
  return value >= 1_000 && value % 100 === 0 ? `${value / 1_000}m` : `${value}mm`;
}
