import { InputError } from '@okuri/core';
import { evenGreys } from './even-greys.js';
import type { JoinedScans, JoinScansOptions, ScanPiece } from './join-types.js';
import { checkPieces, doubtsOf, nothingInCommon } from './join-words.js';
import { joinedFrame, pxMotion, saidMotion } from './joined-frame.js';
import { layPieces } from './lay-pieces.js';
import { pieceFeatures } from './piece-features.js';
import { type PairFit, pairFits } from './piece-pairs.js';
import { type PieceSheet, pieceSheets } from './piece-sheet.js';
import { type PiecePlaces, placePieces } from './place-pieces.js';

/** Radii of the discs by which overlaps are found, mm: two of the first fit side by side into an overlap of 20 mm, of the last into one of 12 mm. */
const DISCS_MM = [5, 3] as const;

/** Overlap that sentences ask for. */
const OVERLAP_MM = 20;

/** How wide pieces change into each other on either side of the line between them, mm. */
const BLEND_MM = 0.5;

/**
 * Joins several scans of one drawing by what they show alike where they overlap. Pieces may lie in any order and turned in any way; their scale is the same.
 * The joined picture has the first piece's direction and greys. Throws an `InputError` that names the pieces where some can't be joined or the
 * picture would be too large; a `RangeError` for a resolution that is none.
 */
export function joinScans(pieces: readonly ScanPiece[], options: JoinScansOptions): JoinedScans {
  const { pixelsPerMm, overlapMm = OVERLAP_MM, progress } = options;
  if (!(pixelsPerMm > 0 && Number.isFinite(pixelsPerMm))) {
    throw new RangeError(`pixelsPerMm: got ${pixelsPerMm}, expected a number above zero`);
  }
  checkPieces(pieces, pixelsPerMm);
  progress?.('outlines of the pieces', 0);
  const sheets = pieceSheets(pieces, pixelsPerMm);
  const { fits, places } = found(sheets, progress);
  if (places.groups.length > 1) throw new InputError(nothingInCommon(sheets, places.groups, overlapMm));
  const frame = joinedFrame(sheets, places.motions, pixelsPerMm);
  const white = pieces.map(({ image }) => image.white);
  const greys = evenGreys(sheets, places.motions, places.pairs, white);
  const image = layPieces(
    pieces.map(({ image }, k) => ({ image, motion: pxMotion(places.motions[k], pixelsPerMm, frame), greys: greys[k] })),
    {
      width: frame.width,
      height: frame.height,
      white: white.includes(65535) ? 65535 : 255,
      ground: sheets[0].fine.paper / white[0],
      blendPx: Math.max(1, BLEND_MM * pixelsPerMm),
      ...(progress === undefined ? {} : { progress: (share: number) => progress('joined picture', share) }),
    },
  );
  return {
    image,
    placed: sheets.map(({ name }, k) => ({ name, motion: saidMotion(places.motions[k], pixelsPerMm, frame) })),
    overlaps: places.pairs.map(({ a, b, areaMm2, points, meanMm, largestMm, agreement }) => ({
      a: sheets[a].name,
      b: sheets[b].name,
      areaMm2,
      points,
      meanMm,
      largestMm,
      agreement,
    })),
    doubts: doubtsOf(sheets, fits, places),
  };
}

/** Looks for overlaps, first by large discs, then by smaller ones between pieces that hang on nothing yet. */
function found(
  sheets: readonly PieceSheet[],
  progress: JoinScansOptions['progress'],
): { fits: PairFit[][]; places: PiecePlaces } {
  const fits: PairFit[][] = [];
  let places = placePieces(sheets, []);
  for (const [round, discMm] of DISCS_MM.entries()) {
    if (places.groups.length === 1) break;
    const features = pieceFeatures(sheets, { discMm });
    const groupOf = sheets.map((_, k) => places.groups.findIndex((group) => group.includes(k)));
    for (let a = 0; a < sheets.length; a++) {
      progress?.('overlaps', (round + a / sheets.length) / DISCS_MM.length);
      for (let b = a + 1; b < sheets.length; b++) {
        if (groupOf[a] !== groupOf[b]) fits.push(pairFits(sheets, features, [a, b]));
      }
    }
    progress?.('places of the pieces', round / DISCS_MM.length);
    places = placePieces(sheets, fits.flat());
  }
  return { fits, places };
}
