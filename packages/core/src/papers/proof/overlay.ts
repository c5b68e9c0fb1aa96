import { ClearSpace, SOFT, turnedCorners } from '../../draw/clear-space.js';
import { textTurnedBox } from '../../draw/label-box.js';
import { BODY_MM, GuidePages, LINE_MM, type PaperSize } from '../../draw/layout.js';
import { placeTags, type Tag } from '../../draw/name-tags.js';
import { COLOURS, GREY, lineStyle, RULE_GREY } from '../../draw/palette.js';
import { roundDrawing } from '../../draw/round.js';
import { scaleBar } from '../../draw/scale-bar.js';
import { wrapText } from '../../draw/text.js';
import type { Drawing, FontMetrics, Item, TextItem } from '../../draw/types.js';
import { writableText } from '../../draw/writable-text.js';
import { squareSentences } from '../../findings/squaring.js';
import { boxesOverlap, boxMiddle, sharedBox } from '../../geometry/boxes.js';
import { boxContour, circleContour, contoursBox, polyline } from '../../geometry/contour.js';
import type { Box, Contour } from '../../geometry/types.js';
import type { LeadEdge, PrintDifference, ProofReport, SheetEnds } from '../../proof/types.js';
import type { Sheet } from '../../stencil/types.js';
import { paperOutline } from '../sheet/cartoon.js';
import { gutterNames } from '../sheet/gutter-names.js';
import { sheetName } from '../sheet/paper-words.js';
import { scaleWords, type View, viewBox, viewContours, viewFrame, viewPoint } from '../sheet/view.js';
import { hatch } from '../sheet/zone-picture.js';
import { EXTRA_FILL, MISSING_HATCH, PLAN_LINE, PRINT_TINT, printLegend } from './legend.js';
import { differenceTable, leadEdgeTable, reportFacts } from './tables.js';

/** Differences that are marked on the whole sheet, and edges that are shown enlarged. */
const MARKED_MAX = 30;
const VIEWS_MAX = 12;
const VIEWS_A_PAGE = 6;
const SCALES = [3, 4, 5, 6, 8] as const;
/** An edge less far from the plan than this needs no picture, mm: what a knife can do. */
const VIEW_FROM_MM = 0.2;
/** Around a place, mm of the sheet. */
const SEEN_MM = { width: 24, height: 18 } as const;
const GUTTER_MM = 7;
/** Kept free left of the sheet for offsets that are longer than its border is broad, mm. */
const BESIDE_MM = 12;
/** The same above it, where they stand upright, mm. */
const ABOVE_MM = 10;
const MARKS = { capsMm: [2.6, 2.3], reachMm: 26, plate: true } as const;

export interface ProofDrawingOptions {
  readonly title: string;
  readonly revision: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly font: FontMetrics;
  /** Upright: A4 or Letter as a rule. */
  readonly paper: PaperSize;
  readonly ends: SheetEnds;
}

/**
 * What a printed proof tells, on pages to be read: the print laid over the plan, whole, with what is missing (hatched) and what is there beside the plan (solid), and how far lead edges
 * lie off at the joins; the same as tables; and the edges that lie farthest off, enlarged. Differences, not faults.
 */
export function proofDrawing(report: ProofReport, sheet: Sheet, options: ProofDrawingOptions): Drawing {
  const { font, paper, date, ends } = options;
  const title = writableText(options.title, font).text;
  const revision = writableText(options.revision, font).text;
  const pages = new GuidePages(paper, font);
  pages.title(title);
  pages.paragraph({
    text: `The proof and the plan · ${sheetName(sheet)} · revision ${revision} · ${date}`,
    bold: true,
  });
  pages.space(1);
  reportFacts(pages, report, ends);
  for (const text of report.square === null ? [] : squareSentences(report.square)) pages.paragraph({ text });
  wholeSheet(pages, report, sheet);
  leadEdgeTable(pages, report, ends);
  differenceTable(pages, report);
  edgeViews(pages, report, sheet);
  const name = sheet.count > 1 ? `${options.title} – ${sheetName(sheet)}` : options.title;
  const finished = pages.finish(title, ['proof', `revision ${revision}`, date]);
  return roundDrawing({ title: `${name} – proof`, date, groups: {}, pages: finished });
}

