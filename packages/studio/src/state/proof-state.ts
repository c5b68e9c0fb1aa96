import type { ProofSheet } from '@okuri/core/inside';
import type { ComparedReply } from '../engine/protocol';
import type { ProofHow } from '../scan/compare-picture';
import type { ArtworkFile } from './project';

/** A proof that was compared with its sheet. */
export interface ComparedProof extends ComparedReply {
  /** The sheet as it was then. */
  readonly of: ProofSheet;
}

/** What is known of a printed proof. It is no part of the project: what is taken over from it is. */
export interface ProofState {
  readonly picture: ArtworkFile | null;
  readonly how: ProofHow;
  readonly compared: ComparedProof | null;
  readonly work: { readonly stage: string; readonly share: number } | null;
  /** Why the picture can't be used; one sentence. */
  readonly refused: string | null;
  /** Ends the work that is going on. */
  readonly stop: (() => void) | null;
}

export const PLAIN_PROOF: ProofHow = { dpi: null, corners: null, light: false };

export const NO_PROOF: ProofState = {
  picture: null,
  how: PLAIN_PROOF,
  compared: null,
  work: null,
  refused: null,
  stop: null,
};

/** Places on paper are the same to this, mm: rounding only. */
const SAME_MM = 1e-3;

/** Whether two states of a sheet have their dots and their ends in the same places, so that what a proof told of one holds for the other. */
export function sameProved(a: ProofSheet, b: ProofSheet): boolean {
  const places = ({ sheet, ends, key }: ProofSheet) => ({
    names: [key, ...sheet.dots, ...ends.joins, ...ends.firstCutEnds].map((one) =>
      typeof one === 'string' ? one : one.name,
    ),
    at: [...sheet.dots, ...ends.joins, ...ends.firstCutEnds].map(({ at }) => at),
  });
  const [p, q] = [places(a), places(b)];
  return (
    p.names.length === q.names.length &&
    p.names.every((name, k) => name === q.names[k]) &&
    p.at.every(({ x, y }, k) => Math.hypot(x - q.at[k].x, y - q.at[k].y) < SAME_MM)
  );
}
