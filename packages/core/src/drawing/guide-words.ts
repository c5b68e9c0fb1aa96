import type { Lattice } from '../repeat/types.js';
import type { Sheet } from '../stencil/types.js';
import { formatMm, nearestInches } from '../units/format.js';
import { cutsBeyondHoldLine } from './sheet-words.js';

/** Sizes in inches are given to this part of an inch, as the dot measures are. */
const RULER_PARTS = 32;

/** The repeat in the trade's words: `half-drop`, `drop of 1/3: …`. */
export function repeatWords({ repeat }: Lattice): string {
  const { p, q } = repeat.step;
  if (repeat.kind === 'straight' || p === 0) return 'straight';
  const share = `${p}/${q}`;
  const half = p === 1 && q === 2;
  if (repeat.kind === 'drop') {
    return half
      ? 'half-drop: every column lower than the one on its left by half the unit’s height'
      : `drop of ${share}: every column lower than the one on its left by ${share} of the unit’s height`;
  }
  return half
    ? 'brick: every row further right than the one above by half the unit’s width'
    : `brick of ${share}: every row further right than the one above by ${share} of the unit’s width`;
}

/** `420 × 560 mm (16 17/32 × 22 1/16 in)`. */
export function sizeWords(widthMm: number, heightMm: number): string {
  const inches = [widthMm, heightMm].map((mm) => nearestInches(mm, RULER_PARTS).text);
  return `${formatMm(widthMm).replace(' mm', '')} × ${formatMm(heightMm)} (${inches.join(' × ')} in)`;
}

/** The one sentence about the held margin that must not be missed. */
export function stopWords(sheet: Sheet): string {
  if (!sheet.heldRight && !sheet.heldBottom) return 'Nothing is held on this sheet: all of it is cut before the proof.';
  const cut = 'Cut nothing in the held margin before the printed proof is in hand.';
  if (!cutsBeyondHoldLine(sheet)) return cut;
  return 'Beyond the hold line cut only what is drawn solid; all that is dotted waits until the printed proof is in hand.';
}

/** Which sides are held, in words. */
export function heldWords({ heldRight, heldBottom }: Sheet): string {
  const right = heldRight && `${formatMm(heldRight.x1 - heldRight.x0, 1)} along the right`;
  const bottom = heldBottom && `${formatMm(heldBottom.y1 - heldBottom.y0, 1)} along the bottom`;
  return [right, bottom].filter((s) => s !== null).join(', ') || 'none';
}

/** The order of work for a sheet, one step each. */
export function workingOrder(sheet: Sheet): string[] {
  const held = sheet.heldRight !== null || sheet.heldBottom !== null;
  return [
    'Lay the sheet with “THIS SIDE UP” facing you and clip its upper left corner off: turned sheets look alike.',
    sheet.dots.length > 0
      ? 'Punch the dots, then check all dot measures with a ruler, diagonals too, before any cut.'
      : 'Check the drawing with a ruler against the sizes above before any cut.',
    'Cut the openings of the first cut in the order of the list, small ones before large ones, and tick each off. Turn the sheet, not the wrist; stop at corners and let two cuts meet there.',
    'Cut on the middle of the solid black outline. The tinted side of it is the waste; lift it out only when it is free all around.',
    ...(held
      ? [
          'Where a heavy bar with two ticks stands on the hold line, end the cut at the line and cut straight across along the bar, so that the waste comes out. The part beyond waits.',
          'Stop. Print the proof, lay it against the drawing, and only then make the second cut: the dotted outlines, corrected to where the proof shows them.',
        ]
      : []),
  ];
}

/** The usual cautions. */
export const CAUTIONS: readonly string[] = [
  'The blade is sharp. Keep the hand that holds the paper behind the blade and out of its path, and cut away from that hand. Use a mat larger than the work, and a safety ruler for straight cuts.',
  'Change the blade as soon as it drags; a blunt one needs force and slips. Used blades go into a closed, puncture-proof box, never loose into the bin. Cap the knife when it is set down.',
  'Dye, pigment, lime and soda: read the safety data sheet of each before opening it. Wear gloves, see to ventilation, and wear a dust mask when handling powders. No food or drink at the table, and no kitchen tools.',
  'Printing on treated, oiled or waxed paper: follow the guidance of the printer’s and the paper’s makers. In doubt print on plain paper and fix that over the sheet.',
  'Local rules and qualified advice come before anything said here.',
];
