import { ClearSpace, NO_OWNER, SOFT } from '../../draw/clear-space.js';
import { emOfCap } from '../../draw/label-box.js';
import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import { placeTags } from '../../draw/name-tags.js';
import { COLOURS, lineStyle, type Meaning, PAPER, WASTE_TINT } from '../../draw/palette.js';
import type { Item, LineStyle } from '../../draw/types.js';
import { boxMiddle, growBox } from '../../geometry/boxes.js';
import { boxContour, circleContour } from '../../geometry/contour.js';
import { distance } from '../../geometry/points.js';
import type { Box, Point } from '../../geometry/types.js';
import type { Dot } from '../../register/dots.js';
import type { Sheet } from '../../stencil/types.js';
import { holdLine, paperOutline } from '../sheet/cartoon.js';
import { numberBox } from '../sheet/numbers.js';
import { weakRings, weakTags } from '../sheet/paper-marks.js';
import type { PaperNames } from '../sheet/paper-names.js';
import { scaleWords, type View, viewBox, viewContours, viewPoint } from '../sheet/view.js';
import { hatch } from '../sheet/zone-picture.js';
import { drawLegend, legendHeight, legendMeanings } from './legend.js';
import type { ZonePlace } from './zone-pages.js';

/** Lines are finer on so small a picture. */
const FINER = 0.6;
const ZONE_EDGE: LineStyle = { colour: COLOURS.black, widthMm: 0.3, dashMm: [3, 1.5] };
const LETTER_CAP_MM = 3.4;
const PAGE_CAP_MM = 2.4;
const RING_MM = 1.5;
/** Places for a zone's plate along each side. */
const PLATE_TRIES = 13;
/** Around a dot, for its ring and letter, mm. */
const DOT_ROOM_MM = 5.5;
/** Names of weak places: on white, as the picture is full of lines. */
const WEAK_TAGS = { capsMm: [3, 2.5], reachMm: 40, plate: true };
/** A sheet is not drawn lower than this for the sake of what follows on the page, mm. */
const LEAST_PICTURE_MM = 110;

/** Where an overview is, so that the zones' pages can be written into it once they are known. */
export interface Overview {
  readonly page: number;
  readonly view: View;
  /** Where the plates of zones go that can't stand in their middle. */
  readonly spots: ReadonlyMap<string, Point>;
  /** Rings that no plate may hide. */
  readonly rings: readonly Item[];
}

/** The page with the whole sheet and its zones, and what its lines mean. `belowMm` is kept free below, where the picture does not get too small for that. */
export function overviewPage(
  pages: GuidePages,
  sheet: Sheet,
  { names, belowMm = 0 }: { names: PaperNames; belowMm?: number },
): Overview {
  pages.newPage();
  pages.heading('The whole sheet and its zones');
  const legend = legendMeanings(sheet, names).filter((m) => m !== 'leader');
  const allMm = pages.room - legendHeight(pages, legend, pages.font) - 3 * LINE_MM - 4;
  const roomMm = allMm - belowMm >= LEAST_PICTURE_MM ? allMm - belowMm : allMm;
  const scale = Math.min(1, pages.width / sheet.widthMm, roomMm / sheet.heightMm);
  const view: View = {
    window: { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm },
    scale,
    at: { x: pages.left + (pages.width - scale * sheet.widthMm) / 2, y: pages.y },
  };
  const weak = weakMarks(pages, sheet, names, view);
  pages.add(...overviewItems(sheet, view), ...weak.items);
  pages.y =
    Math.max(view.at.y + scale * sheet.heightMm, ...sheet.dots.map((dot) => letterAt(sheet, dot, view).y + 1.3)) + 2;
  pages.paragraph({
    text: `Drawn at ${scaleWords(scale)}: not for measuring or cutting. Thin dashes part the zones; each has its letter and the page of this guide that shows it.${weak.words}`,
  });
  // The legend may go on to the next page of a small guide.
  const page = pages.current;
  drawLegend(pages, legend, pages.font);
  return { page, view, spots: weak.spots, rings: weak.rings };
}

/** Writes each zone's letter and page into the overview. */
export function nameZones(pages: GuidePages, sheet: Sheet, overview: Overview, places: readonly ZonePlace[]): void {
  const { view, spots, rings } = overview;
  const pageOf = new Map(places.map((p) => [p.letter, p.page]));
  for (const zone of sheet.zones) {
    const box = viewBox(view, zone.box);
    const page = pageOf.get(zone.letter);
    const words = { letter: zone.letter, page: page === undefined ? 'no list' : `page ${page}` };
    const middle = spots.get(zone.letter) ?? placesIn(box)[0];
    const { lines, plate } = plateAt(middle, words, pages);
    pages.addTo(
      overview.page,
      { kind: 'path', contours: [boxContour(plate)], fill: PAPER, line: { colour: COLOURS.black, widthMm: 0.15 } },
      ...lines.map(
        (l): Item => ({
          kind: 'text',
          text: l.text,
          x: middle.x,
          y: l.y + l.cap / 2,
          sizeMm: emOfCap(l.cap, pages.font),
          anchor: 'middle',
          bold: true,
          colour: COLOURS.black,
        }),
      ),
    );
  }
  pages.addTo(overview.page, ...rings);
}

/**
 * Rings around the weak places and their names, and where the plates of the zones find room beside them; `words` tells which names found none. Without weak
 * places there is nothing.
 */