/** The print laid over the plan on a page of the sheet's own size: what is missing hatched, what is there beside the plan solid, the second cut dotted. */
export function printOverPlanDrawing(
  report: Pick<ProofReport, 'printed' | 'differences'>,
  sheet: Sheet,
  { title, date }: Pick<ProofDrawingOptions, 'title' | 'date'>,
): Drawing {
  const { widthMm, heightMm, dots } = sheet;
  const view: View = { window: { x0: 0, y0: 0, x1: widthMm, y1: heightMm }, scale: 1, at: { x: 0, y: 0 } };
  const holes = dots.map(({ at, diameterMm }) => circleContour(at, diameterMm / 2));
  const items: Item[] = [
    ...overlay(report, sheet, view),
    ...(holes.length === 0 ? [] : [{ kind: 'path', contours: holes, line: PLAN_LINE } satisfies Item]),
    { kind: 'path', contours: [paperOutline(sheet)], line: lineStyle('border') },
  ];
  return roundDrawing({ title, date, groups: {}, pages: [{ name: '', widthMm, heightMm, items }] });
}

/** The print over the plan on one page, as large as what is left of it. */
function wholeSheet(pages: GuidePages, report: ProofReport, sheet: Sheet): void {
  const { font } = pages;
  pages.heading('The print laid over the plan', 120);
  printLegend(pages);
  const room = { widthMm: pages.width - BESIDE_MM, heightMm: pages.room - ABOVE_MM - 2 * LINE_MM };
  const scale = Math.min(1, room.widthMm / sheet.widthMm, room.heightMm / sheet.heightMm);
  const view: View = {
    window: { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm },
    scale,
    at: { x: pages.left + BESIDE_MM + (room.widthMm - scale * sheet.widthMm) / 2, y: pages.y + ABOVE_MM },
  };
  const seen = overlay(report, sheet, view);
  const marked = report.differences.slice(0, MARKED_MAX);
  const space = new ClearSpace();
  const rings = marked.map(({ box }) => ringAround(viewBox(view, box)));
  for (const ring of rings) space.addContours([ring], SOFT);
  space.addContours(viewContours(view, [paperOutline(sheet)]), SOFT);
  const worst = worstEdges(report).slice(0, MARKED_MAX);
  const names = offsetNames(worst, view, sheet, font);
  for (const item of names) {
    if (item.kind === 'path') space.addContours(item.contours, SOFT);
    if (item.kind === 'text') space.addContours([wordOutline(item, font)], SOFT);
  }
  const tags = marked.map((d): Tag => ({ text: markOf(d), starts: [boxMiddle(viewBox(view, d.box))], aroundMm: 1.6 }));
  const placed = placeTags(tags, { space, font, frame: viewFrame(view) }, MARKS);
  pages.add(
    ...seen,
    {
      kind: 'path',
      contours: viewContours(view, [paperOutline(sheet)]),
      line: { ...lineStyle('border'), widthMm: 0.3 },
    },
    ...(rings.length === 0
      ? []
      : [{ kind: 'path', contours: rings, line: { colour: COLOURS.black, widthMm: 0.35 } } satisfies Item]),
    ...worst.map((e): Item => {
      return { kind: 'path', contours: [circleContour(viewPoint(view, e.worstAt), 0.6)], fill: COLOURS.black };
    }),
    ...placed.items,
    ...names,
  );
  pages.y += ABOVE_MM + scale * sheet.heightMm + 1;
  pages.add(...scaleBar({ right: pages.right, y: pages.y + 2, roomMm: 50 }, scale, font));
  const left = report.differences.length - marked.length;
  const more = left > 0 ? ` ${left} smaller differences are in the table only.` : '';
  pages.paragraph({ text: `Drawn at ${scaleWords(scale)}.${more}` }, { lessMm: 66 });
}

