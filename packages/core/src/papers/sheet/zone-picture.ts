import { ClearSpace, NO_OWNER, SOFT } from '../../draw/clear-space.js';
import { emOfCap } from '../../draw/label-box.js';
import { placeTags } from '../../draw/name-tags.js';
import { COLOURS, lineStyle, RULE_GREY, WASTE_TINT } from '../../draw/palette.js';
import type { FontMetrics, Item, LineStyle, TextItem } from '../../draw/types.js';
import { uprightNumber } from '../../draw/upright-numbers.js';
import { boxesOverlap, boxHolds, boxWithin, growBox } from '../../geometry/boxes.js';
import { boxContour, circleContour, contoursBox, polyline } from '../../geometry/contour.js';
import { distance, middle } from '../../geometry/points.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import type { Sheet, SheetOpening, Zone } from '../../stencil/types.js';
import { holdLine, paperOutline } from './cartoon.js';
import { type LabelRequest, numberBox, placeGuideNumbers } from './numbers.js';
import { insideSides, type Outlines, outlinesOf } from './outlines.js';
import { paperMarks } from './paper-marks.js';
import type { PaperNames } from './paper-names.js';
import { FRAME_SLACK_MM, type View, viewBox, viewContours, viewFrame, viewPoint } from './view.js';
import { neighbourLetters } from './zone-letters.js';

/** How a change is written beside a number, and in a list. */
export interface ChangeMark {
  /** On a picture: `again`, `patch`, `new`. */
  readonly short: string;
  readonly remark: string;
}

/** What changed since the older revision, by number. */
export type ChangeMarks = ReadonlyMap<number, ChangeMark>;

/** What of a zone one picture is about: the numbers whose cuts are drawn strong and carry their number. */
export interface ZoneShare {
  readonly zone: Zone;
  readonly firstCut: ReadonlySet<number>;
  readonly secondCut: ReadonlySet<number>;
}

export interface ZonePicture {
  readonly items: readonly Item[];
  /** Numbers that found no legible place. */
  readonly missing: readonly number[];
  /** Names of ties and weak places that found none. */
  readonly missingNames: readonly string[];
  /** Numbers whose cuts go on past the picture. */
  readonly cutOff: readonly number[];
}

export interface ZonePictureOptions {
  readonly font: FontMetrics;
  readonly changes: ChangeMarks;
  /** What the paper has to show. */
  readonly names: PaperNames;
  /** Gives up at the first number that finds no place: its picture is of no use then. */
  readonly allOrNothing?: boolean;
}

/** Openings of other zones, and cuts that are another list's. */
const FAINT: LineStyle = { colour: '#8c8c8c', widthMm: 0.18, join: 'round' };
const FAINT_DOTS: LineStyle = { ...FAINT, dashMm: [0.6, 0.8] };
const ZONE_EDGE: LineStyle = { colour: RULE_GREY, widthMm: 0.25, dashMm: [2.5, 1.5] };
const HATCH: LineStyle = { colour: '#737373', widthMm: 0.18 };
/** Between the lines that hatch what is done, mm on the page. */
const HATCH_APART_MM = 1.8;
const WORD_CAP_MM = 2.5;
/** Names of ties and weak places. */
const TAGS = { capsMm: [3.5, 3], reachMm: 30 };
const TICK_MM = 1.6;
const RING_MM = 2.2;

