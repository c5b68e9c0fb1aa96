import type { Mask } from '../../cloth/plan-types.js';
import { COLOURS, PAPER } from '../../draw/palette.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { growBox, joinBoxes, sharedBox } from '../../geometry/boxes.js';
import { boxContour, circleContour } from '../../geometry/contour.js';
import type { Box, Contour, Matrix, Point } from '../../geometry/types.js';
import { formatMm } from '../../units/format.js';
import type { MapFace, MapPlacement } from './face.js';
import { type LongestLabel, placementLabel } from './labels.js';
import { PASS_STYLES_COUNT } from './passes.js';
import { EDGE_OUT_MM, MAP_LINES, MARK_MM, MASK_TINT, markCross, segment, UNPRINTED_TINT } from './symbols.js';
import type { MapLayout, MapWindow } from './windows.js';

/** A number beside the cloth keeps clear of its edge and of the mask's, page mm. */
const BESIDE_INSET_MM = 1.2;
/** Measures of check marks, page mm. */
const MEASURE_EM_MM = 2.3;
/** What overlaps by less is rounding, mm. */
const HAIR_MM = 1e-6;
/** Measures nearer to each other than this are left out, page mm. */
const MEASURE_APART_MM = 2.8;

export interface MapWindowOptions {
  /** Placements that are drawn: those of the face, or none where they are too many. */
  readonly placements: readonly MapPlacement[];
  readonly window: MapWindow;
  readonly layout: MapLayout;
  readonly longest: LongestLabel;
  readonly font: FontMetrics;
}

/** One window of a map; outlines and grounds of placements are the groups `FACE-pass-N`, `FACE-placement` and `FACE-beyond`. */
export function windowItems(
  face: MapFace,
  { placements: drawn, window, layout, longest, font }: MapWindowOptions,
): Item[] {
  const { shows, at } = window;
  const { scale } = layout;
  const x = (mm: number): number => at.x + (mm - shows.x0) * scale;
  const y = (mm: number): number => at.y + (mm - shows.y0) * scale;
  const onPage = (b: Box): Box => ({ x0: x(b.x0), y0: y(b.y0), x1: x(b.x1), y1: y(b.y1) });
  const seen = onPage(shows);
  const placements = drawn.filter(({ field }) => sharedBox(field, shows, HAIR_MM) !== null);
  const place = (group: string, list: readonly MapPlacement[]): Item[] =>
    list.length === 0
      ? []
      : [
          {
            kind: 'place',
            group: `${face.face}-${group}`,
            at: list.map(({ field }): Matrix => [1, 0, 0, 1, x(field.x0), y(field.y0)]),
          },
        ];
  const styles = new Map<number, MapPlacement[]>();
  for (const placement of placements) {
    const style = ((placement.pass - 1) % PASS_STYLES_COUNT) + 1;
    const list = styles.get(style);
    if (list === undefined) styles.set(style, [placement]);
    else list.push(placement);
  }
  const cloth = boxContour(onPage(face.cloth));
  const usable = boxContour(onPage(face.usable));
  const label = (placement: MapPlacement, box: Box | null, inset = 0): Item[] | null =>
    box && placementLabel(placement, growBox(onPage(box), -inset), { longest, font });
  const labels = layout.numbered
    ? placements.flatMap((placement) => {
        const visible = sharedBox(placement.visible, shows, HAIR_MM);
        return (
          label(placement, visible) ??
          label(placement, besideIt(placement, joinBoxes(placement.visible, face.cloth), shows), BESIDE_INSET_MM) ??
          label(placement, besideIt(placement, placement.visible, shows)) ??
          // Better over its print than nowhere.
          label(placement, sharedBox(placement.field, shows, HAIR_MM)) ??
          []
        );
      })
    : [];
  const lines: Item[] = [
    { kind: 'path', contours: face.masks.map(({ box }) => boxContour(onPage(box))), fill: MASK_TINT },
    { kind: 'path', contours: [cloth, usable], rule: 'evenodd', fill: UNPRINTED_TINT },
    {
      kind: 'clip',
      contours: [usable],
      items: [...styles].flatMap(([style, list]) => place(`pass-${style}`, list)),
    },
    ...place(
      'beyond',
      placements.filter(({ field, visible }) => !same(field, visible)),
    ),
    { kind: 'clip', contours: [usable], items: place('placement', placements) },
    ...(same(face.cloth, face.usable) ? [] : [{ kind: 'path', contours: [usable], line: MAP_LINES.usable } as const]),
    { kind: 'path', contours: [boxContour(growBox(onPage(face.cloth), EDGE_OUT_MM))], line: MAP_LINES.cloth },
    { kind: 'path', contours: face.masks.map((mask) => maskEdge(mask, onPage(mask.box))), line: MAP_LINES.mask },
    ...groundItems(face, { x, y }),
    ...labels,
  ];
  return [
    ...partWords(face, { shows, at, scale, whole: layout.pages.length === 1 && layout.pages[0].length === 1 }),
    { kind: 'clip', contours: [boxContour(windowClip(face, shows, seen))], items: lines },
    ...cutLines(face, shows, seen),
    ...markItems(face, { x, y, shows }),
    ...measureItems(face, { x, y, shows }),
  ];
}

interface OnPage {
  readonly x: (mm: number) => number;
  readonly y: (mm: number) => number;
  readonly shows: Box;
}

function groundItems({ ground }: MapFace, { x, y }: Omit<OnPage, 'shows'>): Item[] {
  if (ground === null) return [];
  const line = segment({ x: x(ground.xMm), y: y(ground.fromMm) }, { x: x(ground.xMm), y: y(ground.toMm) });
  return [{ kind: 'path', contours: [line], line: MAP_LINES.ground }];
}

