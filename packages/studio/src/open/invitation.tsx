import { useMemo } from 'preact/hooks';
import { demoProject } from '../state/demo';
import { useStudio } from '../state/use-studio';
import { OpenButton } from './open-button';

/** What to do first, as long as the demo lies on the table. */
export function Invitation() {
  const { state } = useStudio();
  const { motif } = state.history.present;
  const demo = useMemo(() => demoProject().motif, []);
  const isDemo = useMemo(
    () => motif.bytes.length === demo.bytes.length && motif.bytes.every(sameAs(demo.bytes)),
    [motif],
  );
  if (!isDemo) return null;
  return (
    <section class="invitation" aria-labelledby="invitation-title">
      <h2 id="invitation-title">Begin with your own drawing</h2>
      <p>Drop it anywhere on this window, paste it, or choose it: an SVG, or a scan of the cartoon.</p>
      <OpenButton label="Choose a drawing …" />
      <p class="invitation-demo">
        What lies on the table is a demo, to try everything with. Nothing leaves this machine.
      </p>
    </section>
  );
}

function sameAs(other: Uint8Array): (byte: number, k: number) => boolean {
  return (byte, k) => byte === other[k];
}
