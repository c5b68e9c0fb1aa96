import type { ProofHow } from '../scan/compare-picture';
import type { ArtworkFile } from '../state/project';
import { NO_PROOF } from '../state/proof-state';
import type { Studio } from '../state/studio';
import { stencilIndex } from '../words/stencils';
import { type EngineClient, GivenUp } from './client';
import { isRefusal } from './protocol';

/** Takes a picture of the proof of the stencil at hand, and compares the two. */
export function takeProofPicture(studio: Studio, client: EngineClient, picture: ArtworkFile): void {
  studio.state.proof.stop?.();
  studio.set({ proof: { ...NO_PROOF, picture }, said: null });
  void compareProof(studio, client);
}

/** Compares the picture at hand once more, in another way. */
export function compareAgain(studio: Studio, client: EngineClient, how: Partial<ProofHow>): void {
  studio.state.proof.stop?.();
  studio.setProof({ how: { ...studio.state.proof.how, ...how } });
  void compareProof(studio, client);
}

/** Lays the picture over the sheet and compares them, beside all other work. */
export async function compareProof(studio: Studio, client: EngineClient): Promise<void> {
  const { proof, checked, stencil } = studio.state;
  const { picture, how } = proof;
  if (picture === null || checked === null) return;
  const work = { stage: 'reading the picture', share: 0 };
  let gone = false;
  const stop = (): void => {
    gone = true;
  };
  studio.setProof({ work, refused: null, compared: null, stop });
  const put = (change: Parameters<Studio['setProof']>[0]): void => {
    if (!gone) studio.setProof(change);
  };
  try {
    const of = await client.ask((engine) => engine.proof(stencilIndex(checked.sheets, stencil)));
    if (gone) return;
    if (isRefusal(of)) {
      put({ refused: of.refused, work: null, stop: null });
      return;
    }
    const comparing = client.compare(picture, of, {
      how,
      progress: (stage, share) => put({ work: { stage, share } }),
    });
    put({
      stop: () => {
        gone = true;
        comparing.stop();
      },
    });
    const reply = await comparing.done;
    if (isRefusal(reply)) put({ refused: reply.refused, work: null, stop: null });
    else {
      put({ compared: { ...reply, of }, work: null, stop: null });
      if (!gone) studio.set({ view: 'sheet', sheetLook: 'print' });
    }
  } catch (error) {
    if (error instanceof GivenUp) {
      put({ refused: 'The job changed before the picture was read: compare it once more.', work: null, stop: null });
      return;
    }
    const message = error instanceof Error ? error.message : String(error);
    put({ refused: `A fault of the program, not of your proof (${message}).`, work: null, stop: null });
  }
}

/** Stops comparing; the picture stays. */
export function stopComparing(studio: Studio): void {
  studio.state.proof.stop?.();
  studio.setProof({ work: null, stop: null });
}
