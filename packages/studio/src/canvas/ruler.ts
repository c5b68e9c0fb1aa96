import { MM_PER_INCH } from '@okuri/core/inside';
import type { Units } from '../words/lengths';

/** A mark of a ruler. */
export interface RulerMark {
  readonly mm: number;
  /** Written beside it; null for a plain mark. */
  readonly text: string | null;
  /** 1 for the longest marks, less for those between. */
  readonly length: 1 | 0.6 | 0.35;
}

/** Numbers stand at least so far apart, px. */
const NUMBER_GAP_PX = 60;
/** Steps between numbers: in mm, and in inches (halves and less between them). */
const STEPS_MM = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000];
const STEPS_IN = [1, 2, 6, 12, 36, 72, 180, 360];
const PARTS_IN = [1 / 16, 1 / 8, 1 / 4, 1 / 2];

/** The marks between two places (mm) at so many px a mm. */
export function rulerMarks(from: number, to: number, pxPerMm: number, units: Units): RulerMark[] {
  const unit = units === 'mm' ? 1 : MM_PER_INCH;
  const steps = units === 'mm' ? STEPS_MM : [...PARTS_IN, ...STEPS_IN];
  const step = steps.find((one) => one * unit * pxPerMm >= NUMBER_GAP_PX) ?? (steps.at(-1) as number);
  const parts = units === 'mm' ? 10 : step >= 6 ? 6 : 4;
  const small = (step / parts) * unit;
  const marks: RulerMark[] = [];
  for (let k = Math.ceil(from / small); k * small <= to; k++) {
    const whole = k % parts === 0;
    const half = (2 * k) % parts === 0;
    marks.push({
      mm: k * small,
      text: whole ? numberText((k / parts) * step) : null,
      length: whole ? 1 : half ? 0.6 : 0.35,
    });
  }
  return marks;
}

function numberText(value: number): string {
  return String(Number(value.toFixed(4)));
}
