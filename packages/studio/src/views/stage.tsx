import type { Box, Point } from '@okuri/core';
import { distance } from '@okuri/core/inside';
import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import {
  type Camera,
  fitBox,
  panBy,
  RULER_PX,
  seen,
  toPlane,
  toWindow,
  type WindowSize,
  zoomAbout,
} from '../canvas/camera';
import type { PaintSource } from '../canvas/painter';
import { rulerMarks } from '../canvas/ruler';
import { TrueSize } from '../open/true-size';
import { useStudio } from '../state/use-studio';
import type { Units } from '../words/lengths';
import { useDark } from './use-dark';

/** What a view is painted with. */
export interface StageView {
  readonly camera: Camera;
  readonly window: WindowSize;
  /** Device pixels to a px of the page. */
  readonly ratio: number;
}

/** A picture and what it shows. */
interface Painted {
  readonly image: ImageBitmap;
  readonly camera: Camera;
  readonly window: WindowSize;
}

export interface StageProps {
  /** Said to those who hear the page. */
  readonly label: string;
  /** All that there is, mm: what "whole" shows. */
  readonly whole: Box;
  readonly camera: Camera | null;
  readonly onCamera: (camera: Camera) => void;
  /** Paints what lies on the plane, on another thread. A new function paints anew. */
  readonly source: PaintSource | null;
  /** Marks above the picture, drawn with every movement; the context is in px of the page. */
  readonly over?: (context: CanvasRenderingContext2D, view: StageView) => void;
  /** A press without a drag; `place` in px of the window. */
  readonly onPick?: (place: Point, view: StageView) => void;
  /** Elements laid over the picture, placed in px of the window. */
  readonly laid?: (view: StageView) => ComponentChildren;
  /** A press sets something: the pointer shows it. */
  readonly aims?: boolean;
}

/** After so long without a movement a view rests, ms. */
const REST_MS = 140;
const CLOSE_AFTER_MS = 1_000;
const KEY_STEP_PX = 60;
const KEY_ZOOM = 1.25;
/** A wheel's notch is about 100 of its units. */
const WHEEL_ZOOM = 0.0018;
/** A pointer that moved less has picked, not dragged, px. */
const PICK_PX = 4;

/** A window on a plane in mm, with rulers: moved by drag, wheel, pinch and keys. */
export function Stage({ label, whole, camera, onCamera, source, over, onPick, laid, aims = false }: StageProps) {
  const { state } = useStudio();
  const frame = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [window, setWindow] = useState<WindowSize | null>(null);
  const moved = useRef(0);
  const shown = camera ?? (window === null ? null : fitBox(whole, window));

  useLayoutEffect(() => {
    const element = frame.current;
    if (element === null) return;
    const watch = new ResizeObserver(() => setWindow({ width: element.clientWidth, height: element.clientHeight }));
    watch.observe(element);
    return () => watch.disconnect();
  }, []);

  const dark = useDark();
  const painted = usePainted(source, shown, window, moved, frame, dark);
  useEffect(() => {
    if (window === null || shown === null) return;
    const id = requestAnimationFrame(() => {
      const context = canvas.current?.getContext('2d', { alpha: false }) ?? null;
      if (context === null) return;
      const view = { camera: shown, window, ratio: devicePixelRatio };
      paintStage(context, view, { painted, over, units: state.units });
    });
    return () => cancelAnimationFrame(id);
  });

  const go = (next: Camera): void => {
    moved.current = performance.now();
    onCamera(next);
  };
  usePointers(canvas, window, shown, go, onPick);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (shown === null || window === null || event.ctrlKey || event.metaKey || event.altKey) return;
    const middle = { x: window.width / 2, y: window.height / 2 };
    const next: Record<string, () => Camera> = {
      ArrowLeft: () => panBy(shown, KEY_STEP_PX, 0),
      ArrowRight: () => panBy(shown, -KEY_STEP_PX, 0),
      ArrowUp: () => panBy(shown, 0, KEY_STEP_PX),
      ArrowDown: () => panBy(shown, 0, -KEY_STEP_PX),
      '+': () => zoomAbout(shown, KEY_ZOOM, middle, window),
      '=': () => zoomAbout(shown, KEY_ZOOM, middle, window),
      '-': () => zoomAbout(shown, 1 / KEY_ZOOM, middle, window),
      '0': () => fitBox(whole, window),
      Home: () => fitBox(whole, window),
    };
    if (!Object.hasOwn(next, event.key)) return;
    event.preventDefault();
    go(next[event.key]());
  };

  const zoomBy = (factor: number): void => {
    if (shown === null || window === null) return;
    go(zoomAbout(shown, factor, { x: window.width / 2, y: window.height / 2 }, window));
  };

  return (
    <div class={aims ? 'stage stage-aims' : 'stage'}>
      <div class="stage-frame" ref={frame}>
        <canvas
          ref={canvas}
          class="stage-canvas"
          role="img"
          aria-label={`${label} Arrow keys move it, plus and minus bring it nearer or farther, 0 shows the whole.`}
          tabIndex={0}
          width={Math.max(1, Math.round((window?.width ?? 1) * devicePixelRatio))}
          height={Math.max(1, Math.round((window?.height ?? 1) * devicePixelRatio))}
          onKeyDown={onKeyDown}
        />
        {laid !== undefined && window !== null && shown !== null && (
          <div class="stage-laid">{laid({ camera: shown, window, ratio: devicePixelRatio })}</div>
        )}
      </div>
      <div class="stage-zoom">
        <button type="button" aria-label="Nearer" onClick={() => zoomBy(KEY_ZOOM)}>
          +
        </button>
        <button type="button" aria-label="Farther" onClick={() => zoomBy(1 / KEY_ZOOM)}>
          −
        </button>
        <button type="button" onClick={() => window !== null && go(fitBox(whole, window))}>
          Whole
        </button>
        <TrueSize onShow={(pxPerMm) => shown !== null && go({ ...shown, pxPerMm })} />
      </div>
    </div>
  );
}

