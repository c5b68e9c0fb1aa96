import { useThreads } from './engine/use-engine';
import { useStudio } from './state/use-studio';

/** How far the work is, and how to give it up. */
export function WorkProgress() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { work } = state;
  const stop = (): void => {
    client.cancel();
    studio.set({ stopped: true, work: null });
  };
  if (work === null) return null;
  return (
    <div class="notice-work">
      <progress value={work.share} aria-label="How far the work is" />
      <span>{work.stage} …</span>
      <button type="button" onClick={stop}>
        Stop
      </button>
    </div>
  );
}

/** What could not be used, and what has just happened; said aloud as it comes. */
export function Messages() {
  const { studio, state } = useStudio();
  const { refusal, said, stopped } = state;
  return (
    <div class="messages">
      <div role="alert">{refusal !== null && <p class="message message-grave">{refusal}</p>}</div>
      <div role="status">
        {stopped && (
          <p class="message">
            <span>Stopped: what is shown is of an older state.</span>
            <button type="button" onClick={() => studio.workAgain()}>
              Work it out
            </button>
          </p>
        )}
        {said !== null && (
          <p class="message">
            <span>{said}</span>
            <button type="button" aria-label="Put this message away" onClick={() => studio.set({ said: null })}>
              Good
            </button>
          </p>
        )}
      </div>
    </div>
  );
}
