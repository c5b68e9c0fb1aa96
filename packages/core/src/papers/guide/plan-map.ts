import type { Plan, PlanPlacement } from '../../cloth/plan-types.js';
import { capHeight, emOfCap } from '../../draw/label-box.js';
import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { COLOURS, PAPER } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { Item, LineStyle } from '../../draw/types.js';
import { joinBoxes, sharedBox } from '../../geometry/boxes.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import { passGround } from '../map/passes.js';
import { MAP_LINES, MARK_MM, MASK_TINT, markCross } from '../map/symbols.js';
import { scaleWords, type View, viewBox, viewPoint } from '../sheet/view.js';

/** The map is no higher than this, mm on the page. */
const MOST_HIGH_MM = 100;
/** Kept free beside the cloth for names, mm. */
const BESIDE_MM = 14;
/** Placements are drawn at least this large, mm: a number and air around it. */
const LEAST_CELL_MM = 8;
const CAP_MM = 2.8;
const ZERO: LineStyle = { colour: MAP_LINES.ground.colour, widthMm: 0.5 };

/** A small map of the cloth from its start: every placement with the number of its pass, masks, ground line and check marks. Nothing without placements. */
export function planMap(pages: GuidePages, plan: Plan): void {
  const view = mapView(pages, plan);
  if (view === null) return;
  const heightMm = view.scale * (view.window.y1 - view.window.y0);
  pages.need(heightMm + 3 * LINE_MM + 8);
  pages.space(5);
  const placed = { ...view, at: { ...view.at, y: pages.y + 2 } };
  pages.add(...mapItems(pages, plan, placed));
  pages.y += heightMm + 3;
  const shown = plan.placements.filter(({ field }) => within(field, view.window)).length;
  const part = shown < plan.placements.length ? ' This is the beginning of the cloth; it goes on in the same way.' : '';
  const masks = plan.masks.length > 0 ? ' Grey: masks and waste.' : '';
  pages.paragraph({
    text: `Drawn at ${scaleWords(view.scale)}, the cloth’s start above. Numbers and hatching: the pass in which a placement is printed. Heavy line: edge of the cloth; points: usable cloth.${masks} Blue dash and point: ground line, with its zero in a large ring; crossed rings: check marks.${part}`,
  });
}

function mapView(pages: GuidePages, { placements, cloth, ground }: Plan): View | null {
  if (placements.length === 0) return null;
  let all: Box = { x0: 0, y0: 0, x1: cloth.table.widthMm, y1: cloth.table.lengthMm };
  for (const { field } of placements) all = joinBoxes(all, field);
  if (ground !== null) all = joinBoxes(all, { x0: ground.xMm, y0: ground.zero.y, x1: ground.xMm, y1: ground.zero.y });
  const roomMm = pages.width - 2 * BESIDE_MM;
  const { field } = placements[0];
  const least = LEAST_CELL_MM / Math.min(field.x1 - field.x0, field.y1 - field.y0);
  const fits = Math.min(roomMm / (all.x1 - all.x0), MOST_HIGH_MM / (all.y1 - all.y0));
  const scale = Math.min(1, Math.max(least, fits));
  const window = {
    ...all,
    x1: Math.min(all.x1, all.x0 + roomMm / scale),
    y1: Math.min(all.y1, all.y0 + MOST_HIGH_MM / scale),
  };
  return { window, scale, at: { x: pages.left + (pages.width - scale * (window.x1 - window.x0)) / 2, y: 0 } };
}

function mapItems(pages: GuidePages, plan: Plan, view: View): Item[] {
  const { placements, cloth, masks, ground } = plan;
  const frame = viewBox(view, view.window);
  const seen = placements.filter(({ field }) => sharedBox(field, view.window) !== null);
  const inFrame = (items: readonly Item[]): Item => ({ kind: 'clip', contours: [boxContour(frame)], items });
  const table = { x0: 0, y0: 0, x1: cloth.table.widthMm, y1: cloth.table.lengthMm };
  return [
    inFrame([
      ...seen.flatMap(({ field, pass }) => passGround(pass, viewBox(view, field))),
      ...masks.flatMap(({ box }): Item[] => {
        const strip = sharedBox(viewBox(view, box), frame);
        return strip === null ? [] : [{ kind: 'path', contours: [boxContour(strip)], fill: MASK_TINT }];
      }),
      ...seen.map(({ field }): Item => {
        return { kind: 'path', contours: [boxContour(viewBox(view, field))], line: MAP_LINES.placement };
      }),
      { kind: 'path', contours: [boxContour(viewBox(view, table))], line: MAP_LINES.cloth },
      { kind: 'path', contours: [boxContour(viewBox(view, cloth.usable))], line: MAP_LINES.usable },
      ...groundItems(plan, view),
    ]),
    ...seen.flatMap((p) => passNumber(pages, plan, p, view, frame)),
    ...(ground === null ? [] : zeroItems(pages, plan, view, frame)),
    ...lineNames(pages, plan, seen, view, frame),
  ];
}

