import type { PagePlan } from '@okuri/core';
import { useMemo, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { Stage } from './stage';
import { useReply } from './use-reply';

/** The print sheets of a stencil: how the sheet is split, and one page at a time. */
export function PagesView() {
  const { state } = useStudio();
  const { client, painter } = useThreads();
  const { checked, stale, stencil, page: chosen } = state;
  const [camera, setCamera] = useState<Camera | null>(null);
  const asks = checked !== null && !stale;
  const { value, refused, late } = useReply(asks ? () => client.ask((engine) => engine.pageDrawing(stencil)) : null, [
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
      <PageChoice plan={value.plan} names={value.drawing.pages.map(({ name }) => name)} index={index} />
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
}: {
  readonly plan: PagePlan;
  readonly names: readonly string[];
  readonly index: number;
}) {
  const { studio } = useStudio();
  const placed = new Map(plan.pages.map(({ name, windowMm }) => [name, windowMm]));
  const button = (name: string, k: number) => (
    <button type="button" aria-pressed={k === index} onClick={() => studio.set({ page: k })}>
      {name}
    </button>
  );
  const share = (mm: number, whole: number) => `${(100 * mm) / whole}%`;
  return (
    <div class="page-choice">
      <ul class="page-list" aria-label="Pages about the whole">
        {names.map((name, k) => (placed.has(name) ? null : <li key={name}>{button(name, k)}</li>))}
      </ul>
      <ul
        class="page-plan"
        aria-label="Pages as they lie on the sheet"
        style={{ aspectRatio: `${plan.widthMm} / ${plan.heightMm}` }}
      >
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
      <p class="fact">
        {plan.pages.length} pages, {plan.columns} across and {plan.rows} down
      </p>
    </div>
  );
}
