import type { Point } from '@okuri/core';

/** Where a person takes the scale of a picture from. Places are px of the picture at its full size, as it is seen; lengths mm. */
export type ScanScale =
  | { readonly from: 'resolution'; readonly dpi: number }
  /** Of the whole picture. */
  | { readonly from: 'width'; readonly widthMm: number }
  /** Four drawn dots round the drawing, found in the picture. */
  | { readonly from: 'dots'; readonly widthMm: number; readonly heightMm: number }
  /** The same, pointed out: clockwise from the paper's upper left. */
  | { readonly from: 'points'; readonly points: readonly Point[]; readonly widthMm: number; readonly heightMm: number }
  | { readonly from: 'ruler'; readonly points: readonly Point[]; readonly lengthMm: number };

/** How a scan becomes the motif, as far as a person says it. */
export interface ScanSettings {
  /** Null for the resolution that the file states. */
  readonly scale: ScanScale | null;
  /** Dark marks smaller than this are left out, light holes filled. mm² */
  readonly specksMm2: number;
  readonly pinholesMm2: number;
  /** What counts as ink: above 0 fainter grey as well, below 0 only the darkest. A share of the step from ink to paper. */
  readonly inkShift: number;
  /** How far outlines may be smoothed: 1 as the picture asks for it. */
  readonly smooth: number;
}

/** As the command traces a scan of which nothing is said. */
export const PLAIN_SCAN: ScanSettings = { scale: null, specksMm2: 0.5, pinholesMm2: 0.5, inkShift: 0, smooth: 1 };

/** What can be set; larger areas are no specks. */
export const SCAN_BOUNDS = {
  specksMm2: { least: 0, most: 100 },
  pinholesMm2: { least: 0, most: 100 },
  inkShift: { least: -0.4, most: 0.4 },
  smooth: { least: 0, most: 10 },
  /** Resolutions that a scanner may have, dots an inch. */
  dpi: { least: 50, most: 5_000 },
} as const;

/** Whether nothing was said of a scan: then the file itself gives the same motif anywhere. */
export function isPlain(settings: ScanSettings | undefined): boolean {
  return settings === undefined || settingsKey(settings) === settingsKey(PLAIN_SCAN);
}

/** Settings that trace alike have the same key. */
export function settingsKey({ scale, specksMm2, pinholesMm2, inkShift, smooth }: ScanSettings): string {
  return JSON.stringify([scale, specksMm2, pinholesMm2, inkShift, smooth]);
}
