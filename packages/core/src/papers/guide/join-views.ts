import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { COLOURS, lineStyle, RULE_GREY, WASTE_TINT } from '../../draw/palette.js';
import { scaleBar } from '../../draw/scale-bar.js';
import { wrapText } from '../../draw/text.js';
import { uprightNumber } from '../../draw/upright-numbers.js';
import { boxMiddle } from '../../geometry/boxes.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import { comesTogether } from '../../joins/states.js';
import type { JoinView } from '../../joins/view-types.js';
import type { Lattice } from '../../repeat/types.js';
import type { Sheet } from '../../stencil/types.js';
import { scaleWords, type View, viewContours, viewFrame, viewPoint } from '../sheet/view.js';
import { joinNames } from './join-names.js';

/** More would be too small to see. */
export const JOINS_A_PAGE = 6;
/** Three times true size or more. */
const SCALES = [3, 4, 5, 6, 8, 10, 15, 20] as const;
const GUTTER_MM = 7;
/** Words above a picture, in lines. */
const WORD_LINES = 4;
const LEAST_GAP_MM = 0.005;
/** Ring around the crossing, mm on the page. */
const RING_MM = 1.5;

/** What the joins belong to. */
interface JoinGround {
  readonly lattice: Lattice;
  readonly sheet: Pick<Sheet, 'openings'>;
}

/** Pictures of joins, both sides as they meet, six a page. */
export function joinPictures(pages: GuidePages, views: readonly JoinView[], { lattice, sheet }: JoinGround): void {
  const columns = pages.width >= 150 ? 2 : 1;
  const rows = JOINS_A_PAGE / 2;
  const width = (pages.width - (columns - 1) * GUTTER_MM) / columns;
  for (let k = 0; k < views.length; k += columns * rows) {
    pages.newPage();
    pages.heading(k === 0 ? 'Joins to finish' : 'Joins to finish, continued');
    const top = pages.y;
    const height = (pages.bottom - top) / rows;
    views.slice(k, k + columns * rows).forEach((view, n) => {
      const x = pages.left + (n % columns) * (width + GUTTER_MM);
      const y = top + Math.floor(n / columns) * height;
      joinPicture(pages, view, { x0: x, y0: y, x1: x + width, y1: y + height - 4 }, { lattice, sheet });
    });
    pages.y = pages.bottom;
  }
}

function joinPicture(pages: GuidePages, view: JoinView, cell: Box, { lattice, sheet }: JoinGround): void {
  const { font } = pages;
  const { join } = view;
  const width = cell.x1 - cell.x0;
  const [meets, ...rest] = joinSentences(view, lattice);
  let y = cell.y0;
  const write = (text: string, bold: boolean) => {
    for (const line of wrapText(text, width, { sizeMm: BODY_MM, bold }, font)) {
      y += LINE_MM;
      pages.add(pages.line(line, cell.x0, y - 0.28 * LINE_MM, { sizeMm: BODY_MM, bold }));
    }
  };
  write(meets, true);
  write(rest.join(' '), false);
  const top = cell.y0 + Math.max(WORD_LINES * LINE_MM, y - cell.y0) + 1;
  const bottom = cell.y1 - LINE_MM - 1;
  const own = view.box;
  const fits = (s: number) => (own.x1 - own.x0) * s <= width && (own.y1 - own.y0) * s <= bottom - top;
  const scale = SCALES.findLast(fits) ?? SCALES[0];
  const middle = boxMiddle(own);
  const [w, h] = [width / scale / 2, (bottom - top) / scale / 2];
  const seen: View = {
    window: { x0: middle.x - w, y0: middle.y - h, x1: middle.x + w, y1: middle.y + h },
    scale,
    at: { x: cell.x0, y: top },
  };
  const frame = boxContour(viewFrame(seen));
  const drawn = viewContours(seen, view.contours);
  // An end that was found on the other side only is shown where it comes to lie on this one: in the middle.
  const onSeam = join.seam === 'right' ? within(join.at.x, own.x0, own.x1) : within(join.at.y, own.y0, own.y1);
  const at = viewPoint(seen, onSeam ? join.at : middle);
  const right = join.seam === 'right';
  const seam = polyline(
    right
      ? [
          { x: at.x, y: top },
          { x: at.x, y: bottom },
        ]
      : [
          { x: cell.x0, y: at.y },
          { x: cell.x1, y: at.y },
        ],
    { closed: false },
  );
  pages.add(
    {
      kind: 'clip',
      contours: [frame],
      items: [
        { kind: 'path', contours: drawn, fill: WASTE_TINT, line: lineStyle('first-cut') },
        { kind: 'path', contours: [seam], line: { ...lineStyle('seam'), widthMm: 0.35 } },
      ],
    },
    { kind: 'path', contours: [frame], line: { colour: RULE_GREY, widthMm: 0.2 } },
  );
  const into = right ? { x: -1, y: 0 } : { x: 0, y: -1 };
  const name = (number: number): string => uprightNumber(number, sheet.openings);
  const names = [
    ...(view.own === null ? [] : [{ text: name(view.own), into }]),
    ...(view.partner === null ? [] : [{ text: name(view.partner), into: { x: -into.x, y: -into.y } }]),
  ];
  pages.add(
    { kind: 'path', contours: [circleContour(at, RING_MM)], line: { colour: COLOURS.black, widthMm: 0.3 } },
    ...joinNames(drawn, { crossing: at, seam, frame: viewFrame(seen), font }, names),
  );
  pages.add(pages.line(`${scaleWords(scale)}`, cell.x0, bottom + LINE_MM, { sizeMm: BODY_MM }));
  pages.add(...scaleBar({ right: cell.x1, y: bottom + 0.75 * LINE_MM, roomMm: 35 }, scale, font));
}

