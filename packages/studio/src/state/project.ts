import type { PaperState, Span } from '@okuri/core/inside';
import type { ScanSettings } from '../scan/settings';

/** A drawing as it was dropped: its bytes are never changed. */
export interface ArtworkFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Distances between the holes of a sheet as they were typed, each with its unit. */
export type MeasuredTexts = Readonly<Partial<Record<Span, string>>>;

/** All that is saved, and all that undo goes back over: the job file, the files it names, and what was measured on the sheet. */
export interface Project {
  /** The job file's text, valid or not; the last one that could be read is what is shown. */
  readonly jobText: string;
  readonly motif: ArtworkFile;
  readonly fonts: readonly ArtworkFile[];
  /** How a scan is traced; left out where the motif is none, or nothing was said. */
  readonly scan?: ScanSettings;
  /** Left out where nothing was measured yet. */
  readonly measured?: MeasuredTexts;
  /** In which state the sheet was measured; left out where nobody said: as it is punched. */
  readonly measuredWhen?: PaperState;
}

/** Whether two states come out as the same sheets: what was measured on a sheet changes none. */
export function sameWork(a: Project, b: Project): boolean {
  return a.jobText === b.jobText && a.motif === b.motif && a.fonts === b.fonts && a.scan === b.scan;
}
