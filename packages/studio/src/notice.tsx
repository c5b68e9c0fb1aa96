import { useThreads } from './engine/use-engine';
import { useStudio } from './state/use-studio';

/** How far the work is, what could not be used, and what has just happened; said aloud as it comes. */
export function Notice() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { work, refusal, said, stopped } = state;
  const stop = (): void => {
    client.cancel();
    studio.set({ stopped: true, work: null });
  };
  return (
    <div class="notice">
      {work !== null && (
        <div class="notice-work">
          <progress value={work.share} aria-label="How far the work is" />
          <span>{work.stage} …</span>
          <button type="button" onClick={stop}>
            Stop
          </button>
        </div>
      )}
      {stopped && (
        <p role="status">
          Stopped: what is shown is of an older state.{' '}
          <button type="button" onClick={() => studio.workAgain()}>
            Work it out
          </button>
        </p>
      )}
      {refusal !== null && <p role="alert">{refusal}</p>}
      {said !== null && (
        <p role="status">
          {said}{' '}
          <button type="button" aria-label="Read and done" onClick={() => studio.set({ said: null })}>
            ✓
          </button>
        </p>
      )}
    </div>
  );
}
