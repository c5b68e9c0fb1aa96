import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import { useThreads } from '../engine/use-engine';
import { sheetPlane } from '../marks/plane';
import { useStudio } from '../state/use-studio';
import { stencilIndex } from '../words/stencils';
import { Stage } from './stage';
import { StencilChoice } from './stencil-choice';
import { usePlaceLayer } from './use-place-layer';
import { useReply } from './use-reply';
import { useTieLayer } from './use-tie-layer';

/** px that what one goes to takes up. */
const GO_TO_PX = 700;
/** A press right on a mark is for it; else a tie comes first, then a mark near by. px. */
const ON_MARK_PX = 9;
const NEAR_MARK_PX = 22;

/** The cutting drawing of a stencil: first cut, held margin, ties, dots and border; over it what wants a look. */
export function SheetView() {
  const { state } = useStudio();
  const { client, painter } = useThreads();
  const { checked, stale, goTo } = state;
  const [camera, setCamera] = useState<Camera | null>(null);
  const sheets = checked?.sheets ?? [];
  const stencil = stencilIndex(sheets, state.stencil);
  const sheet = sheets[stencil] ?? null;
  const asks = checked !== null && !stale;
  const {
    value: drawing,
    refused,
    late,
  } = useReply(asks ? () => client.ask((engine) => engine.sheetDrawing(stencil)) : null, [checked, stale, stencil]);
  const source = useMemo(() => (drawing === null ? null : painter.page(drawing, 0)), [drawing, painter]);
  const plane = useMemo(
    () => (checked === null || sheet === null ? null : sheetPlane(sheet, checked.lattice)),
    [checked, sheet],
  );
  const places = usePlaceLayer(sheet, plane);
  // Of two sheets that print one ink the first has its ties.
  const ties = useTieLayer(sheet?.part === 'B' ? null : plane, sheet?.ink ?? null, sheet?.ink ?? null);
  useEffect(() => {
    if (goTo?.view === 'sheet' && goTo.at !== null) setCamera({ at: goTo.at, pxPerMm: GO_TO_PX / goTo.widthMm });
  }, [goTo]);
  if (refused !== null) return <p class="view-empty">{refused}</p>;
  const page = drawing?.pages[0];
  if (page === undefined) return <p class="view-empty">The sheet is being drawn …</p>;
  return (
    <div class={late ? 'sheet-view view-late' : 'sheet-view'}>
      <StencilChoice sheets={sheets} />
      <Stage
        label="The sheet to be cut."
        whole={{ x0: 0, y0: 0, x1: page.widthMm, y1: page.heightMm }}
        camera={camera}
        onCamera={setCamera}
        source={source}
        over={(context, view) => {
          if (!late) places.draw(context, view);
          ties?.draw(context, view);
        }}
        onPick={(place, view) => {
          const draws = ties?.aims ?? false;
          if (!draws && places.pick(place, view, ON_MARK_PX)) return;
          if (ties?.pick(place, view)) return;
          places.pick(place, view, NEAR_MARK_PX);
        }}
        {...(ties === null ? {} : { laid: ties.laid, aims: ties.aims })}
      />
    </div>
  );
}
