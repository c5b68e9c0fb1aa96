import type { PagePlan } from '@okuri/core/inside';
import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import type { ShownDrawing } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { stencilIndex } from '../words/stencils';
import { Stage } from './stage';
import { StencilChoice } from './stencil-choice';
import { useReply } from './use-reply';

/** The print sheets of a stencil: how the sheet is split, and one page at a time. */
export function PagesView() {
  const { state } = useStudio();
  const { client, painter } = useThreads();
  const { checked, stale, page: chosen } = state;
  const sheets = checked?.sheets ?? [];
  const stencil = stencilIndex(sheets, state.stencil);
  const [camera, setCamera] = useState<Camera | null>(null);
  const asks = checked !== null && !stale;
  const { value, refused, late } = useReply(asks ? () => client.ask((engine) => engine.pageDrawing(stencil)) : null, [
    checked,
    stale,
    stencil,
  ]);
  const { value: sheet } = useReply(asks ? () => client.ask((engine) => engine.sheetDrawing(stencil)) : null, [
    checked,
    stale,
    stencil,
  ]);
  const drawing = value?.drawing ?? null;
  const index = Math.min(chosen, Math.max(0, (drawing?.pages.length ?? 0) - 1));
  const source = useMemo(() => (drawing === null ? null : painter.page(drawing, index)), [drawing, index, painter]);
  if (refused !== null) return <p class="view-empty">{refused}</p>;
  const page = drawing?.pages[index];
  if (value === null || page === undefined) return <p class="view-empty">The pages are being laid out …</p>;
  return (
    <div class={late ? 'pages view-late' : 'pages'}>
      <PageChoice plan={value.plan} names={value.drawing.pages.map(({ name }) => name)} index={index} sheet={sheet}>
        <StencilChoice sheets={sheets} />
      </PageChoice>
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

/** The sheet with its pages where they lie on it, to choose from; pages that are no part of it stand above. */
function PageChoice({
  plan,
  names,
  index,
  sheet,
  children,
}: {
  readonly plan: PagePlan;
  readonly names: readonly string[];
  readonly index: number;
  /** The cutting drawing that the pages show; null until it is there. */
  readonly sheet: ShownDrawing | null;
  readonly children: ComponentChildren;
}) {
  const { studio } = useStudio();
  const placed = new Map(plan.pages.map(({ name, windowMm }) => [name, windowMm]));
  const button = (name: string, k: number) => (
    <button type="button" aria-pressed={k === index} onClick={() => studio.set({ page: k })}>
      <span>{name}</span>
    </button>
  );
  const share = (mm: number, whole: number) => `${(100 * mm) / whole}%`;
  return (
    <div class="page-choice">
      {children}
      <ul class="page-list" aria-label="Pages about the whole">
        {names.map((name, k) => (placed.has(name) ? null : <li key={name}>{button(name, k)}</li>))}
      </ul>
      <div class="page-sheet" style={{ aspectRatio: `${plan.widthMm} / ${plan.heightMm}` }}>
        {sheet !== null && <SheetPicture sheet={sheet} />}
        <ul class="page-plan" aria-label="Pages as they lie on the sheet">
          {names.map((name, k) => {
            const box = placed.get(name);
            if (box === undefined) return null;
            const [x0, y0] = [Math.max(0, box.x0), Math.max(0, box.y0)];
            const [x1, y1] = [Math.min(plan.widthMm, box.x1), Math.min(plan.heightMm, box.y1)];
            return (
              <li
                key={name}
                style={{
                  left: share(x0, plan.widthMm),
                  top: share(y0, plan.heightMm),
                  width: share(x1 - x0, plan.widthMm),
                  height: share(y1 - y0, plan.heightMm),
                }}
              >
                {button(name, k)}
              </li>
            );
          })}
        </ul>
      </div>
      <p class="fact">
        {plan.pages.length === 1
          ? 'The sheet fits on one page.'
          : `${plan.pages.length} pages, ${plan.columns} across and ${plan.rows} down`}
      </p>
    </div>
  );
}

/** The sheet painted under the pages that lie on it. */
function SheetPicture({ sheet }: { readonly sheet: ShownDrawing }) {
  const { painter } = useThreads();
  const canvas = useRef<HTMLCanvasElement>(null);
  const [width, setWidth] = useState(0);
  const { widthMm, heightMm } = sheet.pages[0];
  useLayoutEffect(() => {
    const element = canvas.current;
    if (element === null) return;
    const watch = new ResizeObserver(() => setWidth(element.clientWidth));
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  const ratio = devicePixelRatio;
  useEffect(() => {
    const context = canvas.current?.getContext('2d', { alpha: false }) ?? null;
    if (context === null || width === 0) return;
    let gone = false;
    const window = { width, height: (width * heightMm) / widthMm };
    const camera = { at: { x: widthMm / 2, y: heightMm / 2 }, pxPerMm: width / widthMm };
    void painter
      .page(
        sheet,
        0,
      )({ camera, window, ratio, resting: true, around: '#ffffff' })
      .then((image) => {
        if (!gone) {
          context.canvas.width = image.width;
          context.canvas.height = image.height;
          context.drawImage(image, 0, 0);
        }
        image.close();
      });
    return () => {
      gone = true;
    };
  }, [sheet, width, widthMm, heightMm, painter, ratio]);
  return <canvas ref={canvas} class="page-picture" role="img" aria-label="The sheet under its pages." />;
}
