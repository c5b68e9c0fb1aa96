/** The two TrueType files of the bundled font, as a browser fetched them. */
export interface FaceFiles {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

let files: FaceFiles | null = null;

/** Gives the writers their font where there is no disk to read it from; to be called before anything is written. */
export function takeFaceFiles(fetched: FaceFiles): void {
  files = fetched;
}

/** The TrueType file of a face. Throws an `Error` before `takeFaceFiles` was called. */
export function faceFile(name: keyof FaceFiles): Uint8Array {
  if (files === null) throw new Error('the bundled font was asked for before its files were fetched');
  return files[name];
}