/** How far edges lie off, beside and above the design, with leaders from where they do. */
function offsetNames(edges: readonly LeadEdge[], view: View, sheet: Sheet, font: FontMetrics): Item[] {
  const field = viewBox(view, sheet.field);
  const whole = viewFrame(view);
  const placeOf = (e: LeadEdge) => ({ name: `${e.number}: ${signed(e.worstMm)}`, at: viewPoint(view, e.worstAt) });
  const left = edges.filter(({ sides }) => sides.includes('left')).map(placeOf);
  const top = edges.filter(({ sides }) => !sides.includes('left')).map(placeOf);
  return [
    ...gutterNames(left, { side: 'left', box: { ...whole, x1: field.x0 - 1 } }, { font, aroundMm: 0.6 }),
    ...gutterNames(top, { side: 'top', box: { ...whole, y1: field.y0 - 1 } }, { font, aroundMm: 0.6 }),
  ];
}

/** A word's ink, as an outline that other words keep clear of. */
function wordOutline(item: TextItem, font: FontMetrics): Contour {
  return polyline(turnedCorners(textTurnedBox(item, font)), { closed: true });
}

/** Print, what is missing of the plan, what is beside it, and the plan's outline on top. Page mm. */
function overlay(report: Pick<ProofReport, 'printed' | 'differences'>, sheet: Sheet, view: View): Item[] {
  const inView = (contours: readonly Contour[]): Contour[] =>
    viewContours(
      view,
      contours.filter((c) => {
        const box = contoursBox([c]);
        return box !== null && boxesOverlap(box, view.window);
      }),
    );
  const plan = inView(sheet.openings.flatMap(({ firstCut }) => firstCut));
  const later = inView(sheet.openings.flatMap(({ secondCut }) => secondCut));
  const printed = inView(report.printed);
  const parts = (kind: PrintDifference['kind']): Box[] =>
    report.differences.flatMap((d) => {
      const box = d.kind === kind ? sharedBox(d.box, view.window) : null;
      return box === null ? [] : [viewBox(view, box)];
    });
  const inside = (contours: readonly Contour[], items: readonly Item[]): Item[] =>
    contours.length === 0 ? [] : [{ kind: 'clip', contours, items }];
  const missing = parts('missing').flatMap((box) =>
    inside([boxContour(box)], inside(plan, [{ kind: 'path', contours: denseHatch(box), line: MISSING_HATCH }])),
  );
  const extra = parts('extra').flatMap((box) =>
    inside(
      [boxContour(box)],
      inside(printed, [
        { kind: 'path', contours: [boxContour(box)], fill: EXTRA_FILL },
        ...(plan.length === 0 ? [] : [{ kind: 'path', contours: plan, fill: PRINT_TINT } satisfies Item]),
      ]),
    ),
  );
  return [
    {
      kind: 'clip',
      contours: [boxContour(viewFrame(view))],
      items: [
        ...missing,
        ...(printed.length > 0 ? [{ kind: 'path', contours: printed, fill: PRINT_TINT } satisfies Item] : []),
        ...extra,
        ...(later.length > 0
          ? [
              {
                kind: 'path',
                contours: later,
                line: { ...lineStyle('second-cut', { scale: 1 }), widthMm: 0.25, colour: GREY },
              } satisfies Item,
            ]
          : []),
        ...(plan.length > 0 ? [{ kind: 'path', contours: plan, line: PLAN_LINE } satisfies Item] : []),
        {
          kind: 'path',
          contours: viewContours(view, [boxContour(sheet.field)]),
          line: { ...lineStyle('seam'), widthMm: 0.2 },
        },
      ],
    },
  ];
}

/** Hatching with lines at half the usual distance: small differences must show some. */
function denseHatch(box: Box): Contour[] {
  const { x0, y0, x1, y1 } = box;
  const twice = hatch({ x0: 2 * x0, y0: 2 * y0, x1: 2 * x1, y1: 2 * y1 });
  return twice.map(({ closed, coords }) => ({ closed, coords: coords.map((v) => v / 2) }));
}

