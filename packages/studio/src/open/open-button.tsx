import { useRef } from 'preact/hooks';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { openInto } from './use-open';

/** Chooses files from this machine. */
export function OpenButton({ label = 'Open …' }: { readonly label?: string }) {
  const { studio } = useStudio();
  const { client } = useThreads();
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" title="Open a drawing (SVG or a scan) or a job" onClick={() => input.current?.click()}>
        {label}
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
          if (files.length > 0) void openInto(studio, client, files);
        }}
      />
    </>
  );
}
