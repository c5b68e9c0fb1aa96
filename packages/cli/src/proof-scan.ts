import { InputError, type Point } from '@okuri/core';
import { MM_PER_INCH } from '@okuri/core/inside';
import { decodeScan, type Scan } from '@okuri/reader/scan';
import { looksUnmeasured, type PictureScale, scaleFromPoints, scaleFromResolution } from '@okuri/scan';
import type { ProgressLine } from './progress.js';
import { readBytes, shownPath } from './read-file.js';
import { readPlaces, readScale } from './trace-options.js';

/** A picture of a proof, as it was read. */
export interface ReadScan {
  readonly name: string;
  readonly scan: Scan;
  readonly scale: PictureScale | null;
  readonly corners: readonly Point[] | null;
}

/** What a person says of a picture's scale, as texts of the command line. */
export interface ScanTexts {
  readonly points?: string;
  readonly apart?: string;
  readonly resolution?: string;
}

/** The picture, and what is known of its scale beside the dots. Places are px of the file. */
export async function readScan(path: string, options: ScanTexts, progress: ProgressLine): Promise<ReadScan> {
  const name = shownPath(path);
  // Four places alone are the sheet's own corner dots; with a distance they are a scale. Both are judged before the picture is read.
  const places =
    options.points === undefined || options.apart !== undefined ? null : readPlaces(options.points, '--points', 4);
  const asked = readScale(
    Object.fromEntries(
      (['points', 'apart', 'resolution'] as const).flatMap((key) =>
        options[key] === undefined || (places !== null && key === 'points') ? [] : [[key, options[key]]],
      ),
    ),
  );
  const bytes = readBytes(path, 'scan of the proof');
  progress.show(`reading ${name}`);
  const scan = await decodeScan(bytes, { name });
  const factor = scan.reduced ?? 1;
  const onPicture = ({ x, y }: Point): Point => ({ x: x / factor, y: y / factor });
  const { width, height } = scan.image;
  const scale = namingScan(name, () => {
    if (asked?.from === 'points') {
      const { widthMm, heightMm } = asked;
      return scaleFromPoints(asked.points.map(onPicture), {
        widthMm,
        heightMm,
        picture: { width, height },
        from: 'points',
      });
    }
    if (asked?.from === 'resolution') {
      const { across, down, unit } = asked.resolution;
      return scaleFromResolution({ across: across / factor, down: down / factor, unit }, 'resolution');
    }
    return statedScale(scan);
  });
  const outside = places?.map(onPicture).find(({ x, y }) => x > width || y > height);
  if (outside !== undefined) {
    throw new InputError(
      `--points: the place ${Math.round(outside.x * factor)},${Math.round(outside.y * factor)} px lies outside ${name}, which is ${width * factor} × ${height * factor} px.`,
    );
  }
  return { name, scan, scale, corners: places?.map(onPicture) ?? null };
}

/** The resolution that a file states; none where it is one that programs write without having measured. */
function statedScale({ resolution }: Scan): PictureScale | null {
  if (resolution === null) return null;
  const stated = {
    across: resolution.across * MM_PER_INCH,
    down: resolution.down * MM_PER_INCH,
    unit: 'inch',
  } as const;
  return looksUnmeasured(stated) ? null : scaleFromResolution(stated, 'file');
}

/** The engine knows pictures and no files: a refusal gets the picture's name before it. */
export function namingScan<T>(name: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${name}: ${error.message}`);
    throw error;
  }
}
