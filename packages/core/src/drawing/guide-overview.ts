import { boxContour, circleContour } from '../geometry/contour.js';
import type { Sheet } from '../stencil/types.js';
import { holdLine, paperOutline } from './cartoon.js';
import { type GuidePages, LINE_MM } from './guide-layout.js';
import { drawLegend, legendHeight, legendMeanings } from './guide-legend.js';
import { numberBox } from './guide-numbers.js';
import { scaleWords, type View, viewBox, viewContours, viewPoint } from './guide-view.js';
import type { ZonePlace } from './guide-zone-pages.js';
import { hatch } from './guide-zone-picture.js';
import { emOfCap } from './label-box.js';
import { COLOURS, lineStyle, type Meaning, PAPER, WASTE_TINT } from './palette.js';
import type { Item, LineStyle } from './types.js';

/** Lines are finer on so small a picture. */
const FINER = 0.6;
const ZONE_EDGE: LineStyle = { colour: COLOURS.black, widthMm: 0.3, dashMm: [3, 1.5] };
const LETTER_CAP_MM = 3.4;
const PAGE_CAP_MM = 2.4;
const RING_MM = 1.5;
/** A sheet is not drawn lower than this for the sake of what follows on the page, mm. */
const LEAST_PICTURE_MM = 110;

/** Where an overview is, so that the zones' pages can be written into it once they are known. */
export interface Overview {
  readonly page: number;
  readonly view: View;
}

/** The page with the whole sheet and its zones, and what its lines mean. `belowMm` is kept free below, where the picture does not get too small for that. */
export function overviewPage(pages: GuidePages, sheet: Sheet, { belowMm = 0 } = {}): Overview {
  pages.newPage();
  pages.heading('The whole sheet and its zones');
  const legend = legendMeanings(sheet).filter((m) => m !== 'leader');
  const allMm = pages.room - legendHeight(pages, legend, pages.font) - 3 * LINE_MM - 4;
  const roomMm = allMm - belowMm >= LEAST_PICTURE_MM ? allMm - belowMm : allMm;
  const scale = Math.min(1, pages.width / sheet.widthMm, roomMm / sheet.heightMm);
  const view: View = {
    window: { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm },
    scale,
    at: { x: pages.left + (pages.width - scale * sheet.widthMm) / 2, y: pages.y },
  };
  pages.add(...overviewItems(sheet, view));
  pages.y += scale * sheet.heightMm + 2;
  pages.paragraph({
    text: `Drawn at ${scaleWords(scale)}: not for measuring or cutting. Thin dashes part the zones; each has its letter and the page of this guide that shows it.`,
  });
  drawLegend(pages, legend, pages.font);
  return { page: pages.current, view };
}

/** Writes each zone's letter and page into the overview. */
export function nameZones(pages: GuidePages, sheet: Sheet, overview: Overview, places: readonly ZonePlace[]): void {
  const pageOf = new Map(places.map((p) => [p.letter, p.page]));
  for (const zone of sheet.zones) {
    const box = viewBox(overview.view, zone.box);
    const middle = { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 };
    const page = pageOf.get(zone.letter);
    const lines = [
      { text: zone.letter, cap: LETTER_CAP_MM, y: middle.y - 1.5 },
      { text: page === undefined ? 'no list' : `page ${page}`, cap: PAGE_CAP_MM, y: middle.y + 2.3 },
    ];
    const boxes = lines.map((l) => numberBox({ x: middle.x, y: l.y }, l.text, l.cap, pages.font));
    const plate = {
      x0: Math.min(...boxes.map((b) => b.x0)) - 0.7,
      y0: boxes[0].y0 - 0.7,
      x1: Math.max(...boxes.map((b) => b.x1)) + 0.7,
      y1: boxes[1].y1 + 0.7,
    };
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

function dots(sheet: Sheet, view: View): Item[] {
  const middle = { x: (sheet.field.x0 + sheet.field.x1) / 2, y: (sheet.field.y0 + sheet.field.y1) / 2 };
  return sheet.dots.flatMap((dot): Item[] => {
    const at = viewPoint(view, dot.at);
    const out = Math.atan2(dot.at.y - middle.y, dot.at.x - middle.x);
    const letter = { x: at.x + 4 * Math.cos(out), y: at.y + 4 * Math.sin(out) };
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
