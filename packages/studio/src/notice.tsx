import { useThreads } from './engine/use-engine';
import { useStudio } from './state/use-studio';

/** How far the work is, and how to give it up. */
export function WorkProgress() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { work } = state;
  const stop = (): void => {
    // What was being opened is left; what is at hand goes on.
    if (client.stopTrying()) return;
    client.cancel();
    studio.set({ stopped: true, work: null });
  };
  if (work === null) return null;
  return (
    <div class="notice-work">
      <progress value={work.share} aria-label="How far the work is" />
      <span>{work.stage === 'done' ? 'laying it on the table' : work.stage} …</span>
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
            <button type="button" onClick={() => studio.set({ said: null })}>
              Put away
            </button>
          </p>
        )}
      </div>
    </div>
  );
}
