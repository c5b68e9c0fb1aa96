/** A drawing as it was dropped: its bytes are never changed. */
export interface ArtworkFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** All that is saved, and all that undo goes back over: the job file, and the files it names. */
export interface Project {
  /** The job file's text, valid or not; the last one that could be read is what is shown. */
  readonly jobText: string;
  readonly motif: ArtworkFile;
  readonly fonts: readonly ArtworkFile[];
}
