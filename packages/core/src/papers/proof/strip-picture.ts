import { ClearSpace, SOFT } from '../../draw/clear-space.js';
import { placeTags, type Tag } from '../../draw/name-tags.js';
import { COLOURS, GREY, lineStyle, PAPER, WASTE_TINT } from '../../draw/palette.js';
import type { FontMetrics, Item, LineStyle } from '../../draw/types.js';
import { boxesOverlap, boxHolds, boxOf, sharedBox } from '../../geometry/boxes.js';
import { boxContour, circleContour, contoursBox, polyline } from '../../geometry/contour.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import type { CutStrip, NamedPlace } from '../sheet/cut-strip.js';
import { type Gutter, gutterNames } from '../sheet/gutter-names.js';
import { type LabelRequest, placeGuideNumbers } from '../sheet/numbers.js';
import { outlinesOf } from '../sheet/outlines.js';
import { type View, viewBox, viewContours, viewFrame, viewPoint } from '../sheet/view.js';
import { hatch } from '../sheet/zone-picture.js';

/** What is cut already. */
const BEFORE: LineStyle = { colour: '#8c8c8c', widthMm: 0.18, join: 'round' };
const NEXT_HATCH: LineStyle = { colour: '#8c8c8c', widthMm: 0.13 };
/** A join is a spot on the seam, the end of a first cut a ring, mm on the page. */
const SPOT_MM = 0.55;
const RING_MM = 0.8;
const DOT_RING_MM = 2.2;
/** Heights of capitals, mm on the page. */
const LETTER_CAPS_MM = [4, 3] as const;
const REACH_MM = 16;

export interface StripPicture {
  /** What is drawn, clipped to what is seen, and the names and numbers in and beside it. */
  readonly items: readonly Item[];
  readonly labels: readonly Item[];
  /** Numbers that found no free place. Names always do. */
  readonly missing: readonly number[];
}

/**
 * A view of a strip: the second cut, dotted, and grey once a proof was measured; the first, thin and pale; beyond the seam the next placement, hatched, with dashes for an outline; the seam, the
 * hold line and the dots. Joins are spots on the seam with their names, ends of first cuts rings. No name or number stands on a line that is cut. Page mm.
 */
export function stripPicture(strip: CutStrip, view: View, font: FontMetrics): StripPicture {
  const core = sharedBox(strip.core, view.window) ?? strip.core;
  const frame = viewBox(view, core);
  const space = new ClearSpace();
  const seen = (list: CutStrip['second']) =>
    list.flatMap(({ number, name, contours }) => {
      const box = contoursBox(contours);
      if (box === null || !boxesOverlap(box, core)) return [];
      return [{ number, name, box: viewBox(view, box), contours: viewContours(view, contours) }];
    });
  const [first, second] = [seen(strip.first), seen(strip.second)];
  const beyond = strip.beyond.map((b) => boxContour(viewBox(view, b)));
  const lead = viewContours(
    view,
    strip.lead.filter((c) => {
      const box = contoursBox([c]);
      return box !== null && boxesOverlap(box, core);
    }),
  );
  const seams = seamLines(strip, view);
  const hold = viewContours(view, [polyline(strip.hold, { closed: false })]);
  for (const { number, contours } of [...first, ...second]) space.addContours(contours, number);
  for (const contours of [hold, seams]) space.addContours(contours, SOFT);
  space.addContours(lead, SOFT);
  const joins = placesIn(strip.joins, core, view);
  const ends = placesIn(strip.ends, core, view);
  const dots = strip.dots.filter(({ at }) => boxHolds(core, at));
  for (const { at } of joins) space.addBox(boxOf([at], SPOT_MM), SOFT);
  for (const { at } of ends) space.addBox(boxOf([at], RING_MM), SOFT);
  for (const dot of dots) space.addBox(boxOf([viewPoint(view, dot.at)], DOT_RING_MM), SOFT);
  const waste = second.map(({ contours, box }) => outlinesOf(contours, box));
  const whole = viewFrame(view);
  const right = strip.seam === 'right';
  const outer: Gutter = right
    ? { side: 'right', box: { ...whole, x0: frame.x1 } }
    : { side: 'bottom', box: { ...whole, y0: frame.y1 } };
  const inner: Gutter = right
    ? { side: 'left', box: { ...whole, x1: frame.x0 } }
    : { side: 'top', box: { ...whole, y1: frame.y0 } };
  const names = [
    ...gutterNames(joins, outer, { font, aroundMm: SPOT_MM }),
    ...gutterNames(ends, inner, { font, aroundMm: RING_MM }),
  ];
  for (const item of names) if (item.kind === 'path') space.addContours(item.contours, SOFT);
  const dotLetters = placeTags(
    dots.map((dot): Tag => ({ text: dot.name, starts: [viewPoint(view, dot.at)], aroundMm: DOT_RING_MM })),
    { space, font, frame },
    { capsMm: LETTER_CAPS_MM, reachMm: REACH_MM, plate: true },
  );
  const wishes = second.map(({ number, name }, k): LabelRequest => {
    return { number, text: `(${name})`, waste: waste[k], at: null, onHatch: false };
  });
  const numbers = placeGuideNumbers(wishes, { space, frame, waste, font });
  const clipped: Item = {
    kind: 'clip',
    contours: [boxContour(frame)],
    items: [
      ...nextItems(lead, beyond),
      ...paths(
        first.flatMap(({ contours }) => contours),
        { line: BEFORE },
      ),
      ...second.map(({ contours }): Item => {
        return { kind: 'path', contours, line: lineStyle('second-cut'), ...(strip.proved && { fill: WASTE_TINT }) };
      }),
      ...paths(hold, { line: lineStyle('hold-line') }),
      ...paths(seams, { line: { ...lineStyle('seam'), widthMm: 0.3 } }),
      ...paths(
        joins.map(({ at }) => circleContour(at, SPOT_MM)),
        { fill: COLOURS.black },
      ),
      ...paths(
        ends.map(({ at }) => circleContour(at, RING_MM)),
        {
          fill: PAPER,
          line: { colour: COLOURS.black, widthMm: 0.25 },
        },
      ),
      ...dots.flatMap((dot) => dotItems(viewPoint(view, dot.at), (dot.diameterMm / 2) * view.scale)),
    ],
  };
  return { items: [clipped], labels: [...names, ...dotLetters.items, ...numbers.items], missing: numbers.missing };
}