function weakMarks(
  pages: GuidePages,
  sheet: Sheet,
  { weak }: PaperNames,
  view: View,
): { items: readonly Item[]; rings: readonly Item[]; spots: ReadonlyMap<string, Point>; words: string } {
  const spots = new Map<string, Point>();
  if (weak.length === 0) return { items: [], rings: [], spots, words: '' };
  const rings = weakRings(weak, view);
  const space = new ClearSpace();
  for (const { at } of sheet.dots) {
    const { x, y } = viewPoint(view, at);
    space.addBox(growBox({ x0: x, y0: y, x1: x, y1: y }, DOT_ROOM_MM), NO_OWNER);
  }
  space.addContours(rings, SOFT);
  for (const { letter, box } of sheet.zones) {
    // Room for the number of any page that a guide is likely to have.
    const plate = (at: Point) => plateAt(at, { letter, page: 'page 88' }, pages).plate;
    const own = placesIn(viewBox(view, box), plate({ x: 0, y: 0 }));
    const spot = own.find((at) => space.isClear(plate(at))) ?? own[0];
    space.addBox(plate(spot), NO_OWNER);
    spots.set(letter, spot);
  }
  const frame = { x0: pages.left, y0: view.at.y, x1: pages.right, y1: view.at.y + view.scale * sheet.heightMm };
  const tags = placeTags(weakTags(weak, view), { space, font: pages.font, frame }, WEAK_TAGS);
  return {
    items: tags.items,
    rings: [{ kind: 'path', contours: rings, line: lineStyle('weak') }],
    spots,
    words: tags.missing.length > 0 ? ` No room for ${tags.missing.join(', ')}: see their zones.` : '',
  };
}

/** Where a plate may stand in a zone, its middle first. */
function placesIn(zone: Box, plate: Box | null = null): Point[] {
  const middle = boxMiddle(zone);
  if (plate === null) return [middle];
  // How far the plate can be moved and stay in its zone.
  const [u, v] = [plate.x1 - plate.x0, plate.y1 - plate.y0];
  const [wide, high] = [Math.max(0, (zone.x1 - zone.x0 - u) / 2), Math.max(0, (zone.y1 - zone.y0 - v) / 2)];
  const shares = Array.from({ length: PLATE_TRIES }, (_, k) => (2 * k) / (PLATE_TRIES - 1) - 1);
  const places = shares.flatMap((b) => shares.map((a) => ({ x: middle.x + a * wide, y: middle.y + b * high })));
  const far = (p: Point) => distance(p, middle);
  return [middle, ...places.sort((p, q) => far(p) - far(q))];
}

/** A zone's letter and page on a white plate around a place. */
function plateAt(
  at: Point,
  { letter, page }: { letter: string; page: string },
  { font }: GuidePages,
): { lines: { text: string; cap: number; y: number }[]; plate: Box } {
  const lines = [
    { text: letter, cap: LETTER_CAP_MM, y: at.y - 1.5 },
    { text: page, cap: PAGE_CAP_MM, y: at.y + 2.3 },
  ];
  const boxes = lines.map((l) => numberBox({ x: at.x, y: l.y }, l.text, l.cap, font));
  const plate = {
    x0: Math.min(...boxes.map((b) => b.x0)) - 0.7,
    y0: boxes[0].y0 - 0.7,
    x1: Math.max(...boxes.map((b) => b.x1)) + 0.7,
    y1: boxes[1].y1 + 0.7,
  };
  return { lines, plate };
}

function fine(meaning: Meaning): LineStyle {
  const style = lineStyle(meaning);
  const dash = style.dashMm?.map((d) => d * FINER);
  return { ...style, widthMm: style.widthMm * FINER, ...(dash ? { dashMm: dash } : {}) };
}

function overviewItems(sheet: Sheet, view: View): Item[] {
  const path = (contours: Parameters<typeof viewContours>[1], line: LineStyle, fill?: string): Item[] =>
    contours.length > 0
      ? [{ kind: 'path', contours: viewContours(view, contours), line, ...(fill ? { fill } : {}) }]
      : [];
  const first = fine('first-cut');
  return [
    ...path([paperOutline(sheet)], fine('border')),
    ...path([boxContour(sheet.field)], fine('seam')),
    ...sheet.openings.flatMap((o) => {
      if (!o.done) return path(o.firstCut, first, WASTE_TINT);
      const drawn = viewContours(view, o.firstCut);
      const lines = hatch(viewBox(view, o.box));
      return [
        { kind: 'clip', contours: drawn, items: [{ kind: 'path', contours: lines, line: first }] } satisfies Item,
        ...path(o.firstCut, first),
      ];
    }),
    ...sheet.openings.flatMap((o) => path(o.secondCut, fine('second-cut'))),
    ...path(holdLine(sheet), fine('hold-line')),
    ...path(
      sheet.zones.map((z) => boxContour(z.box)),
      ZONE_EDGE,
    ),
    ...dots(sheet, view),
  ];
}

/** Where a dot's letter stands: outwards of it. */
function letterAt({ field }: Sheet, dot: Dot, view: View): Point {
  const at = viewPoint(view, dot.at);
  const out = Math.atan2(dot.at.y - (field.y0 + field.y1) / 2, dot.at.x - (field.x0 + field.x1) / 2);
  return { x: at.x + 4 * Math.cos(out), y: at.y + 4 * Math.sin(out) };
}

function dots(sheet: Sheet, view: View): Item[] {
  return sheet.dots.flatMap((dot): Item[] => {
    const at = viewPoint(view, dot.at);
    const letter = letterAt(sheet, dot, view);
    const ring = circleContour(at, RING_MM);
    return [
      { kind: 'path', contours: [ring], line: fine('dot'), fill: PAPER },
      {
        kind: 'text',
        text: dot.name,
        x: letter.x,
        y: letter.y + 1.3,
        sizeMm: 3.5,
        anchor: 'middle',
        bold: true,
        colour: COLOURS.black,
      },
    ];
  });
}
