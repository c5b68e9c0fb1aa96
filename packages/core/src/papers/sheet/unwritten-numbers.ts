import type { Item } from '../../draw/types.js';
import type { Box } from '../../geometry/types.js';
import type { Sheet, SheetOpening } from '../../stencil/types.js';
import { isPunched } from './punch-marks.js';

/** Zones that are named one by one: all that fit a line or two. */
const NAMED_ZONES = 12;
const NOTED_ZONES = 4;

/**
 * The openings whose number a drawing of the sheet does not write, by what its layer `labels` says; those that are punched carry the size of their
 * punch instead and do not count. A drawing without that layer claims nothing, and none is missing.
 */
export function unwrittenNumbers(sheet: Sheet, items: readonly Item[]): SheetOpening[] {
  const labels = items.find((item) => item.kind === 'layer' && item.id === 'labels');
  if (labels?.kind !== 'layer') return [];
  const written = new Set<number>();
  for (const item of labels.items) {
    const number = item.kind === 'text' ? numberWritten(item.text) : null;
    if (number !== null) written.add(number);
  }
  return sheet.openings.filter((o) => !written.has(o.number) && !isPunched(o));
}

/** The opening's number that a word is, in brackets or ticked or plain, with its full stop or without; null for any other word. */
export function numberWritten(text: string): number | null {
  const found = /^(?:(\d+)\.?|\((\d+)\.?\))(?: ✓)?$/.exec(text);
  return found === null ? null : Number(found[1] ?? found[2]);
}

/** Those of the openings whose label place a window shows. */
export function openingsIn(openings: readonly SheetOpening[], { x0, y0, x1, y1 }: Box): SheetOpening[] {
  return openings.filter(({ labelAt: { x, y } }) => x >= x0 && x <= x1 && y >= y0 && y <= y1);
}

/** What to say of numbers that stand elsewhere, in a whole sentence; nothing where there are none. */
export function unwrittenWords(openings: readonly SheetOpening[], sheet: Sheet): string[] {
  if (openings.length === 0) return [];
  const zones = zoneWords(openings, sheet, NAMED_ZONES);
  const what =
    openings.length === 1
      ? 'The number of 1 small opening stands'
      : `Numbers of ${openings.length} small openings stand`;
  return [sentence(`${what} on the enlarged zone pages of the guide${zones === '' ? '' : `: ${zones}`}`)];
}

/** The same for the foot of a page, where every line takes room from the drawing. */
export function unwrittenNote(openings: readonly SheetOpening[], sheet: Sheet): string {
  if (openings.length === 0) return '';
  const zones = zoneWords(openings, sheet, NOTED_ZONES);
  const what = openings.length === 1 ? 'Number of 1 small opening' : `Numbers of ${openings.length} small openings`;
  return sentence(`${what}: see the guide${zones === '' ? '' : `, zones ${zones}`}`);
}

function zoneWords(openings: readonly SheetOpening[], { zones }: Sheet, most: number): string {
  const letters = new Set(openings.map((o) => o.zone));
  const found = zones.map((z) => z.letter).filter((letter) => letters.has(letter));
  return found.length > most ? `${found.slice(0, most).join(', ')}, …` : found.join(', ');
}

/** With its full stop, unless it trails off. */
function sentence(text: string): string {
  return text.endsWith('…') ? text : `${text}.`;
}
