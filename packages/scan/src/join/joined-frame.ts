import { InputError, type Matrix, type Point } from '@okuri/core';
import { MM_PER_INCH } from '@okuri/core/inside';
import type { PieceMotion } from './join-types.js';
import { cornersOf, type Rectangle } from './overlap-area.js';

/** Most pixels of a joined picture: 300 MB at 8 bits. */
export const JOIN_PIXELS_MAX = 300e6;

/** What a corner sticks out by rounding is no pixel, px. */
const ROUNDING_PX = 1e-6;

const DEGREES = 180 / Math.PI;

/** The picture that pieces are joined into. */
export interface JoinedFrame {
  /** px. */
  readonly width: number;
  readonly height: number;
  /** From the first piece's frame to that of the picture, whole px. */
  readonly shift: Point;
}

/** The box around all pieces, in the first one's direction. Throws an `InputError` where that has too many pixels. */
export function joinedFrame(sheets: readonly Rectangle[], motions: readonly Matrix[], perMm: number): JoinedFrame {
  const corners = sheets.flatMap((sheet, k) => cornersOf(sheet, motions[k]));
  const x0 = Math.floor(Math.min(...corners.map(({ x }) => x * perMm)) + ROUNDING_PX);
  const y0 = Math.floor(Math.min(...corners.map(({ y }) => y * perMm)) + ROUNDING_PX);
  const width = Math.ceil(Math.max(...corners.map(({ x }) => x * perMm)) - ROUNDING_PX) - x0;
  const height = Math.ceil(Math.max(...corners.map(({ y }) => y * perMm)) - ROUNDING_PX) - y0;
  if (width * height > JOIN_PIXELS_MAX) {
    const dpi = Math.floor(perMm * MM_PER_INCH * Math.sqrt(JOIN_PIXELS_MAX / (width * height)));
    throw new InputError(
      `The joined picture would be ${Math.round(width / perMm)} × ${Math.round(height / perMm)} mm and ${Math.round((width * height) / 1e6)} million pixels, more than ${JOIN_PIXELS_MAX / 1e6} million: scan at ${dpi} dpi or coarser.`,
    );
  }
  return { width, height, shift: { x: 0 - x0, y: 0 - y0 } };
}

/** A motion in px, from a piece to the joined picture. */
export function pxMotion([a, b, c, d, e, f]: Matrix, perMm: number, { shift }: JoinedFrame): Matrix {
  return [a, b, c, d, e * perMm + shift.x, f * perMm + shift.y];
}

/** A motion as it is said. */
export function saidMotion([a, b, , , e, f]: Matrix, perMm: number, { shift }: JoinedFrame): PieceMotion {
  return { turnDeg: Math.atan2(b, a) * DEGREES, shiftMm: { x: e + shift.x / perMm, y: f + shift.y / perMm } };
}