function markItems({ ground }: MapFace, { x, y, shows }: OnPage): Item[] {
  const marks = (ground?.marks ?? [])
    .filter(({ at }) => within(at, shows))
    .map(({ at }) => ({ x: x(at.x), y: y(at.y) }));
  if (marks.length === 0) return [];
  return [
    { kind: 'path', contours: marks.map((p) => circleContour(p, MARK_MM)), fill: PAPER, line: MAP_LINES.mark },
    { kind: 'path', contours: marks.flatMap(markCross), line: MAP_LINES.mark },
  ];
}

/** The check marks of the ground line with their distance from the zero, left of the window. */
function measureItems({ ground }: MapFace, { x, y, shows }: OnPage): Item[] {
  if (ground === null) return [];
  const items: Item[] = [];
  let last = -Infinity;
  for (const { at, alongMm, onLine } of ground.marks) {
    if (!onLine || !within(at, shows) || y(at.y) - last < MEASURE_APART_MM) continue;
    last = y(at.y);
    const edge = x(shows.x0);
    items.push(
      { kind: 'path', contours: [segment({ x: edge - 3, y: last }, { x: edge - 0.8, y: last })], line: MAP_LINES.mark },
      {
        kind: 'text',
        text: alongMm === 0 ? 'zero' : formatMm(alongMm, 1),
        x: edge - 3.6,
        y: last + 0.35 * MEASURE_EM_MM,
        sizeMm: MEASURE_EM_MM,
        colour: COLOURS.black,
        anchor: 'end',
      },
    );
  }
  return items;
}

/** Which part of the cloth a window shows. */
function partWords(
  { cloth }: MapFace,
  { shows, at, scale, whole }: { shows: Box; at: Point; scale: number; whole: boolean },
): Item[] {
  const from = (a: number, b: number): string => `${formatMm(Math.max(0, a), 0)} to ${formatMm(b, 0)}`;
  const along = from(shows.y0, Math.min(shows.y1, cloth.y1));
  const cut = shows.x0 > 0 || shows.x1 < cloth.x1;
  const across = cut ? `, across ${from(shows.x0, Math.min(shows.x1, cloth.x1))}` : '';
  const text = whole ? 'start of the cloth' : `cloth from ${along}${across}`;
  const left = Math.max(shows.x0, 0);
  return [
    {
      kind: 'text',
      text,
      x: at.x + (left - shows.x0) * scale,
      y: at.y - 3,
      sizeMm: 2.6,
      colour: COLOURS.black,
    },
  ];
}

/** Where the map is cut and goes on in another window. */
function cutLines({ extent }: MapFace, shows: Box, seen: Box): Item[] {
  const lines = [
    ...(shows.y0 > extent.y0 ? [segment({ x: seen.x0 - 2, y: seen.y0 }, { x: seen.x1 + 2, y: seen.y0 })] : []),
    ...(shows.y1 < extent.y1 ? [segment({ x: seen.x0 - 2, y: seen.y1 }, { x: seen.x1 + 2, y: seen.y1 })] : []),
    ...(shows.x0 > extent.x0 ? [segment({ x: seen.x0, y: seen.y0 - 2 }, { x: seen.x0, y: seen.y1 + 2 })] : []),
    ...(shows.x1 < extent.x1 ? [segment({ x: seen.x1, y: seen.y0 - 2 }, { x: seen.x1, y: seen.y1 + 2 })] : []),
  ];
  return lines.length === 0 ? [] : [{ kind: 'path', contours: lines, line: MAP_LINES.cut }];
}

/** The largest part of a placement in a window beside an area, where its number hides no print; null where there is none. */
function besideIt({ field }: MapPlacement, area: Box, shows: Box): Box | null {
  const parts = [
    { ...field, x0: area.x1 },
    { ...field, x1: area.x0 },
    { ...field, y0: area.y1 },
    { ...field, y1: area.y0 },
  ].flatMap((part) => sharedBox(part, shows, HAIR_MM) ?? []);
  const size = (b: Box): number => (b.x1 - b.x0) * (b.y1 - b.y0);
  return parts.reduce<Box | null>((best, part) => (best === null || size(part) > size(best) ? part : best), null);
}

/** The edge of a mask that the print ends on, in the box of the mask on the page. */
function maskEdge({ side }: Mask, { x0, y0, x1, y1 }: Box): Contour {
  if (side === 'start') return segment({ x: x0, y: y1 }, { x: x1, y: y1 });
  if (side === 'end') return segment({ x: x0, y: y0 }, { x: x1, y: y0 });
  const x = side === 'left' ? x1 : x0;
  return segment({ x, y: y0 }, { x, y: y1 });
}

/** A window ends sharply where the map is cut, and leaves room for the edge of the cloth elsewhere. */
function windowClip({ extent }: MapFace, shows: Box, seen: Box): Box {
  const out = EDGE_OUT_MM + MAP_LINES.cloth.widthMm;
  return {
    x0: seen.x0 - (shows.x0 > extent.x0 ? 0 : out),
    y0: seen.y0 - (shows.y0 > extent.y0 ? 0 : out),
    x1: seen.x1 + (shows.x1 < extent.x1 ? 0 : out),
    y1: seen.y1 + (shows.y1 < extent.y1 ? 0 : out),
  };
}

function same(a: Box, b: Box): boolean {
  return a.x0 === b.x0 && a.y0 === b.y0 && a.x1 === b.x1 && a.y1 === b.y1;
}

function within({ x, y }: Point, box: Box): boolean {
  return x >= box.x0 - 1e-6 && x <= box.x1 + 1e-6 && y >= box.y0 - 1e-6 && y < box.y1 - 1e-6;
}
