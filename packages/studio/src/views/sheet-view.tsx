import { useMemo, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { Stage } from './stage';
import { useReply } from './use-reply';

/** The cutting drawing of a stencil: first cut, held margin, ties, dots and border. */
export function SheetView() {
  const { state } = useStudio();
  const { client, painter } = useThreads();
  const { checked, stale, stencil } = state;
  const [camera, setCamera] = useState<Camera | null>(null);
  const asks = checked !== null && !stale;
  const {
    value: drawing,
    refused,
    late,
  } = useReply(asks ? () => client.ask((engine) => engine.sheetDrawing(stencil)) : null, [checked, stale, stencil]);
  const source = useMemo(() => (drawing === null ? null : painter.page(drawing, 0)), [drawing, painter]);
  if (refused !== null) return <p class="view-empty">{refused}</p>;
  const page = drawing?.pages[0];
  if (page === undefined) return <p class="view-empty">The sheet is being drawn …</p>;
  return (
    <div class={late ? 'view-late' : undefined}>
      <Stage
        label="The sheet to be cut."
        whole={{ x0: 0, y0: 0, x1: page.widthMm, y1: page.heightMm }}
        camera={camera}
        onCamera={setCamera}
        source={source}
      />
    </div>
  );
}
