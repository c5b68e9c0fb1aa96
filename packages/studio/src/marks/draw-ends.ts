import type { Point, ProofReport } from '@okuri/core';
import type { ProofSheet } from '@okuri/core/inside';
import { distance } from '@okuri/core/inside';
import { seen, toWindow } from '../canvas/camera';
import type { StageView } from '../views/stage';
import { drawName, twoTone } from './two-tone';

/** A ring is as large as a mm and a half, within these: where the sheet is small, rings would hide it. px */
const RING_PX = { least: 2.5, most: 9 } as const;
const RING_MM = 1.5;
const CHOSEN_PX = 16;
const NAME_UP_PX = 20;
/** Names are written where the sheet is at least this large, px a mm: else they lie on one another. */
const NAMES_FROM = 4;

/** Rings at the places where a proof was measured: where the lead edge of a join lies, and at the ends of the first cut; with their names when near. */
export function drawEnds(
  context: CanvasRenderingContext2D,
  view: StageView,
  { of, report, chosen }: { readonly of: ProofSheet; readonly report: ProofReport; readonly chosen: string | null },
): void {
  const { camera, window } = view;
  const { x0, y0, x1, y1 } = seen(camera, window);
  const ring = Math.min(RING_PX.most, Math.max(RING_PX.least, RING_MM * camera.pxPerMm));
  const measured = new Map(report.offsets.map(({ name, offsetMm }) => [name, offsetMm]));
  for (const { name, at } of endPlaces(of)) {
    const offset = measured.get(name);
    const isChosen = name === chosen;
    if ((offset === undefined && !isChosen) || at.x < x0 || at.x > x1 || at.y < y0 || at.y > y1) continue;
    const { x, y } = toWindow(camera, at, window);
    context.beginPath();
    context.arc(x, y, isChosen ? CHOSEN_PX : ring, 0, 2 * Math.PI);
    twoTone(context, offset === undefined ? [3, 3] : [], isChosen ? 2 : 1);
    if (!isChosen && camera.pxPerMm < NAMES_FROM) continue;
    const words = offset === undefined ? name : `${name} ${offset < 0 ? '−' : '+'}${Math.abs(offset).toFixed(2)}`;
    drawName(context, words, x, y - NAME_UP_PX, isChosen);
  }
}

/** The measured end nearest to a press within so many px; null where there is none. */
export function pickEnd(
  press: Point,
  { camera, window }: StageView,
  { of, report, withinPx }: { readonly of: ProofSheet; readonly report: ProofReport; readonly withinPx: number },
): string | null {
  const measured = new Set(report.offsets.map(({ name }) => name));
  let best: string | null = null;
  let least = withinPx;
  for (const { name, at } of endPlaces(of)) {
    if (!measured.has(name)) continue;
    const p = toWindow(camera, at, window);
    const far = distance(p, press);
    if (far >= least) continue;
    least = far;
    best = name;
  }
  return best;
}

/** Where ends are measured on the print: at the lead edges, and at the stops. Sheet mm. */
function endPlaces({ ends }: ProofSheet): { readonly name: string; readonly at: Point }[] {
  return [...ends.joins.map(({ name, lead }) => ({ name, at: lead })), ...ends.firstCutEnds];
}