function groundItems({ ground }: Plan, view: View): Item[] {
  if (ground === null) return [];
  const line = polyline(
    [viewPoint(view, { x: ground.xMm, y: ground.fromMm }), viewPoint(view, { x: ground.xMm, y: ground.toMm })],
    { closed: false },
  );
  const marks = ground.marks
    .map(({ at }) => viewPoint(view, at))
    .filter(({ y }) => y <= view.at.y + view.scale * (view.window.y1 - view.window.y0) + MARK_MM)
    .flatMap((p) => [...markCross(p), circleContour(p, MARK_MM)]);
  return [
    { kind: 'path', contours: [line], line: MAP_LINES.ground },
    { kind: 'path', contours: marks, line: MAP_LINES.mark },
  ];
}

function zeroItems(pages: GuidePages, { ground }: Plan, view: View, frame: Box): Item[] {
  if (ground === null) return [];
  const at = viewPoint(view, ground.zero);
  if (at.x < frame.x0 || at.x > frame.x1 || at.y < frame.y0 || at.y > frame.y1) return [];
  const ring: Item = {
    kind: 'path',
    contours: [circleContour(at, 2)],
    line: ZERO,
  };
  // Beside the cloth there is room for its name.
  if (at.x - frame.x0 > 2) return [ring];
  return [ring, { ...pages.line('zero', frame.x0 - 3.2, at.y + 1.2, { sizeMm: BODY_MM }), anchor: 'end' }];
}

/** The pass's number in the middle of what is printed of a placement; where that is too small, beside it on the mask. */
function passNumber({ font }: GuidePages, plan: Plan, p: PlanPlacement, view: View, frame: Box): Item[] {
  const { field, visible, pass } = p;
  const { usable } = plan.cloth;
  const em = emOfCap(CAP_MM, font);
  const text = `${pass}`;
  const wide = textWidthMm(text, { sizeMm: em, bold: true }, font);
  const fits = (box: Box | null): box is Box =>
    box !== null && box.x1 - box.x0 >= wide + 1.4 && box.y1 - box.y0 >= CAP_MM + 1;
  const masked = [
    { ...field, x0: Math.max(field.x0, usable.x1) },
    { ...field, x1: Math.min(field.x1, usable.x0) },
    { ...field, y0: Math.max(field.y0, usable.y1) },
    { ...field, y1: Math.min(field.y1, usable.y0) },
  ];
  const place = [visible, ...masked].map((box) => sharedBox(viewBox(view, box), frame)).find(fits);
  if (place === undefined) return [];
  const [x, y] = [(place.x0 + place.x1) / 2, (place.y0 + place.y1) / 2];
  const plate = { x0: x - wide / 2 - 0.6, y0: y - CAP_MM / 2 - 0.4, x1: x + wide / 2 + 0.6, y1: y + CAP_MM / 2 + 0.4 };
  return [
    { kind: 'path', contours: [boxContour(plate)], fill: PAPER },
    {
      kind: 'text',
      text,
      x,
      y: y + capHeight(em, font) / 2,
      sizeMm: em,
      anchor: 'middle',
      bold: true,
      colour: COLOURS.black,
    },
  ];
}

/** `c1`, `c2`, … above the columns; `r1`, `r2`, … beside the rows of a brick. */
function lineNames(
  pages: GuidePages,
  { lattice }: Plan,
  seen: readonly PlanPlacement[],
  view: View,
  frame: Box,
): Item[] {
  const brick = lattice.repeat.kind === 'brick';
  const firsts = new Map<number, PlanPlacement>();
  for (const p of seen) {
    const line = brick ? p.row : p.column;
    if (!firsts.has(line)) firsts.set(line, p);
  }
  return [...firsts].flatMap(([line, { field }]): Item[] => {
    const box = sharedBox(viewBox(view, field), frame);
    if (box === null) return [];
    const text = brick ? `r${line}` : `c${line}`;
    if (brick) {
      const item = pages.line(text, frame.x0 - 1.5, (box.y0 + box.y1) / 2 + 1.2, { sizeMm: BODY_MM });
      return box.y1 - box.y0 < 4 ? [] : [{ ...item, anchor: 'end' }];
    }
    const item = pages.line(text, (box.x0 + box.x1) / 2, frame.y0 - 1.5, { sizeMm: BODY_MM });
    return box.x1 - box.x0 < textWidthMm(text, { sizeMm: BODY_MM }, pages.font) + 1
      ? []
      : [{ ...item, anchor: 'middle' }];
  });
}

function within(inner: Box, outer: Box): boolean {
  return inner.x1 <= outer.x1 + 1e-6 && inner.y1 <= outer.y1 + 1e-6;
}