/** Edges farther from the plan than a knife is good for, the farthest first. */
function worstEdges({ leadEdges }: ProofReport): LeadEdge[] {
  return leadEdges
    .filter(({ worstMm }) => Math.abs(worstMm) >= VIEW_FROM_MM)
    .toSorted((a, b) => Math.abs(b.worstMm) - Math.abs(a.worstMm));
}

/** The edges that lie farthest from the plan, enlarged, six a page. */
function edgeViews(pages: GuidePages, report: ProofReport, sheet: Sheet): void {
  const worst = worstEdges(report).slice(0, VIEWS_MAX);
  const columns = pages.width >= 150 ? 2 : 1;
  const rows = VIEWS_A_PAGE / 2;
  const width = (pages.width - (columns - 1) * GUTTER_MM) / columns;
  for (let k = 0; k < worst.length; k += columns * rows) {
    pages.newPage();
    pages.heading(k === 0 ? 'Lead edges farthest from the plan' : 'Lead edges farthest from the plan, continued');
    if (k === 0) printLegend(pages);
    const top = pages.y;
    const height = (pages.bottom - top) / rows;
    worst.slice(k, k + columns * rows).forEach((edge, n) => {
      const x = pages.left + (n % columns) * (width + GUTTER_MM);
      const y = top + Math.floor(n / columns) * height;
      edgeView(pages, edge, { report, sheet, cell: { x0: x, y0: y, x1: x + width, y1: y + height - 4 } });
    });
    pages.y = pages.bottom;
  }
}

function edgeView(
  pages: GuidePages,
  edge: LeadEdge,
  { report, sheet, cell }: { report: ProofReport; sheet: Sheet; cell: Box },
): void {
  const { font } = pages;
  const width = cell.x1 - cell.x0;
  let y = cell.y0;
  for (const text of wrapText(edgeWords(edge), width, { sizeMm: BODY_MM, bold: true }, font)) {
    y += LINE_MM;
    pages.add(pages.line(text, cell.x0, y - 0.28 * LINE_MM, { sizeMm: BODY_MM, bold: true }));
  }
  const top = y + 1;
  const bottom = cell.y1 - LINE_MM - 1;
  const fits = (s: number) => SEEN_MM.width * s <= width && SEEN_MM.height * s <= bottom - top;
  const scale = SCALES.findLast(fits) ?? SCALES[0];
  const [w, h] = [width / scale / 2, (bottom - top) / scale / 2];
  const { x, y: v } = edge.worstAt;
  const view: View = { window: { x0: x - w, y0: v - h, x1: x + w, y1: v + h }, scale, at: { x: cell.x0, y: top } };
  pages.add(
    ...overlay(report, sheet, view),
    { kind: 'path', contours: [boxContour(viewFrame(view))], line: { colour: RULE_GREY, widthMm: 0.2 } },
    {
      kind: 'path',
      contours: [circleContour(viewPoint(view, edge.worstAt), 2)],
      line: { colour: COLOURS.black, widthMm: 0.3 },
    },
    pages.line(scaleWords(scale), cell.x0, bottom + LINE_MM, { sizeMm: BODY_MM }),
    ...scaleBar({ right: cell.x1, y: bottom + 0.75 * LINE_MM, roomMm: 35 }, scale, font),
  );
}

/** `14, left side: 0.42 mm outside the plan at the ring, 0.10 mm on the whole.` */
function edgeWords({ number, sides, worstMm, meanMm }: LeadEdge): string {
  const way = (mm: number) => `${Math.abs(mm).toFixed(2)} mm ${mm > 0 ? 'larger' : 'smaller'}`;
  return `${number}, ${sides.join(' and ')} side: ${way(worstMm)} than planned at the ring, ${way(meanMm)} on the whole.`;
}

function markOf({ kind, number }: PrintDifference): string {
  return kind === 'missing' ? `${number} missing` : `by ${number} extra`;
}

function signed(mm: number): string {
  return `${mm < 0 ? '−' : '+'}${Math.abs(mm).toFixed(1)}`;
}

function ringAround(box: Box): Contour {
  const at = boxMiddle(box);
  return circleContour(at, Math.max(1.5, Math.hypot(box.x1 - box.x0, box.y1 - box.y0) / 2 + 0.5));
}
