import { ClearSpace, SOFT } from '../../draw/clear-space.js';
import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { placeTags } from '../../draw/name-tags.js';
import { COLOURS, GREY, lineStyle, WASTE_TINT } from '../../draw/palette.js';
import { scaleBar } from '../../draw/scale-bar.js';
import { wrapText } from '../../draw/text.js';
import type { Item } from '../../draw/types.js';
import { uprightNumber } from '../../draw/upright-numbers.js';
import { boxesOverlap, boxHolds } from '../../geometry/boxes.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Point } from '../../geometry/types.js';
import type { Dot } from '../../register/dots.js';
import type { Corner } from '../../register/types.js';
import type { Sheet } from '../../stencil/types.js';
import { formatMm } from '../../units/format.js';
import { holdLine, paperOutline } from '../sheet/cartoon.js';
import { type View, viewContours, viewFrame, viewPoint } from '../sheet/view.js';
import { type NearOpening, nearOpening } from './dots-near.js';
import type { SquareWork } from './square-work.js';

/** What of the sheet is shown around each dot, mm of the sheet and of the page alike. */
export const AROUND_DOT_MM = 40;
const GAP_MM = 4.5;
const BAR_MM = 20;
/** Arms of the cross on a dot begin and end this far from its middle, mm. */
const CROSS_MM = [1.6, 6] as const;
const CROSS_LINE = { colour: COLOURS.green, widthMm: 0.3, cap: 'butt' } as const;
const FOOT_LINE = { colour: COLOURS.vermillion, widthMm: 0.35, dashMm: [1.2, 0.7], cap: 'butt' } as const;

const PLACE: Readonly<Record<Corner, string>> = {
  upperLeft: 'upper left',
  upperRight: 'upper right',
  lowerRight: 'lower right',
  lowerLeft: 'lower left',
};

/** What of the sheet lies around every dot, at true size: its cross, the cuts near it, and how far the nearest is. */
export function dotPlaces(pages: GuidePages, work: SquareWork): void {
  const { inHand } = work;
  const columns = Math.max(1, Math.floor((pages.width + GAP_MM) / (AROUND_DOT_MM + GAP_MM)));
  const cells = inHand.dots.map((dot) => {
    const near = nearOpening(inHand, dot.at);
    const texts = cellTexts(dot, near, work);
    return {
      dot,
      near,
      lines: texts.flatMap((t) => wrapText(t, AROUND_DOT_MM, { sizeMm: BODY_MM }, pages.font)),
    };
  });
  const linesMm = Math.max(...cells.map(({ lines }) => lines.length)) * LINE_MM;
  const allMm = Math.ceil(cells.length / columns) * (AROUND_DOT_MM + linesMm + 4) + 4 * LINE_MM;
  // All on one page where one holds them.
  pages.heading('The dots at true size', allMm < pages.height - 15 ? allMm : AROUND_DOT_MM + linesMm + 5 * LINE_MM);
  pages.paragraph({
    text: `Each picture is ${AROUND_DOT_MM} × ${AROUND_DOT_MM} mm of the sheet at true size${inHand.register.dry ? ', as the dry paper is drawn' : ''}. The punch goes on the cross; grey is cut out, dotted waits for the proof. Thin red dashes: the shortest way from the cross to a cut. Thin dash and point: edge of the design. Heavy dashes: hold line.`,
  });
  pages.add(...scaleBar({ right: pages.right, y: pages.y + 0.5 * LINE_MM, roomMm: BAR_MM }, 1, pages.font));
  pages.paragraph(
    { text: 'Check with a ruler: if this bar is not 20 mm long, the page was not printed at true size.' },
    { lessMm: 2 * BAR_MM },
  );
  pages.y += 1.5;
  for (let k = 0; k < cells.length; k += columns) {
    const row = cells.slice(k, k + columns);
    const heightMm = AROUND_DOT_MM + Math.max(...row.map(({ lines }) => lines.length)) * LINE_MM + 4;
    pages.need(heightMm);
    row.forEach(({ dot, near, lines }, n) => {
      const at = { x: pages.left + n * (AROUND_DOT_MM + GAP_MM), y: pages.y };
      pages.add(...cellItems(pages, inHand, dot, near, at));
      lines.forEach((text, m) => {
        const y = at.y + AROUND_DOT_MM + 1 + (m + 0.78) * LINE_MM;
        pages.add(pages.line(text, at.x, y, { sizeMm: BODY_MM, bold: m === 0 }));
      });
    });
    pages.y += heightMm;
  }
}

