import type { Drawing, FontMetrics, Job, Motif } from '@okuri/core';
import type { PictureScan } from '../scan/decode-picture';
import type { ArtworkFile } from '../state/project';
import type { EngineFiles } from './protocol';

/** What the engine needs of the place it runs in; all of it is there on both sides of the build: in a worker and in a test. */
export interface EngineTools {
  readonly fontMetrics: FontMetrics;
  /** Reads artwork at the width of a job; what comes back is kept as long as neither changes. */
  readonly readMotif: (files: EngineFiles, job: Job) => Promise<Motif>;
  /** A picture's grey values. */
  readonly decodePicture: (file: ArtworkFile) => Promise<PictureScan>;
  readonly toPdf: (drawing: Drawing) => Promise<Uint8Array>;
  readonly toSvg: (drawing: Drawing, page: number) => Promise<string>;
  /** A picture of a page as a PNG file. */
  readonly toPng: (drawing: Drawing, page: number) => Promise<Uint8Array>;
}
