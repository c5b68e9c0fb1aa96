import { InputError, type Job } from '@okuri/core';
import type { PictureScan } from '../scan/decode-picture';
import { measuredResolution, scanSource, statedDpi } from '../scan/scan-source';
import { type ScanSettings, settingsKey } from '../scan/settings';
import type { ArtworkFile } from '../state/project';
import type { OnProgress, ScaleAsked, TracedScan } from './protocol';

/** Traces of one file that are kept: those that undo goes back to. */
const KEPT = 4;

/** Thrown where a scan's scale has to be told first. */
export class ScaleWanted extends InputError {
  constructor(
    message: string,
    readonly asked: ScaleAsked,
  ) {
    super(message);
  }
}

/** One scan, decoded once and traced once for every way it is asked for. */
export interface ScanReader {
  readonly read: (job: Job, settings: ScanSettings, progress?: OnProgress) => Promise<TracedScan>;
  readonly remember: (traced: readonly TracedScan[]) => void;
}

export function scanReader(file: ArtworkFile, decode: (file: ArtworkFile) => Promise<PictureScan>): ScanReader {
  let picture: Promise<PictureScan> | null = null;
  let kept: readonly TracedScan[] = [];
  const keep = (traced: TracedScan): void => {
    kept = [...kept.filter(({ key }) => key !== traced.key), traced].slice(-KEPT);
  };
  return {
    remember: (traced) => traced.forEach(keep),
    read: async ({ size: { widthMm } }, settings, progress) => {
      const source = scanSource(file);
      const { resolution } = source;
      if (settings.scale === null && widthMm === null && measuredResolution(source) === null) {
        throw scaleWanted(file.name, source);
      }
      const ownWidthMm = settings.scale === null && resolution === null ? widthMm : null;
      const key = JSON.stringify([settingsKey(settings), ownWidthMm]);
      const known = kept.find((one) => one.key === key);
      if (known !== undefined) {
        keep(known);
        return known;
      }
      progress?.('reading the scan', 0);
      picture ??= decode(file);
      picture.catch(() => {
        picture = null;
      });
      // The tracer comes over the network while the picture is being decoded.
      const [decoded, { traceScan }] = await Promise.all([picture, import('../scan/trace-scan')]);
      progress?.('tracing the scan', 0);
      const traced = {
        key,
        ...traceScan(decoded, settings, {
          widthMm: ownWidthMm,
          progress: (share) => progress?.('tracing the scan', share),
        }),
      };
      keep(traced);
      return traced;
    },
  };
}

function scaleWanted(name: string, source: ReturnType<typeof scanSource>): ScaleWanted {
  const dpi = statedDpi(source);
  const { sides } = source;
  const why =
    dpi === null ? 'states no resolution' : `states ${dpi} dpi, which many programs write without having measured`;
  return new ScaleWanted(`${name} ${why}: say its scale, for nothing can be cut at a size that is not known.`, {
    widthPx: sides.width,
    heightPx: sides.height,
    statedDpi: dpi,
  });
}
