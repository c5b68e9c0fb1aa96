import type { GreyImage } from '@okuri/core';

/** One scan of a part of a drawing. */
export interface ScanPiece {
  /** How sentences call it: the name of its file. */
  readonly name: string;
  readonly image: GreyImage;
}

/** How a piece was moved to its place in the joined picture: turned about its upper left corner, then shifted. */
export interface PieceMotion {
  /** Clockwise as seen. */
  readonly turnDeg: number;
  /** Where its upper left corner lies in the joined picture, mm. */
  readonly shiftMm: { readonly x: number; readonly y: number };
}

export interface PlacedPiece {
  readonly name: string;
  readonly motion: PieceMotion;
}

/** Two pieces that lie over each other in part, and how well their outlines fall together there. */
export interface PieceOverlap {
  /** Names of the pieces. */
  readonly a: string;
  readonly b: string;
  readonly areaMm2: number;
  /** Outline points that both pieces show, and their middle and largest distance across the outline, mm. */
  readonly points: number;
  readonly meanMm: number;
  readonly largestMm: number;
  /** Share of the outline points of both pieces that the other one shows too, 0 to 1. */
  readonly agreement: number;
}

/** Several scans as one picture. */
export interface JoinedScans {
  readonly image: GreyImage;
  /** In the order of the pieces. The first is not turned, and is shifted by whole pixels. */
  readonly placed: readonly PlacedPiece[];
  /** All pairs that overlap and share outlines. */
  readonly overlaps: readonly PieceOverlap[];
  /** Sentences about places where the pieces could also lie otherwise, or do not agree. */
  readonly doubts: readonly string[];
}

export interface JoinScansOptions {
  /** Of all pieces alike. */
  readonly pixelsPerMm: number;
  /** Least overlap that a sentence asks for where pieces can't be joined. */
  readonly overlapMm?: number;
  readonly progress?: (stage: string, share: number) => void;
}