/** One picture of a zone: its own cuts with their numbers, everything else faint. Page mm. */
export function zonePicture(
  sheet: Sheet,
  share: ZoneShare,
  view: View,
  { font, changes, names, allOrNothing = false }: ZonePictureOptions,
): ZonePicture {
  const frame = viewFrame(view);
  const seen = sheet.openings.filter((o) => boxesOverlap(o.box, view.window));
  const space = new ClearSpace();
  const waste: Outlines[] = [];
  const faint: Item[] = [];
  const second: Item[] = [];
  const first: Item[] = [];
  const wishes: LabelRequest[] = [];
  const cutOff: number[] = [];
  for (const opening of seen) {
    const both = [
      { contours: opening.firstCut, own: share.firstCut.has(opening.number), isFirst: true },
      { contours: opening.secondCut, own: share.secondCut.has(opening.number), isFirst: false },
    ];
    for (const { contours, own, isFirst } of both) {
      const box = contoursBox(contours);
      if (box === null || !boxesOverlap(box, view.window)) continue;
      const drawn = viewContours(view, contours);
      space.addContours(drawn, opening.number);
      const outlines = outlinesOf(drawn, viewBox(view, box));
      waste.push(outlines);
      if (!own) {
        faint.push({ kind: 'path', contours: drawn, line: isFirst ? FAINT : FAINT_DOTS });
        continue;
      }
      if (!boxWithin(box, view.window, FRAME_SLACK_MM)) cutOff.push(opening.number);
      if (isFirst) first.push(...firstCutItems(drawn, { done: isDone(opening, changes) }));
      else second.push({ kind: 'path', contours: drawn, line: lineStyle('second-cut') });
      wishes.push(wishOf(opening, outlines, { isFirst, view, changes, sheet }));
    }
  }
  const lines = sheetLines(sheet, view, space);
  const marks = paperMarks(names, view);
  marks.addTo(space);
  const stops = sheet.stops.filter((s) => share.firstCut.has(s.number) && boxHolds(view.window, middle(s.from, s.to)));
  const bars = stops.map((s) => stopBar(viewPoint(view, s.from), viewPoint(view, s.to)));
  space.addContours(bars, NO_OWNER);
  const dots = dotMarks(sheet, view, space, font);
  const ground = { space, frame, waste, font };
  const numbers = placeGuideNumbers(wishes, ground, { allOrNothing });
  const useless = allOrNothing && numbers.missing.length > 0;
  const inWaste = (p: Point) => waste.some((w) => boxHolds(w.box, p) && insideSides(w.sides(), p));
  const tags = placeTags(useless ? [] : marks.tags, { space, font, frame, inWaste }, TAGS);
  const stopWords = stops.flatMap((s) => {
    const at = middle(viewPoint(view, s.from), viewPoint(view, s.to));
    return nearbyWord('stop', at, ground, COLOURS.black);
  });
  const neighbours = neighbourLetters(sheet, share.zone, view, ground);
  const clipped: Item = {
    kind: 'clip',
    contours: [boxContour(frame)],
    items: [
      ...lines.below,
      ...marks.ties,
      ...faint,
      ...second,
      ...first,
      ...lines.above,
      ...marks.rings,
      ...(bars.length > 0 ? [{ kind: 'path', contours: bars, line: lineStyle('stop') } satisfies Item] : []),
      ...dots,
    ],
  };
  const edge: Item = { kind: 'path', contours: [boxContour(frame)], line: { colour: RULE_GREY, widthMm: 0.2 } };
  return {
    items: [clipped, edge, ...neighbours, ...stopWords, ...numbers.items, ...tags.items],
    missing: numbers.missing,
    missingNames: tags.missing,
    cutOff: [...new Set(cutOff)],
  };
}

/** True for what was cut before and has not changed since. */
export function isDone({ done, number }: SheetOpening, changes: ChangeMarks): boolean {
  return done && !changes.has(number);
}

function wishOf(
  opening: SheetOpening,
  waste: Outlines,
  { isFirst, view, changes, sheet }: { isFirst: boolean; view: View; changes: ChangeMarks; sheet: Sheet },
): LabelRequest {
  const { number } = opening;
  const change = changes.get(number);
  const name = uprightNumber(number, sheet.openings);
  const text = isFirst ? `${name}${change ? ` ${change.short}` : ''}` : `(${name})`;
  // The roomiest place is that of the first cut, or of the second where there is no first.
  const known = isFirst || opening.firstCut.length === 0;
  const at = known ? viewPoint(view, opening.labelAt) : null;
  const onHatch = isFirst && isDone(opening, changes);
  return { number, text, waste, at, onHatch, ...(isFirst ? {} : { longText: `${text} not yet` }) };
}

function firstCutItems(drawn: readonly Contour[], { done }: { done: boolean }): Item[] {
  const line = lineStyle('first-cut');
  if (!done) return [{ kind: 'path', contours: drawn, line, fill: WASTE_TINT }];
  const box = contoursBox(drawn) as Box;
  return [
    {
      kind: 'clip',
      contours: drawn,
      items: [{ kind: 'path', contours: hatch(box), line: HATCH }],
    },
    { kind: 'path', contours: drawn, line },
  ];
}