function paintStage(
  context: CanvasRenderingContext2D,
  view: StageView,
  { painted, over, units }: { painted: Painted | null; over: StageProps['over']; units: Units },
): void {
  const { camera, window, ratio } = view;
  const style = getComputedStyle(context.canvas);
  context.setTransform(ratio, 0, 0, ratio, 0, 0);
  context.fillStyle = style.getPropertyValue('--stage');
  context.fillRect(0, 0, window.width, window.height);
  if (painted !== null) layPainted(context, painted, view);
  context.save();
  over?.(context, view);
  context.restore();
  context.setTransform(ratio, 0, 0, ratio, 0, 0);
  const box = seen(camera, window);
  const { pxPerMm } = camera;
  context.fillStyle = style.getPropertyValue('--slip');
  context.fillRect(0, 0, window.width, RULER_PX);
  context.fillRect(0, 0, RULER_PX, window.height);
  context.fillStyle = style.getPropertyValue('--ink');
  context.strokeStyle = style.getPropertyValue('--ink-soft');
  context.lineWidth = 1;
  context.setLineDash([]);
  context.font = '13px system-ui, sans-serif';
  context.textBaseline = 'alphabetic';
  context.beginPath();
  for (const { mm, text, length } of rulerMarks(box.x0, box.x1, pxPerMm, units)) {
    const x = Math.round((mm - box.x0) * pxPerMm) + 0.5;
    if (x < RULER_PX) continue;
    context.moveTo(x, RULER_PX);
    context.lineTo(x, RULER_PX - length * 12);
    context.textAlign = 'left';
    if (text !== null) context.fillText(text, x + 3, 11);
  }
  for (const { mm, text, length } of rulerMarks(box.y0, box.y1, pxPerMm, units)) {
    const y = Math.round((mm - box.y0) * pxPerMm) + 0.5;
    if (y < RULER_PX) continue;
    context.moveTo(RULER_PX, y);
    context.lineTo(RULER_PX - length * 12, y);
    if (text === null) continue;
    context.save();
    context.translate(11, y - 3);
    context.rotate(-Math.PI / 2);
    context.fillText(text, 0, 0);
    context.restore();
  }
  context.stroke();
  context.fillStyle = style.getPropertyValue('--slip');
  context.fillRect(0, 0, RULER_PX, RULER_PX);
  context.fillStyle = style.getPropertyValue('--ink-soft');
  context.fillText(units, 5, 17);
}