function cellTexts({ name, diameterMm, lead }: Dot, near: NearOpening | null, { names }: SquareWork): string[] {
  const corner = (Object.keys(names) as Corner[]).find((key) => names[key] === name);
  const where = corner === undefined ? 'between corners' : PLACE[corner];
  return [
    `${name}: ${where}`,
    `ø ${formatMm(diameterMm)}, ${lead ? 'prints' : 'for sighting'}`,
    near === null
      ? 'nothing is cut'
      : near.inside
        ? `lies in opening ${near.number}: leave paper around it, or ask`
        : `${near.mm.toFixed(1)} mm to opening ${near.number}`,
  ];
}

function cellItems(pages: GuidePages, sheet: Sheet, dot: Dot, near: NearOpening | null, at: Point): Item[] {
  const half = AROUND_DOT_MM / 2;
  const view: View = {
    window: { x0: dot.at.x - half, y0: dot.at.y - half, x1: dot.at.x + half, y1: dot.at.y + half },
    scale: 1,
    at,
  };
  const seen = sheet.openings.filter(({ box }) => boxesOverlap(box, view.window));
  const middle = viewPoint(view, dot.at);
  const [from, to] = CROSS_MM;
  const arms = [0, 1, 2, 3].map((quarter) => {
    const [u, v] = [Math.cos((quarter * Math.PI) / 2), Math.sin((quarter * Math.PI) / 2)];
    return polyline(
      [
        { x: middle.x + from * u, y: middle.y + from * v },
        { x: middle.x + to * u, y: middle.y + to * v },
      ],
      { closed: false },
    );
  });
  const path = (contours: Parameters<typeof viewContours>[1], style: Pick<Item & { kind: 'path' }, 'line' | 'fill'>) =>
    contours.length === 0 ? [] : [{ kind: 'path', contours: viewContours(view, contours), ...style } satisfies Item];
  const foot = near === null || near.inside ? [] : [polyline([middle, viewPoint(view, near.foot)], { closed: false })];
  const space = new ClearSpace();
  for (const { firstCut, secondCut, number } of seen) {
    space.addContours(viewContours(view, [...firstCut, ...secondCut]), number);
  }
  space.addContours([...arms, ...foot], SOFT);
  space.addContours(viewContours(view, [paperOutline(sheet), boxContour(sheet.field), ...holdLine(sheet)]), SOFT);
  const shown = near !== null && !near.inside && boxHolds(view.window, near.foot) ? near : null;
  const tags = placeTags(
    [
      { text: dot.name, starts: [middle], aroundMm: 1.6 },
      ...(shown === null
        ? []
        : [
            { text: uprightNumber(shown.number, sheet.openings), starts: [viewPoint(view, shown.foot)], aroundMm: 0.4 },
          ]),
    ],
    { space, font: pages.font, frame: viewFrame(view) },
    { capsMm: [3], reachMm: 16, nearMm: 4 },
  );
  return [
    {
      kind: 'clip',
      contours: [boxContour(viewFrame(view))],
      items: [
        ...seen.flatMap(({ firstCut, secondCut }) => [
          ...path(firstCut, { line: lineStyle('first-cut'), fill: WASTE_TINT }),
          ...path(secondCut, { line: lineStyle('second-cut') }),
        ]),
        ...path([boxContour(sheet.field)], { line: lineStyle('seam') }),
        ...path(holdLine(sheet), { line: lineStyle('hold-line') }),
        ...path([paperOutline(sheet)], { line: lineStyle('border') }),
        ...(foot.length === 0 ? [] : [{ kind: 'path', contours: foot, line: FOOT_LINE } satisfies Item]),
      ],
    },
    { kind: 'path', contours: arms, line: CROSS_LINE },
    {
      kind: 'path',
      contours: [circleContour(middle, dot.diameterMm / 2)],
      ...(dot.lead ? { fill: COLOURS.black } : { line: { colour: COLOURS.black, widthMm: 0.2 } }),
    },
    ...tags.items,
    {
      kind: 'path',
      contours: [boxContour(viewFrame(view))],
      line: { colour: GREY, widthMm: 0.2 },
    },
  ];
}