/** Slanting lines over a box. */
export function hatch({ x0, y0, x1, y1 }: Box): Contour[] {
  const lines: Contour[] = [];
  const step = HATCH_APART_MM * Math.SQRT2;
  for (let c = Math.ceil((x0 + y0) / step) * step; c < x1 + y1; c += step) {
    const from = { x: Math.min(x1, c - y0), y: c - Math.min(x1, c - y0) };
    const to = { x: Math.max(x0, c - y1), y: c - Math.max(x0, c - y1) };
    if (distance(from, to) > 0.1) lines.push(polyline([from, to], { closed: false }));
  }
  return lines;
}

/** The paper's and design's edge, the zones' edges and the hold line. */
function sheetLines(sheet: Sheet, view: View, space: ClearSpace): { below: Item[]; above: Item[] } {
  const hold = viewContours(view, holdLine(sheet));
  const field = viewContours(view, [boxContour(sheet.field)]);
  const paper = viewContours(view, [paperOutline(sheet)]);
  const zones = viewContours(
    view,
    sheet.zones.filter((z) => boxesOverlap(z.box, view.window)).map((z) => boxContour(z.box)),
  );
  space.addContours(hold, NO_OWNER);
  space.addContours(paper, NO_OWNER);
  space.addContours([...field, ...zones], SOFT);
  return {
    below: [
      { kind: 'path', contours: zones, line: ZONE_EDGE },
      { kind: 'path', contours: field, line: lineStyle('seam') },
      { kind: 'path', contours: paper, line: lineStyle('border') },
    ],
    above: hold.length > 0 ? [{ kind: 'path', contours: hold, line: lineStyle('hold-line') }] : [],
  };
}

/** A bar with a short tick at either end, away from the cut: to the right or downward, at right angles to the bar. */
export function stopBar(from: Point, to: Point): Contour {
  const length = Math.max(1e-9, distance(to, from));
  const across = { x: (to.y - from.y) / length, y: (from.x - to.x) / length };
  const by = across.x + across.y >= 0 ? TICK_MM : -TICK_MM;
  const away = (p: Point) => ({ x: p.x + by * across.x, y: p.y + by * across.y });
  return polyline([away(from), from, to, away(to)], { closed: false });
}

function dotMarks(sheet: Sheet, view: View, space: ClearSpace, font: FontMetrics): Item[] {
  const line = lineStyle('dot');
  return sheet.dots
    .filter((d) => boxHolds(view.window, d.at))
    .flatMap((dot): Item[] => {
      const at = viewPoint(view, dot.at);
      const r = (dot.diameterMm / 2) * view.scale;
      const ring = Math.max(RING_MM, r + 0.8);
      space.addBox({ x0: at.x - ring, y0: at.y - ring, x1: at.x + ring, y1: at.y + ring }, SOFT);
      const letter = nearbyWord(dot.name, at, { space, frame: viewFrame(view), font }, COLOURS.black, ring + 0.6);
      return [
        { kind: 'path', contours: [circleContour(at, ring)], line },
        { kind: 'path', contours: [circleContour(at, r)], ...(dot.lead ? { fill: COLOURS.black } : { line }) },
        ...letter,
      ];
    });
}

/** A word on free ground near a place, without a leader; nothing where there is none. */
function nearbyWord(
  text: string,
  near: Point,
  { space, frame, font }: { space: ClearSpace; frame: Box; font: FontMetrics },
  colour: string,
  fromMm = 1.5,
): TextItem[] {
  const unit = numberBox({ x: 0, y: 0 }, text, WORD_CAP_MM, font);
  for (const far of [0, 0.8, 1.8, 3]) {
    for (let k = 0; k < 16; k++) {
      const angle = -Math.PI / 4 + (2 * Math.PI * k) / 16;
      const at = {
        x: near.x + Math.cos(angle) * (fromMm + far + unit.x1),
        y: near.y + Math.sin(angle) * (fromMm + far + unit.y1),
      };
      const box = growBox(numberBox(at, text, WORD_CAP_MM, font), 0.4);
      if (box.x0 < frame.x0 || box.y0 < frame.y0 || box.x1 > frame.x1 || box.y1 > frame.y1) continue;
      if (!space.isClear(box)) continue;
      space.addBox(box, NO_OWNER);
      return [wordAt(text, at, WORD_CAP_MM, { font, colour })];
    }
  }
  return [];
}

function wordAt(
  text: string,
  at: Point,
  capMm: number,
  { font, colour }: { font: FontMetrics; colour: string },
): TextItem {
  return {
    kind: 'text',
    text,
    x: at.x,
    y: at.y + capMm / 2,
    sizeMm: emOfCap(capMm, font),
    anchor: 'middle',
    bold: true,
    colour,
  };
}
