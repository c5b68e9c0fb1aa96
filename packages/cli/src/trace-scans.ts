import { type Box, type GreyImage, InputError, type Motif } from '@okuri/core';
import { MM_PER_INCH } from '@okuri/core/inside';
import { decodeScan, type Glass, type Scan } from '@okuri/reader/scan';
import {
  type FramedPicture,
  framePicture,
  type JoinedScans,
  joinScans,
  motifFromTrace,
  type Resolution,
  type ScaleRequest,
  type Trace,
  type TraceOptions,
  traceImage,
} from '@okuri/scan';
import type { ProgressLine } from './progress.js';

/** A file that holds a scan. */
export interface ScanFile {
  /** As sentences call it. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface TraceRequest {
  /** How the scale is found; null for the resolution that the file states. Places are px of the picture as it is seen. */
  readonly scale: ScaleRequest | null;
  /** The width of the whole picture, mm, where the file states no resolution and `scale` is null. */
  readonly widthMm?: number | null;
  /** The part of the drawing to keep, mm. */
  readonly keep?: Box | null;
  readonly glass?: Glass | null;
  readonly trace?: Omit<TraceOptions, 'region' | 'progress'>;
  /** What to do about a file without a resolution: the end of a sentence. */
  readonly remedy: (name: string) => string;
}

/** A scan, or several joined, as a motif. */
export interface TracedScans {
  readonly motif: Motif;
  readonly trace: Trace;
  readonly picture: FramedPicture;
  /** px of the picture that was traced. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly scans: readonly (Scan & { readonly name: string })[];
  /** Null for a single scan. */
  readonly joined: JoinedScans | null;
}

/** Decodes, joins, scales and traces scans of one drawing. A refusal has the scan's name before it. */
export async function traceScans(
  files: readonly ScanFile[],
  request: TraceRequest,
  progress: ProgressLine,
): Promise<TracedScans> {
  const scans: (Scan & { readonly name: string })[] = [];
  for (const { name, bytes } of files) {
    progress.show(`reading ${name}`);
    scans.push({ ...(await decodeScan(bytes, { name, glass: request.glass ?? null })), name });
  }
  const one = scans.length === 1 ? scans[0] : null;
  const called = one?.name ?? `the ${scans.length} scans joined`;
  const joined = one === null ? joinAll(scans, request, progress) : null;
  return naming(called, () => {
    const image = one?.image ?? (joined as JoinedScans).image;
    const scale = one === null ? joinedScale(scans, request) : scaleOf(one, request);
    progress.show('looking for the scale');
    const picture = framePicture(image, scale, { keep: request.keep ?? null });
    const trace = traceImage(image, picture.scale, {
      ...request.trace,
      ...(picture.region === null ? {} : { region: picture.region }),
      progress: (share) => progress.show('tracing', share),
    });
    const motif = motifFromTrace(trace, picture, { ...request.trace, remarks: remarksOf(scans, joined) });
    const { width: widthPx, height: heightPx } = image;
    return { motif, trace, picture, widthPx, heightPx, scans, joined };
  });
}

/** The scale that was asked for, on the picture as it was read: places and resolutions are those of the file, which may have been reduced. */
export function scaleOf(scan: Scan & { name: string }, request: TraceRequest): ScaleRequest {
  const { scale, widthMm = null } = request;
  const { image, reduced } = scan;
  if (scale === null) {
    if (scan.resolution === null && widthMm !== null) {
      const perMm = image.width / widthMm;
      return { from: 'resolution', resolution: { across: perMm, down: perMm, unit: 'mm' } };
    }
    return { from: 'file', resolution: statedBy(scan, request) };
  }
  const factor = reduced ?? 1;
  switch (scale.from) {
    case 'points':
    case 'ruler':
      return { ...scale, points: scale.points.map(({ x, y }) => ({ x: x / factor, y: y / factor })) };
    case 'dots':
      return scale;
    default: {
      const { across, down, unit } = scale.resolution;
      return { ...scale, resolution: { across: across / factor, down: down / factor, unit } };
    }
  }
}

