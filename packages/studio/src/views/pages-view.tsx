import { useMemo, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { Stage } from './stage';
import { useReply } from './use-reply';

/** The print sheets of a stencil, one page at a time. */
export function PagesView() {
  const { studio, state } = useStudio();
  const { client, painter } = useThreads();
  const { checked, stale, stencil, page: chosen } = state;
  const [camera, setCamera] = useState<Camera | null>(null);
  const asks = checked !== null && !stale;
  const {
    value: drawing,
    refused,
    late,
  } = useReply(asks ? () => client.ask((engine) => engine.pageDrawing(stencil)) : null, [checked, stale, stencil]);
  const count = drawing?.pages.length ?? 0;
  const index = Math.min(chosen, Math.max(0, count - 1));
  const source = useMemo(() => (drawing === null ? null : painter.page(drawing, index)), [drawing, index, painter]);
  if (refused !== null) return <p class="view-empty">{refused}</p>;
  const page = drawing?.pages[index];
  if (drawing === null || page === undefined) return <p class="view-empty">The pages are being laid out …</p>;
  return (
    <div class={late ? 'pages view-late' : 'pages'}>
      <ul class="page-list" aria-label="Pages">
        {drawing.pages.map(({ name }, k) => (
          <li key={name}>
            <button type="button" aria-pressed={k === index} onClick={() => studio.set({ page: k })}>
              {name}
            </button>
          </li>
        ))}
      </ul>
      <Stage
        label={`Page ${page.name} of the print sheets.`}
        whole={{ x0: 0, y0: 0, x1: page.widthMm, y1: page.heightMm }}
        camera={camera}
        onCamera={setCamera}
        source={source}
      />
    </div>
  );
}
