import { dotFrame } from '../../register/dots.js';
import { type SquareLimits, squareLimits } from '../../register/limits.js';
import type { Sheet } from '../../stencil/types.js';
import { formatMm } from '../../units/format.js';

/** A share smaller than this is not worth a word, per cent: a hundredth of a mm over a sheet of a metre. */
const SAID_PERCENT = 0.001;

/** How a dry drawing differs from what prints, for every page; null where it doesn't: `Drawn 0.3 % narrower and 1.48 % lower, …`. */
export function movementWords({ register, practice }: Pick<Sheet, 'register' | 'practice'>): string | null {
  if (!register.dry || register.movement === null) return null;
  const { widthPercent, heightPercent } = register.movement;
  const across = shrunk(widthPercent, ['narrower', 'wider']);
  const down = shrunk(heightPercent, ['lower', 'higher']);
  const parts = [across, down].filter((part) => part !== null);
  if (parts.length === 0) return null;
  const grain = practice.grain === null ? '' : ` (grain ${practice.grain})`;
  return `Drawn ${parts.join(' and ')} than it prints, for paper that moves when it is soaked${grain}.`;
}

/** What must not differ on a sheet with dots, dry or soaked. */
export function sheetLimits({ dots, register }: Pick<Sheet, 'dots' | 'register'>): SquareLimits {
  const { x0, y0, x1, y1 } = dotFrame(dots);
  return squareLimits({ widthMm: x1 - x0, heightMm: y1 - y0 }, register.stepping);
}

/** The sheet's size soaked, and how its dots are punched; null where nothing moves and dots are pricked through. For the first page. */
export function punchWords(sheet: Sheet): string | null {
  const { register, widthMm, heightMm } = sheet;
  const moved = movementWords(sheet);
  const wet =
    moved === null || register.movement === null
      ? ''
      : `Soaked, this sheet becomes ${formatMm(widthMm * (1 + register.movement.widthPercent / 100), 1)} × ${formatMm(heightMm * (1 + register.movement.heightPercent / 100), 1)}; the bars on the pages are not scaled with it.`;
  const punch =
    register.punch === 'wet'
      ? 'The dots are not pricked through: they are measured on the soaked sheet, in the order that the cut guide gives.'
      : '';
  const words = [wet, punch].filter((text) => text !== '').join(' ');
  return words === '' ? null : words;
}

/** The heading of dot measures says what they are measured on, where that matters. */
export function measuredOn({ register }: Pick<Sheet, 'register'>, drawnDry: boolean): string {
  if (register.punch === 'wet') return 'on the soaked sheet';
  return drawnDry ? 'on the dry paper' : '';
}

/** `0.3 % narrower`: what is lost by dividing by 1 + movement. */
function shrunk(percent: number, [less, more]: readonly [string, string]): string | null {
  const lost = 100 * (1 - 1 / (1 + percent / 100));
  if (Math.abs(lost) < SAID_PERCENT) return null;
  return `${Number(Math.abs(lost).toFixed(3))} % ${lost > 0 ? less : more}`;
}
