import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import { useThreads } from '../engine/use-engine';
import { drawEnds, pickEnd } from '../marks/draw-ends';
import { useStudio } from '../state/use-studio';
import { stencilIndex } from '../words/stencils';
import { Stage } from './stage';
import { useReply } from './use-reply';

/** px that what one goes to takes up. */
const GO_TO_PX = 700;
/** A press this near to a ring is for it, px. */
const NEAR_PX = 18;

/** The print laid over the plan, with the ends at which it was measured. */
export function PrintView() {
  const { studio, state } = useStudio();
  const { client, painter } = useThreads();
  const { checked, stale, goTo, proof, proofEnd } = state;
  const { compared } = proof;
  const [camera, setCamera] = useState<Camera | null>(null);
  const stencil = stencilIndex(checked?.sheets ?? [], state.stencil);
  const asks = checked !== null && !stale && compared !== null;
  const {
    value: drawing,
    refused,
    late,
  } = useReply(
    asks ? () => client.ask((engine) => engine.printDrawing(compared.of.sheet.index - 1, compared.report)) : null,
    [checked, stale, compared, stencil],
  );
  const source = useMemo(() => (drawing === null ? null : painter.page(drawing, 0)), [drawing, painter]);
  useEffect(() => {
    if (goTo?.view === 'sheet' && goTo.at !== null) setCamera({ at: goTo.at, pxPerMm: GO_TO_PX / goTo.widthMm });
  }, [goTo]);
  if (compared === null) return <p class="view-empty">No proof was compared yet: the step Proof takes its picture.</p>;
  if (refused !== null) return <p class="view-empty">{refused}</p>;
  const page = drawing?.pages[0];
  if (page === undefined) return <p class="view-empty">The print is being laid over the plan …</p>;
  return (
    <div class={late ? 'sheet-view view-late' : 'sheet-view'}>
      <ul class="proof-legend" aria-label="What the picture shows">
        <li class="legend-print">printed</li>
        <li class="legend-plan">plan</li>
        <li class="legend-missing">planned, not printed: hatched</li>
        <li class="legend-extra">printed, not planned: solid</li>
        <li class="legend-second">second cut: dotted</li>
      </ul>
      <Stage
        label="The print laid over the plan."
        whole={{ x0: 0, y0: 0, x1: page.widthMm, y1: page.heightMm }}
        camera={camera}
        onCamera={setCamera}
        source={source}
        over={(context, view) =>
          drawEnds(context, view, { of: compared.of, report: compared.report, chosen: proofEnd })
        }
        onPick={(press, view) => {
          const end = pickEnd(press, view, { of: compared.of, report: compared.report, withinPx: NEAR_PX });
          if (end !== null) studio.set({ proofEnd: end });
        }}
      />
    </div>
  );
}

/** How the proof is printed: the few placements that show every join. */
export function ProofMapView() {
  const { state } = useStudio();
  const { client, painter } = useThreads();
  const { checked, stale } = state;
  const [camera, setCamera] = useState<Camera | null>(null);
  const {
    value: drawing,
    refused,
    late,
  } = useReply(checked !== null && !stale ? () => client.ask((engine) => engine.proofMapDrawing()) : null, [
    checked,
    stale,
  ]);
  const source = useMemo(() => (drawing === null ? null : painter.page(drawing, 0)), [drawing, painter]);
  if (refused !== null) return <p class="view-empty">{refused}</p>;
  const page = drawing?.pages[0];
  if (page === undefined) return <p class="view-empty">The proof map is being drawn …</p>;
  return (
    <div class={late ? 'sheet-view view-late' : 'sheet-view'}>
      <Stage
        label="The proof map: where to print the proof, and in which order."
        whole={{ x0: 0, y0: 0, x1: page.widthMm, y1: page.heightMm }}
        camera={camera}
        onCamera={setCamera}
        source={source}
      />
    </div>
  );
}
