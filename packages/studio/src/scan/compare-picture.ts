import { InputError, inVoice, type Point, type ProofReport } from '@okuri/core';
import { MM_PER_INCH, type ProofSheet } from '@okuri/core/inside';
import { compareProof, layProof, type PictureScale, scaleFromResolution } from '@okuri/scan';
import type { PictureScan } from './decode-picture';
import { measuredResolution } from './scan-source';

/** What a person says of the picture of a proof. */
export interface ProofHow {
  /** Dots an inch; null for what the file states. */
  readonly dpi: number | null;
  /** Where the corner dots lie, px of the picture at its full size: upper left, upper right, lower right, lower left of the sheet. Null to have them found. */
  readonly corners: readonly Point[] | null;
  /** The light parts are the print. */
  readonly light: boolean;
}

/** Lays the picture of a proof over its sheet and compares the two. A refusal has the picture's name before it. */
export function comparePicture(
  picture: PictureScan,
  { sheet, ends }: Pick<ProofSheet, 'sheet' | 'ends'>,
  { how, progress }: { readonly how: ProofHow; readonly progress: (stage: string, share: number) => void },
): ProofReport {
  const { image, factor, name } = picture;
  const { light } = how;
  try {
    progress('looking for the dots', 0);
    const corners = how.corners?.map(({ x, y }) => ({ x: x / factor, y: y / factor })) ?? null;
    const laid = layProof(image, sheet, { scale: scaleOf(picture, how), corners, light });
    return compareProof(image, sheet, ends, { laid, light, progress: (share) => progress('comparing', share) });
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${name}: ${inVoice(error, 'window')}`);
    throw error;
  }
}

function scaleOf(picture: PictureScan, { dpi }: ProofHow): PictureScale | null {
  const { factor } = picture;
  if (dpi !== null) {
    return scaleFromResolution({ across: dpi / factor, down: dpi / factor, unit: 'inch' }, 'resolution');
  }
  const stated = measuredResolution(picture);
  if (stated === null) return null;
  const [across, down] = [stated.across, stated.down].map((perMm) => (perMm * MM_PER_INCH) / factor);
  return scaleFromResolution({ across, down, unit: 'inch' }, 'file');
}
