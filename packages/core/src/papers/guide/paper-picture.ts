import { ClearSpace, SOFT } from '../../draw/clear-space.js';
import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import { type PlacedTags, placeTags, type Tag } from '../../draw/name-tags.js';
import { COLOURS, lineStyle } from '../../draw/palette.js';
import type { Item, LineStyle } from '../../draw/types.js';
import { polyline } from '../../geometry/contour.js';
import { distance } from '../../geometry/points.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { Sheet } from '../../stencil/types.js';
import { weakRings, weakTags } from '../sheet/paper-marks.js';
import type { GauzePlace, NamedIsland, PaperNames } from '../sheet/paper-names.js';
import { quietSheet } from '../sheet/quiet-sheet.js';
import { scaleWords, type View, viewContours, viewFrame, viewPoint } from '../sheet/view.js';

/** Height of the picture, mm. */
const HEIGHT_MM = 125;
const MARK_LINE: LineStyle = { colour: COLOURS.black, widthMm: 0.5, cap: 'butt', join: 'miter' };
const ISLAND_LINE: LineStyle = { colour: COLOURS.black, widthMm: 0.4, dashMm: [0.9, 0.6], cap: 'butt' };
/** Half of a cross, of a lozenge, and an arrow's head, mm. */
const CROSS_MM = 1.5;
const LOZENGE_MM = 1.7;
const HEAD_MM = 1.6;
/** An arrow is drawn at least this long, mm. */
const ARROW_MM = 4;
const TAGS = { capsMm: [3.2, 2.7], reachMm: 40, plate: true };

/** The sheet, pale, with a mark and a name at every place of its paper that needs help. */
export function paperPicture(pages: GuidePages, sheet: Sheet, names: PaperNames): void {
  const scale = Math.min(1, pages.width / sheet.widthMm, HEIGHT_MM / sheet.heightMm);
  const heightMm = scale * sheet.heightMm;
  pages.need(heightMm + 3 * LINE_MM);
  pages.space(1.5);
  const view: View = {
    window: { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm },
    scale,
    at: { x: pages.left + (pages.width - scale * sheet.widthMm) / 2, y: pages.y },
  };
  const marks = markItems(pages, names, view);
  pages.add(...quietSheet(sheet, view), ...marks.items);
  pages.y += heightMm + 1;
  const missing = marks.missing.length > 0 ? ` No room for the names ${marks.missing.join(', ')}.` : '';
  pages.paragraph({ text: `Drawn at ${scaleWords(scale)}. ${markWords(names)}${missing}` });
}

function markWords({ weak, gauze, islands }: PaperNames): string {
  return [
    ...(weak.length > 0 ? ['Dashed ring: weak place.'] : []),
    ...(gauze.some((g) => g.tongue !== null) ? ['Arrow: tongue, from its root to its tip.'] : []),
    ...(gauze.some((g) => g.opening !== null) ? ['Lozenge: long opening.'] : []),
    ...(islands.length > 0 ? ['Cross and dashed outline: falls out.'] : []),
    'W: a place to watch, in the lists below. Places are measured from the clipped corner of the paper.',
  ].join(' ');
}

function markItems(pages: GuidePages, { weak, gauze, islands }: PaperNames, view: View): PlacedTags {
  const rings = weakRings(weak, view);
  const marks = [
    ...gauze.flatMap((g) => gauzeMark(g, view)),
    ...islands.map((one) => cross(viewPoint(view, one.island.at))),
  ];
  const space = new ClearSpace();
  space.addContours([...rings, ...marks], SOFT);
  const tags: Tag[] = [
    ...weakTags(weak, view),
    ...islands.map((one) => ({ text: one.name, starts: [islandAt(one, view)], aroundMm: CROSS_MM })),
    ...gauze.map((one) => ({ text: one.name, starts: [viewPoint(view, one.at)], aroundMm: LOZENGE_MM })),
  ];
  const placed = placeTags(tags, { space, font: pages.font, frame: viewFrame(view) }, TAGS);
  const outlines = viewContours(
    view,
    islands.map(({ island }) => island.outline),
  );
  const path = (contours: readonly Contour[], line: LineStyle): Item[] =>
    contours.length > 0 ? [{ kind: 'path', contours, line }] : [];
  const drawn = [...path(outlines, ISLAND_LINE), ...path(marks, MARK_LINE), ...path(rings, lineStyle('weak'))];
  return { items: [...drawn, ...placed.items], missing: placed.missing };
}

function islandAt({ island }: NamedIsland, view: View): Point {
  return viewPoint(view, island.at);
}

function cross({ x, y }: Point): Contour {
  const c = CROSS_MM / Math.SQRT2;
  // Both strokes in one line, over the middle and back: a cross is one mark.
  return polyline(
    [
      { x: x - c, y: y - c },
      { x: x + c, y: y + c },
      { x, y },
      { x: x + c, y: y - c },
      { x: x - c, y: y + c },
    ],
    { closed: false },
  );
}

function gauzeMark({ tongue, at }: GauzePlace, view: View): Contour[] {
  const p = viewPoint(view, at);
  if (tongue === null) {
    const d = LOZENGE_MM;
    const corners = [
      { x: p.x, y: p.y - d },
      { x: p.x + d, y: p.y },
      { x: p.x, y: p.y + d },
      { x: p.x - d, y: p.y },
    ];
    return [polyline(corners, { closed: true })];
  }
  const tip = viewPoint(view, tongue.tip);
  const length = distance(tip, p);
  const along = length > 0 ? { x: (tip.x - p.x) / length, y: (tip.y - p.y) / length } : { x: 0, y: 1 };
  const far = Math.max(ARROW_MM, length);
  const end = { x: p.x + far * along.x, y: p.y + far * along.y };
  const wing = (side: number) => ({
    x: end.x - HEAD_MM * along.x - side * 0.6 * HEAD_MM * along.y,
    y: end.y - HEAD_MM * along.y + side * 0.6 * HEAD_MM * along.x,
  });
  return [polyline([p, end], { closed: false }), polyline([wing(1), end, wing(-1)], { closed: false })];
}