/** What the file states, in dots an inch, as people know it. */
function statedBy({ name, resolution, remarks }: Scan & { name: string }, { remedy }: TraceRequest): Resolution {
  if (resolution === null) {
    const why = remarks.filter((remark) => remark.includes('dpi')).map((remark) => ` (${remark})`);
    throw new InputError(`it states no resolution that can be taken${why.join('')}: ${remedy(name)}`);
  }
  return { across: resolution.across * MM_PER_INCH, down: resolution.down * MM_PER_INCH, unit: 'inch' };
}

/** Scans joined have one resolution: two that differ by more than this share were made in different ways. */
const SAME_RESOLUTION = 0.001;

/** Even where dots give the scale, scans have to be joined first. */
function joining(): string {
  return 'scans are joined by their resolution, so give --resolution DPI.';
}

function joinedScale(scans: readonly (Scan & { name: string })[], request: TraceRequest): ScaleRequest {
  const { scale } = request;
  if (scale?.from === 'dots') return scale;
  return { from: scale === null ? 'file' : 'resolution', resolution: commonResolution(scans, request) };
}

function commonResolution(scans: readonly (Scan & { name: string })[], request: TraceRequest): Resolution {
  const given = request.scale !== null && 'resolution' in request.scale ? request.scale.resolution : null;
  const [first, ...others] = scans.map((scan) => {
    const { across, down, unit } = given ?? naming(scan.name, () => statedBy(scan, { ...request, remedy: joining }));
    if (Math.abs(across / down - 1) > SAME_RESOLUTION) {
      throw new InputError(
        `${scan.name} has ${Math.round(across)} by ${Math.round(down)} dpi: scans are joined with the same resolution across and down.`,
      );
    }
    const factor = given === null ? 1 : (scan.reduced ?? 1);
    return { name: scan.name, across: across / factor, down: down / factor, unit };
  });
  const other = others.find(({ across }) => Math.abs(across / first.across - 1) > SAME_RESOLUTION);
  if (other !== undefined) {
    throw new InputError(
      `${first.name} has ${Math.round(first.across)} dpi and ${other.name} ${Math.round(other.across)} dpi: scan all parts with one resolution.`,
    );
  }
  const { across, down, unit } = first;
  return { across, down, unit };
}

function joinAll(
  scans: readonly (Scan & { name: string })[],
  request: TraceRequest,
  progress: ProgressLine,
): JoinedScans {
  const { scale } = request;
  if (scale?.from === 'points' || scale?.from === 'ruler') {
    throw new InputError(
      `Places are those of one picture: join the scans by their resolution or by --dots, and leave out --${scale.from}.`,
    );
  }
  const { across } = commonResolution(scans, request);
  const pieces = scans.map(({ name, image }): { name: string; image: GreyImage } => ({ name, image }));
  return joinScans(pieces, {
    pixelsPerMm: across / MM_PER_INCH,
    progress: (stage, share) => progress.show(stage, share),
  });
}

function remarksOf(scans: readonly (Scan & { name: string })[], joined: JoinedScans | null): string[] {
  const own = scans.flatMap(({ name, remarks }) =>
    remarks.map((remark) => (scans.length === 1 ? remark : `${name}: ${remark}`)),
  );
  if (joined === null) return own;
  const misfit = Math.max(0, ...joined.overlaps.map(({ largestMm }) => largestMm));
  const middle = joined.overlaps.map(({ meanMm }) => meanMm);
  const most = `${Math.max(0, ...middle).toFixed(2)} mm in the mean and ${misfit.toFixed(2)} mm at most`;
  return [...own, `${scans.length} scans are joined by their overlap, with a misfit of ${most}`, ...joined.doubts];
}

function naming<T>(name: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${name}: ${error.message}`);
    throw error;
  }
}
