import type { Box, Matrix } from '../geometry/types.js';

/** One printer page of a drawing. */
export interface PlannedPage {
  /** `P1`, `P2`, … in reading order. */
  readonly name: string;
  /** 0-based, from the top. */
  readonly row: number;
  /** 0-based, from the left. */
  readonly column: number;
  /** The part of the drawing that this page shows, drawing mm. */
  readonly windowMm: Box;
  /** From drawing mm to page mm, printer correction included. */
  readonly toPage: Matrix;
}

/** How a drawing is split over printer pages, all of one size and one orientation. */
export interface PagePlan {
  /** The drawing. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** The paper as it lies. */
  readonly paper: { readonly widthMm: number; readonly heightMm: number };
  readonly orientation: 'portrait' | 'landscape';
  readonly marginMm: number;
  /** How far neighbouring windows overlap, drawing mm. */
  readonly overlapMm: number;
  readonly strip: PageStrip;
  readonly scaleAcross: number;
  readonly scaleAlong: number;
  readonly rows: number;
  readonly columns: number;
  /** Where every page shows its window, page mm. */
  readonly contentMm: Box;
  /** Row by row from the top, each from the left. */
  readonly pages: readonly PlannedPage[];
}

/** Room kept free within the margins for what a page says about itself, mm. */
export interface PageStrip {
  readonly leftMm: number;
  readonly bottomMm: number;
}
