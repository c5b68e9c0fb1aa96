import { InputError } from '@okuri/core';
import { listText, MM_PER_INCH, quote } from '@okuri/core/inside';
import type { ScanPiece } from './join-types.js';
import type { PairFit } from './piece-pairs.js';
import type { PiecePlaces } from './place-pieces.js';

/** Most pieces: a drawing of 600 × 900 mm has some twelve of A4. */
export const JOIN_PIECES_MAX = 24;

/** Fewer pixels a mm than this (50 dpi) don't show where a knife goes. */
const LEAST_PER_MM = 2;

/** A piece must be at least this wide and high, mm: smaller than an overlap is no piece. */
const LEAST_PIECE_MM = 20;

/** A second way to lay a pair that has this share of the first one's agreeing outline is told of. */
const NEARLY_AS_GOOD = 0.7;

/** Throws an `InputError` for pieces that can't be joined whatever they show. */
export function checkPieces(pieces: readonly ScanPiece[], pixelsPerMm: number): void {
  if (pieces.length < 2) {
    throw new InputError('Joining needs two scans or more: give all scans of the drawing.');
  }
  if (pieces.length > JOIN_PIECES_MAX) {
    throw new InputError(
      `${pieces.length} scans are more than can be joined at once (${JOIN_PIECES_MAX}): scan larger pieces, or join some first.`,
    );
  }
  if (pixelsPerMm < LEAST_PER_MM) {
    throw new InputError(
      `${Math.round(pixelsPerMm * MM_PER_INCH)} dpi is too coarse to join scans: scan at 200 dpi or more, or check the resolution.`,
    );
  }
  for (const { name, image } of pieces) {
    const widthMm = image.width / pixelsPerMm;
    const heightMm = image.height / pixelsPerMm;
    if (Math.min(widthMm, heightMm) < LEAST_PIECE_MM) {
      throw new InputError(
        `${quote(name)} is only ${widthMm.toFixed(1)} × ${heightMm.toFixed(1)} mm at ${Math.round(pixelsPerMm * MM_PER_INCH)} dpi: scan a piece of at least ${LEAST_PIECE_MM} mm each way, or check the resolution.`,
      );
    }
  }
}

/** Names the smaller sets of pieces that hang on nothing. */
export function nothingInCommon(
  pieces: readonly { readonly name: string }[],
  groups: readonly (readonly number[])[],
  overlapMm: number,
): string {
  const main = groups.reduce((most, group) => (group.length > most.length ? group : most));
  const again = `with at least ${overlapMm} mm of overlap with ink in it`;
  const called = (k: number): string => `${k + 1} (${quote(pieces[k].name)})`;
  if (pieces.length === 2) {
    return `Pieces ${called(0)} and ${called(1)} have nothing in common: scan them again ${again}.`;
  }
  const loose = groups.filter((group) => group !== main);
  const one = loose.length === 1 && loose[0].length === 1;
  const words = loose.map((group) => listText(group.map(called))).join('; ');
  const rest = main.length === 1 ? 'each other or the rest' : 'the others';
  return one
    ? `Piece ${words} has nothing in common with ${rest}: scan it again ${again}.`
    : `Pieces ${words} have nothing in common with ${rest}: scan them again ${again}.`;
}

/** Sentences about pairs that could lie otherwise too, or look alike where they don't overlap. */
export function doubtsOf(
  pieces: readonly { readonly name: string }[],
  fits: readonly (readonly PairFit[])[],
  { refused, pairs }: PiecePlaces,
): string[] {
  const name = (k: number): string => quote(pieces[k].name);
  const second = fits.flatMap(([best, next]) => {
    if (best === undefined || next === undefined || next.points < NEARLY_AS_GOOD * best.points) return [];
    if (!pairs.some(({ a, b }) => a === best.a && b === best.b)) return [];
    return [
      `${name(best.a)} and ${name(best.b)} can be laid on each other in two ways that agree nearly as well (${best.points} and ${next.points} outline points): look at their line of joining, or scan them again with more overlap.`,
    ];
  });
  const against = refused
    .filter(({ a, b }) => !pairs.some((pair) => pair.a === a && pair.b === b))
    .map(
      ({ a, b }) =>
        `${name(a)} and ${name(b)} look alike in a place where other pieces show that they don't overlap: a repeated motif, most likely.`,
    );
  return [...new Set([...second, ...against])];
}
