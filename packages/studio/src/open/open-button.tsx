import { useRef } from 'preact/hooks';
import { useStudio } from '../state/use-studio';
import { openInto } from './use-open';

/** Chooses files from this machine. */
export function OpenButton() {
  const { studio } = useStudio();
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" onClick={() => input.current?.click()}>
        Open a drawing or a job …
      </button>
      <input
        ref={input}
        type="file"
        multiple
        hidden
        aria-label="Files to open"
        accept=".svg,.png,.jpg,.jpeg,.webp,.json,.ttf,.otf,.woff,.woff2"
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = '';
          if (files.length > 0) void openInto(studio, files);
        }}
      />
    </>
  );
}
