import { InputError } from '@okuri/core';
import { MM_PER_INCH } from '@okuri/core/inside';
import {
  changesSides,
  checkSides,
  isScan,
  notAScan,
  pictureSides,
  type Resolution,
  readStatedFields,
  type ScanFormat,
  type Sides,
  scanFormat,
  statedResolution,
} from '@okuri/reader/scan-fields';
import { looksUnmeasured } from '@okuri/scan';
import type { ArtworkFile } from '../state/project';

/** What a scan's bytes say before it is decoded. */
export interface ScanSource {
  readonly format: Exclude<ScanFormat, 'tiff'>;
  /** As the picture stands upright, px. */
  readonly sides: Sides;
  /** Pixels a mm of the upright picture; null where none is stated that can be believed. */
  readonly resolution: Resolution | null;
  /** Sentences that go on from "the scan". */
  readonly remarks: readonly string[];
}

/** Whether a file is a picture, by its bytes (or its name, where they are those of none). */
export function isPicture({ name, bytes }: ArtworkFile): boolean {
  return isScan(bytes) || /\.(?:png|jpe?g|webp|tiff?|gif|bmp|heic)$/i.test(name);
}

/** Reads the header of a scan. Throws an `InputError` for what no browser decodes, and for too many or too few pixels. */
export function scanSource({ name, bytes }: ArtworkFile): ScanSource {
  const format = scanFormat(bytes);
  if (format === null)
    throw new InputError(notAScan(bytes, name).replace('PNG, TIFF, JPEG or WebP', 'PNG, JPEG or WebP'));
  if (format === 'tiff') throw new InputError(tiffSentence(name));
  const stored = pictureSides(bytes, format);
  if (stored === null) throw new InputError(`${name} is broken or cut short: scan or save it again.`);
  checkSides(stored, name);
  const { orientation } = readStatedFields(bytes, format);
  const { width, height } = stored;
  const sides = changesSides(orientation) ? { width: height, height: width } : { width, height };
  return { format, sides, ...statedResolution(bytes, format, orientation) };
}

/** Why a TIFF is not taken. */
export function tiffSentence(name: string): string {
  const stem = name.replace(/\.[^.]*$/, '');
  return `${name} is a TIFF, which browsers don’t show: save the scan as PNG, or trace it with the command, okuri trace ${name} -o ${stem}.svg, and open that.`;
}

/** What the file states, dots an inch; null where it states nothing that can be believed. */
export function statedDpi({ resolution }: Pick<ScanSource, 'resolution'>): number | null {
  return resolution === null ? null : Math.round(resolution.across * MM_PER_INCH);
}

/** The stated resolution, where it is one that somebody measured. */
export function measuredResolution({ resolution }: Pick<ScanSource, 'resolution'>): Resolution | null {
  return resolution === null || looksUnmeasured({ ...resolution, unit: 'mm' }) ? null : resolution;
}