function within(v: number, low: number, high: number): boolean {
  return v >= low && v <= high;
}

/** What is to be seen: who meets whom and where, then by how much they miss. */
export function joinSentences(view: JoinView, lattice: Lattice): string[] {
  const { join, own, partner } = view;
  const right = join.seam === 'right';
  const here = right ? 'right' : 'bottom';
  const there = right ? 'left' : 'top';
  const name = (n: number | null) => (n === null ? 'an opening' : `${n}`);
  const where = halfWords(view, lattice);
  if (join.state === 'open' || join.offsetMm === null) {
    const first = `${capital(name(own ?? partner))} at the ${own === null ? there : here} edge has no partner, ${halfAt(view, lattice)}.`;
    return [first, join.flush ? 'It ends flush at the seam.' : 'Ask the dyer before cutting it.'];
  }
  const first = `${capital(name(own))} at the ${here} edge meets ${name(partner)} at the ${there} edge, ${where}.`;
  const offset = join.offsetMm;
  const gap = join.gapMm ?? 0;
  const way = right ? (offset > 0 ? 'lower' : 'higher') : offset > 0 ? 'further right' : 'further left';
  const small = Math.abs(offset) < LEAST_GAP_MM;
  const miss = small
    ? 'Both sides fall together.'
    : `${capital(name(partner))} lies ${Math.abs(offset).toFixed(2)} mm ${way}; the gap across the outline is ${gap.toFixed(2)} mm.`;
  const angle = join.kinkDeg !== null && join.kinkDeg >= 1 ? `${join.kinkDeg.toFixed(0)}°` : null;
  const kink =
    angle === null ? [] : [join.state === 'bends' ? `The outline bends by ${angle} there.` : `Kink ${angle}.`];
  return [first, comesTogether(join) ? `Within tolerance. ${small ? '' : miss}`.trim() : `Off. ${miss}`, ...kink];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Which half of the partner's edge the join is on. */
function halfWords({ join }: JoinView, { repeat, widthMm, heightMm }: Lattice): string {
  const f = repeat.step.p / repeat.step.q;
  const right = join.seam === 'right';
  const side = right ? heightMm : widthMm;
  const shift = right ? (repeat.kind === 'drop' ? f * side : 0) : repeat.kind === 'brick' ? f * side : 0;
  const at = (((join.atMm - shift + (join.offsetMm ?? 0)) % side) + side) % side;
  return halfOf(at / side, right);
}

function halfAt({ join }: JoinView, { widthMm, heightMm }: Lattice): string {
  const right = join.seam === 'right';
  return halfOf(join.atMm / (right ? heightMm : widthMm), right);
}

function halfOf(share: number, right: boolean): string {
  if (right) return share < 0.5 ? 'upper half' : 'lower half';
  return share < 0.5 ? 'left half' : 'right half';
}
