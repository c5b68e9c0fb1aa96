import { stopWhenWords } from '../../register/limit-words.js';
import type { Lattice } from '../../repeat/types.js';
import type { Sheet } from '../../stencil/types.js';
import { formatMm, inchFigure } from '../../units/format.js';
import { sheetLimits } from './movement-words.js';
import { hasRelease } from './paper-words.js';
import { cutsBeyondHoldLine } from './sheet-words.js';

/** The repeat in the trade's words: `straight`, `half-drop`, `drop of 1/3`, `brick`. */
export function repeatWords({ repeat }: Lattice): string {
  const { p, q } = repeat.step;
  if (repeat.kind === 'straight' || p === 0) return 'straight repeat';
  const half = p === 1 && q === 2;
  if (repeat.kind === 'drop') return half ? 'half-drop repeat' : `drop repeat of ${p}/${q}`;
  return half ? 'brick repeat' : `brick repeat of ${p}/${q}`;
}

/** `420 × 560 mm (16 17/32 × 22 3/64 in)`. */
export function sizeWords(widthMm: number, heightMm: number): string {
  const inches = [widthMm, heightMm].map((mm) => inchFigure(mm).text);
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

/** The steps of the work in their order; those that the job does not use fall away. */
export function workSteps(sheet: Sheet): string[] {
  const { gauze, soak } = sheet.practice;
  const second = sheet.openings.some((o) => o.secondCut.length > 0);
  const release = hasRelease(sheet);
  return [
    'first cut',
    'proof',
    ...(second ? ['second cut'] : []),
    ...(gauze || release ? ['gauze', 'dry'] : []),
    ...(release ? ['release cut'] : []),
    ...(soak ? ['soak'] : []),
    'square',
    'print',
  ];
}

/** How to cut, one step each. */
export function cuttingRules(sheet: Sheet): string[] {
  const held = sheet.heldRight !== null || sheet.heldBottom !== null;
  const ties = sheet.ties.length > 0;
  return [
    sheet.dots.length > 0 && sheet.register.punch === 'wet'
      ? 'Punch no dot yet: they are measured on the soaked sheet (“Punch and square”).'
      : sheet.dots.length > 0
        ? 'Punch the dots, check every dot measure (page of the overview), diagonals too.'
        : 'Check the sheet’s sizes with a ruler.',
    'Work zone by zone, in the order of each list; tick off. Turn the sheet, not the wrist.',
    'Cut on the middle of the solid line; grey comes out. Two cuts meet in a corner; lift only what is free all around.',
    ...(ties ? ['Leave ties standing: T for good, R until the release cut. Cut along their sides, never across.'] : []),
    ...(held ? ['At a bar marked “stop” end the cut and cut across along the bar. Dotted waits for the proof.'] : []),
  ];
}

/** What to do after a slip of the knife. */
export const AFTER_A_SLIP: readonly string[] = [
  'Into the grey: no harm, cut on.',
  'Into the paper: press flat, stick a piece of the same paper on from the back, 5 mm larger all around, let dry, cut the outline again through both.',
  'Note the number and tell the dyer.',
];

/** When the assistant must not go on alone. */
export function callTheDyer(sheet: Sheet): string[] {
  const second = sheet.openings.some((o) => o.secondCut.length > 0);
  return [
    sheet.dots.length === 0
      ? 'the paper buckles;'
      : `from dot to dot, ${stopWhenWords(sheetLimits(sheet))}, or the paper buckles;`,
    'a strip of paper tears, or a piece falls out that is not grey;',
    'page and guide disagree, or a number can’t be found;',
    second ? 'the first cut is done: the proof comes before the second.' : 'all is cut: the proof comes next.',
  ];
}

/** The cautions of a sheet: the usual ones, and that of the release cut where there is one. */
export function cautions(sheet: Sheet): readonly string[] {
  return hasRelease(sheet) ? [CAUTIONS[0], RELEASE_CAUTION, ...CAUTIONS.slice(1)] : CAUTIONS;
}

/** The cautions of printing: all but that of the blade. */
export function printCautions(): readonly string[] {
  return CAUTIONS.slice(1);
}

export const RELEASE_CAUTION =
  'Release cut: on the mat, blade shallow, away from gauze and hand: only the paper is cut.';

/** The usual cautions. */
const CAUTIONS: readonly string[] = [
  'Blade: keep the holding hand behind it and cut away from that hand. A mat larger than the work, a safety ruler. Change a blade that drags; used ones go into a closed, puncture-proof box.',
  'Dye, pigment, lime, soda: read each safety data sheet first; gloves, ventilation, a dust mask for powders. No food or drink at the table.',
  'Treated, oiled or waxed paper: follow the printer’s and the paper maker’s guidance before printing on it.',
  'Local rules and qualified advice come before anything said here.',
];