/** Hatched inside, dashed around, and only beyond the seam. */
function nextItems(lead: readonly Contour[], beyond: readonly Contour[]): Item[] {
  if (lead.length === 0 || beyond.length === 0) return [];
  const box = contoursBox(beyond) as Box;
  const stripes = hatch(box);
  return [
    {
      kind: 'clip',
      contours: beyond,
      items: [
        { kind: 'clip', contours: lead, items: [{ kind: 'path', contours: stripes, line: NEXT_HATCH }] },
        { kind: 'path', contours: lead, line: lineStyle('lead-edge') },
      ],
    },
  ];
}

/** The edges of the design on the held sides, as far as the window shows them. */
function seamLines({ field, box, beyond }: CutStrip, view: View): Contour[] {
  const lines = [
    { from: { x: field.x1, y: box.y0 }, to: { x: field.x1, y: box.y1 }, on: beyond.some((b) => b.x0 >= field.x1) },
    { from: { x: box.x0, y: field.y1 }, to: { x: box.x1, y: field.y1 }, on: beyond.some((b) => b.y0 >= field.y1) },
  ];
  const shown = lines.filter(({ on }) => on).map(({ from, to }) => polyline([from, to], { closed: false }));
  return viewContours(view, shown);
}

function dotItems({ x, y }: Point, r: number): Item[] {
  const line = lineStyle('dot');
  const cross = [
    [
      { x: x - DOT_RING_MM, y },
      { x: x + DOT_RING_MM, y },
    ],
    [
      { x, y: y - DOT_RING_MM },
      { x, y: y + DOT_RING_MM },
    ],
  ].map((points) => polyline(points, { closed: false }));
  return [
    { kind: 'path', contours: [circleContour({ x, y }, DOT_RING_MM)], line },
    { kind: 'path', contours: cross, line: { ...line, widthMm: line.widthMm / 2 } },
    { kind: 'path', contours: [circleContour({ x, y }, r)], line: { colour: GREY, widthMm: 0.15 } },
  ];
}

function placesIn(places: readonly NamedPlace[], core: Box, view: View): NamedPlace[] {
  return places.filter(({ at }) => boxHolds(core, at)).map(({ name, at }) => ({ name, at: viewPoint(view, at) }));
}

function paths(contours: readonly Contour[], style: { line?: LineStyle; fill?: string }): Item[] {
  return contours.length === 0 ? [] : [{ kind: 'path', contours, ...style }];
}
