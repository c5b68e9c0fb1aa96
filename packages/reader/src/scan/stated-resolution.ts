import { MM_PER_INCH } from '@okuri/core/inside';
import { type Resolution, readStatedFields } from './fields.js';
import type { ScanFormat } from './format.js';

/** What a file states beyond these, dots an inch, is a slip: the coarsest fax has 98 by 204, the finest scanner 19,200. */
const STATED_DPI = { min: 30, max: 20_000 } as const;
/** One pixel a millimetre is what the library of many programs (libvips) writes where it knows no resolution. */
const PLACEHOLDER_DPI = MM_PER_INCH;

/**
 * The resolution that a file states, of the picture as it stands upright; null where it states none that can be believed, and then a remark that goes on from
 * "the scan" where there is something to say. `orientation`: as the file numbers it, by its own field where it is not given.
 */
export function statedResolution(
  bytes: Uint8Array,
  format: ScanFormat,
  orientation?: number,
): { readonly resolution: Resolution | null; readonly remarks: readonly string[] } {
  const { resolution, photograph, orientation: own } = readStatedFields(bytes, format);
  if (resolution === null) return { resolution, remarks: [] };
  const dpi = [resolution.across, resolution.down].map((v) => v * MM_PER_INCH);
  if (dpi.every((v) => Math.abs(v - PLACEHOLDER_DPI) < 1e-3)) return { resolution: null, remarks: [] };
  const said = `${dpi.map((v) => Math.round(v)).join(' by ')} dpi`;
  if (!dpi.every((v) => v >= STATED_DPI.min && v <= STATED_DPI.max)) {
    return { resolution: null, remarks: [`it states ${said}, which can't be`] };
  }
  if (photograph) {
    return {
      resolution: null,
      remarks: [`it is a camera's photograph, whose ${said} say nothing of the drawing's size`],
    };
  }
  const { across, down } = resolution;
  return { resolution: changesSides(orientation ?? own) ? { across: down, down: across } : resolution, remarks: [] };
}

/** Whether turning a picture upright makes columns of its rows: orientations from 5 on (TIFF 6.0 section 8, Exif 2.32). */
export function changesSides(orientation: number): boolean {
  return orientation >= 5;
}
