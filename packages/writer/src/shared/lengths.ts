import { type Drawing, InputError, type Page } from '@okuri/core';
import { MM_PER_INCH, POINTS_PER_INCH } from '@okuri/core/inside';

/** 72 points to an inch of 25.4 mm (ISO 32000-1, 8.3.2.3, default user space). */
export const POINTS_PER_MM = POINTS_PER_INCH / MM_PER_INCH;

/** The page of a drawing. Throws an `InputError` when there is none or when its size is not a positive length. */
export function pageOf(drawing: Drawing, pageIndex: number): Page {
  const page = drawing.pages[pageIndex];
  if (page === undefined) {
    throw new InputError(
      `The drawing "${drawing.title}" has ${drawing.pages.length} pages, so there is no page ${pageIndex + 1}.`,
    );
  }
  const { name, widthMm, heightMm } = page;
  if (!(widthMm > 0 && widthMm < Infinity && heightMm > 0 && heightMm < Infinity)) {
    throw new InputError(
      `The page "${name}" measures ${widthMm} × ${heightMm} mm; both have to be lengths above zero.`,
    );
  }
  return page;
}