/** Drag with one pointer, pinch with two, wheel; a press without a drag picks. */
function usePointers(
  canvas: { readonly current: HTMLCanvasElement | null },
  window: WindowSize | null,
  camera: Camera | null,
  go: (camera: Camera) => void,
  onPick: StageProps['onPick'],
): void {
  const now = useRef({ window, camera, go, onPick });
  now.current = { window, camera, go, onPick };
  useEffect(() => {
    const element = canvas.current;
    if (element === null) return;
    const pointers = new Map<number, { x: number; y: number }>();
    let travelled = 0;
    const place = (event: { clientX: number; clientY: number }) => {
      const box = element.getBoundingClientRect();
      return { x: event.clientX - box.left, y: event.clientY - box.top };
    };
    const down = (event: PointerEvent) => {
      element.setPointerCapture(event.pointerId);
      if (pointers.size === 0) travelled = 0;
      pointers.set(event.pointerId, place(event));
    };
    const move = (event: PointerEvent) => {
      const before = pointers.get(event.pointerId);
      const { camera, window, go } = now.current;
      if (before === undefined || camera === null || window === null) return;
      const after = place(event);
      travelled += distance(after, before);
      const [other] = [...pointers].filter(([id]) => id !== event.pointerId).map(([, at]) => at);
      pointers.set(event.pointerId, after);
      if (other === undefined) {
        if (travelled >= PICK_PX) go(panBy(camera, after.x - before.x, after.y - before.y));
        return;
      }
      const spread = (p: { x: number; y: number }) => Math.max(1, distance(p, other));
      const middle = { x: (after.x + other.x) / 2, y: (after.y + other.y) / 2 };
      const panned = panBy(camera, (after.x - before.x) / 2, (after.y - before.y) / 2);
      go(zoomAbout(panned, spread(after) / spread(before), middle, window));
    };
    const up = (event: PointerEvent) => {
      const at = pointers.get(event.pointerId);
      pointers.delete(event.pointerId);
      const { window, camera, onPick } = now.current;
      if (event.type !== 'pointerup' || at === undefined || travelled >= PICK_PX) return;
      if (window !== null && camera !== null) onPick?.(at, { camera, window, ratio: devicePixelRatio });
    };
    const wheel = (event: WheelEvent) => {
      event.preventDefault();
      const { camera, window, go } = now.current;
      if (camera === null || window === null) return;
      go(zoomAbout(camera, Math.exp(-event.deltaY * WHEEL_ZOOM), place(event), window));
    };
    element.addEventListener('pointerdown', down);
    element.addEventListener('pointermove', move);
    element.addEventListener('pointerup', up);
    element.addEventListener('pointercancel', up);
    element.addEventListener('wheel', wheel, { passive: false });
    return () => {
      element.removeEventListener('pointerdown', down);
      element.removeEventListener('pointermove', move);
      element.removeEventListener('pointerup', up);
      element.removeEventListener('pointercancel', up);
      element.removeEventListener('wheel', wheel);
    };
  }, [canvas]);
}

/** A picture that was painted for another view, moved and stretched to this one. */
function layPainted(context: CanvasRenderingContext2D, painted: Painted, view: StageView): void {
  const { image } = painted;
  const corner = toWindow(view.camera, toPlane(painted.camera, { x: 0, y: 0 }, painted.window), view.window);
  const stretch = view.camera.pxPerMm / painted.camera.pxPerMm;
  const exact = Math.abs(stretch - 1) < 1e-9;
  context.save();
  context.imageSmoothingEnabled = !exact;
  if (exact) {
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.drawImage(image, Math.round(corner.x * view.ratio), Math.round(corner.y * view.ratio));
  } else {
    context.drawImage(image, corner.x, corner.y, painted.window.width * stretch, painted.window.height * stretch);
  }
  context.restore();
}

/** The newest picture of the plane. While the view moves pictures follow one another as fast as they are made; when it rests one is made as fine as the screen. */
function usePainted(
  source: PaintSource | null,
  camera: Camera | null,
  window: WindowSize | null,
  moved: { readonly current: number },
  frame: { readonly current: HTMLElement | null },
  dark: boolean,
): Painted | null {
  const [painted, setPainted] = useState<Painted | null>(null);
  const wanted = useRef<{ source: PaintSource; camera: Camera; window: WindowSize } | null>(null);
  const busy = useRef(false);
  const known = useRef<PaintSource | null>(null);
  useEffect(() => {
    wanted.current = source === null || camera === null || window === null ? null : { source, camera, window };
    const next = async (): Promise<void> => {
      const want = wanted.current;
      if (want === null || busy.current) return;
      busy.current = true;
      const { alwaysFine = false } = want.source;
      // Something new is shown as soon as it can be, and finely a moment later.
      const resting = alwaysFine || (performance.now() - moved.current >= REST_MS && known.current === want.source);
      known.current = want.source;
      const around =
        frame.current === null ? '#000' : getComputedStyle(frame.current).getPropertyValue('--stage-plain');
      try {
        const image = await want.source({
          camera: want.camera,
          window: want.window,
          ratio: devicePixelRatio,
          resting,
          around,
        });
        setPainted((before) => {
          // The frame that is on its way may still draw the older one.
          if (before !== null) setTimeout(() => before.image.close(), CLOSE_AFTER_MS);
          return { image, camera: want.camera, window: want.window };
        });
      } finally {
        busy.current = false;
      }
      const newer = wanted.current;
      if (newer !== want) void next();
      else if (!resting) setTimeout(() => newer === wanted.current && void next(), REST_MS);
    };
    void next();
  }, [source, camera?.at.x, camera?.at.y, camera?.pxPerMm, window?.width, window?.height, dark]);
  return painted;
}
