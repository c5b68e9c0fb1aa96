import type { Refusal, ScaleAsked } from '../engine/protocol';
import type { Opened } from './open-files';

/** A scan whose scale has to be told, or is told anew. */
export interface ScaleQuestion extends ScaleAsked {
  /** What is being opened; null for the motif at hand. */
  readonly opened: Opened | null;
}

/** What has to be asked after a refusal; null where that is nothing. */
export function asksScale({ asksScale: asked }: Refusal, opened: Opened | null): ScaleQuestion | null {
  return asked === undefined ? null : { ...asked, opened };
}
