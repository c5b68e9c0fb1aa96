/** What a job keeps with places on the unit, or of a sheet of one size. */
export const TAKEN_GROUPS = ['ties', 'numbers', 'done', 'proof'] as const;
export type TakenGroup = (typeof TAKEN_GROUPS)[number];

/** Size of a unit, mm. */
export interface UnitSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** At which size of the unit each group was taken; null for the present one, as in job files that do not say. */
export type TakenAt = Readonly<Record<TakenGroup, UnitSize | null>>;

/** Sides of units nearer to each other than this are the same, mm: the grid on which outlines lie. */
const SAME_SIDE_MM = 1e-4;

export function isSameSize(a: UnitSize, b: UnitSize): boolean {
  return Math.abs(a.widthMm - b.widthMm) <= SAME_SIDE_MM && Math.abs(a.heightMm - b.heightMm) <= SAME_SIDE_MM;
}

/** `300 × 420 mm`, for a sentence. */
export function sizeText({ widthMm, heightMm }: UnitSize): string {
  const mm = (v: number): number => Number(v.toFixed(2)) + 0;
  return `${mm(widthMm)} × ${mm(heightMm)} mm`;
}

/** Digits of a side in a job file, as of all lengths there. */
const SIDE_DIGITS = 12;

/** A unit's size as the job file keeps it. */
export function sizeWritten({ widthMm, heightMm }: UnitSize): string {
  const side = (mm: number): number => Number(mm.toPrecision(SIDE_DIGITS));
  return `${side(widthMm)}x${side(heightMm)}mm`;
}

/** The sizes as the job file keeps them; undefined where there is none to keep. */
export function writtenTakenAt(takenAt: TakenAt): Partial<Record<TakenGroup, string>> | undefined {
  const known = TAKEN_GROUPS.flatMap((group) => {
    const size = takenAt[group];
    return size === null ? [] : [[group, sizeWritten(size)] as const];
  });
  return known.length === 0 ? undefined : Object.fromEntries(known);
}
