import { turnedCorners } from '../../draw/clear-space.js';
import { touches } from '../../draw/convex.js';
import { capHeight, emOfCap, textTurnedBox, wordItem } from '../../draw/label-box.js';
import { GuidePages, type PaperSize } from '../../draw/layout.js';
import { COLOURS, GREY, lineStyle, PAPER } from '../../draw/palette.js';
import { roundDrawing } from '../../draw/round.js';
import { textWidthMm } from '../../draw/text.js';
import type { Drawing, FontMetrics, Item, TextItem } from '../../draw/types.js';
import { writableText } from '../../draw/writable-text.js';
import { boxCorners, boxMiddle, boxOf, boxWithin } from '../../geometry/boxes.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Box, Point } from '../../geometry/types.js';
import { proofMap } from '../../proof/proof-map.js';
import type { ProofMap, ProofMapJoin, ProofPlacement, SheetEnds } from '../../proof/types.js';
import { sheetRepeat } from '../../register/dots.js';
import { makeLattice } from '../../repeat/lattice.js';
import type { Lattice } from '../../repeat/types.js';
import type { Sheet } from '../../stencil/types.js';
import { nameRanges } from '../sheet/join-places.js';
import { sheetName } from '../sheet/paper-words.js';
import { FRAME_SLACK_MM, type View, viewBox, viewPoint } from '../sheet/view.js';
import { repeatWords } from '../sheet/words.js';
import { hatch } from '../sheet/zone-picture.js';

/** Capitals, mm on the page: the order is read from where the proof is printed, letters at arm's length. */
const ORDER_CAP_MM = 15;
const LETTER_CAP_MM = 4;
const NAMES_CAP_MM = 3;
const DOT_MM = 0.7;
/** Of a dot for sighting only: wider than one that prints, so that it is seen around one that falls on it. */
const SIGHT_MM = 1.3;
const SIGHT = { colour: COLOURS.black, widthMm: 0.3 } as const;
const RING_MM = 6;
/** Most of a page's height for the picture, mm. */
const PICTURE_MM = 118;
const OUTLINE = { colour: COLOURS.black, widthMm: 0.5, join: 'miter' } as const;
const FURTHER = { colour: GREY, widthMm: 0.35, dashMm: [3, 1.5] } as const;
/** As thin as a small picture needs it. */
const HOLD = { ...lineStyle('hold-line'), widthMm: 0.35, dashMm: [2.4, 0.9] };
const HELD = { colour: '#999999', widthMm: 0.13 } as const;

/** The proof map of a sheet. `lattice` is the unit's. */
export function sheetProofMap(sheet: Sheet, { repeat }: Pick<Lattice, 'repeat'>): ProofMap {
  const { field, across, down, dots, heldRight } = sheet;
  const own = makeLattice(sheetRepeat(repeat, across, down), field.x1 - field.x0, field.y1 - field.y0);
  return proofMap(own, dots, { sideMeetsNothing: heldRight === null });
}

export interface ProofMapOptions {
  readonly title: string;
  readonly revision: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly font: FontMetrics;
  /** Upright: A4 or Letter as a rule. */
  readonly paper: PaperSize;
  /** The unit's. */
  readonly lattice: Lattice;
  readonly ends: SheetEnds;
}

/** The proof map as a drawing of its own: the few placements that show every join, on one page, with what to do. */
export function proofMapDrawing(sheet: Sheet, options: ProofMapOptions): Drawing {
  const { font, paper, date, lattice, ends } = options;
  const title = writableText(options.title, font).text;
  const pages = new GuidePages(paper, font);
  pages.title(title);
  const words = [sheetName(sheet), repeatWords(lattice), `revision ${writableText(options.revision, font).text}`, date];
  pages.paragraph({ text: `Proof map · ${words.join(' · ')}`, bold: true });
  proofMapPart(pages, sheet, { lattice, ends });
  const name = sheet.count > 1 ? `${options.title} – ${sheetName(sheet)}` : options.title;
  return roundDrawing({ title: `${name} – proof map`, date, groups: {}, pages: pages.finish(title, ['proof map']) });
}

/** Heading, picture, table of dots, and what to do with the proof, from where the page stands on. */
export function proofMapPart(
  pages: GuidePages,
  sheet: Sheet,
  { lattice, ends, heading }: { lattice: Lattice; ends: SheetEnds; heading?: string },
): void {
  const map = sheetProofMap(sheet, lattice);
  const count = map.placements.length;
  pages.heading(heading ?? `The proof: ${count} placements show every join`);
  pages.paragraph({
    text: 'Print the sheet, cut as far as it is, on paper or spare cloth in these places, in the order of the large numbers. Let each print dry before the next is laid over its edge.',
  });
  pages.space(1.5);
  const { items, heightMm, scale } = proofMapPicture(map, sheet, {
    at: { x: pages.left, y: pages.y },
    widthMm: pages.width,
    heightMm: Math.min(PICTURE_MM, pages.room - 88),
    ends,
    font: pages.font,
  });
  pages.add(...items);
  pages.y += heightMm + 1;
  const meeting =
    map.meetings.length === 0
      ? ''
      : ` Ringed: where ${map.meetings[0].placements.length === 4 ? 'four' : 'three'} meet.`;
  const further =
    map.further === null
      ? ''
      : ` Dashed: a fourth placement shows the other point where three meet; print it where there is room.`;
  pages.paragraph({
    text: `Scale 1 : ${Number((1 / scale).toFixed(1))}. Hatched: the held margin, still uncut. Full dot: prints. Open ring: for sighting only.${meeting}${further}`,
  });
  pages.space(1);
  if (map.pencil.length > 0) {
    pages.notice(pencilWords(map.pencil));
    pages.space(1);
  }
  pages.table(
    [
      { head: 'lay', share: 0.13 },
      { head: 'dot on dot', share: 0.34 },
      { head: 'what comes together', share: 0.32 },
      { head: 'joins', share: 0.21 },
    ],
    map.joins.map((join) => [
      `${join.from} on ${join.to}`,
      dotWords(join, map.pencil),
      join.words,
      nameRanges(joinsBetween(map, join, ends).map(({ name }) => name)) || 'none',
    ]),
  );
  pages.space(1.5);
  pages.list([
    'Look along every seam: the lead edges (left and top) of the later print lie beside the held margin of the earlier. They are what the second cut has to meet.',
    'With a scanner or camera: one clean print with all of its dots printed, those for sighting too, 300 dpi or more or straight from above. All joins are measured from that picture.',
    'Without: write on the form “Measured at the joins” how far each lead edge lies from its planned place.',
  ]);
}

/** What is done while the sheet lies in a place, so that the next can be laid by its dots; empty where all of those print. */
export function pencilWords(pencil: ProofMap['pencil']): string {
  if (pencil.length === 0) return '';
  const list = pencil.map(({ placement, dots }) => `${dots.join(' and ')} of print ${placement}`);
  return `Pencil through the dots for sighting only: they don't print. Before you lift the sheet, make a small pencil dot through ${list.join(', ')}. The next print is laid on them.`;
}

/** `A on B, E on C (pencil)`. */
function dotWords({ dots, to: placement }: ProofMapJoin, pencil: ProofMap['pencil']): string {
  if (dots.length === 0) return 'no dots: measure';
  const marked = pencil.find((one) => one.placement === placement)?.dots ?? [];
  return dots.map(({ from, to }) => `${from} on ${to}${marked.includes(to) ? ' (pencil)' : ''}`).join(', ');
}

/** The sheet's joins that a join of the map shows. */
function joinsBetween(map: ProofMap, { from, to }: ProofMapJoin, { joins }: SheetEnds): SheetEnds['joins'] {
  const place = (order: number) => map.placements.find((p) => p.order === order) as ProofPlacement;
  const [next, own] = [place(from).at, place(to).at];
  return joins.filter(({ step }) => {
    const there = Math.hypot(step.x - next.x + own.x, step.y - next.y + own.y);
    const back = Math.hypot(step.x + next.x - own.x, step.y + next.y - own.y);
    return Math.min(there, back) < 1e-3;
  });
}

interface PictureOptions {
  readonly at: Point;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly ends: SheetEnds;
  readonly font: FontMetrics;
}

/** Outlines of the placements with their numbers, dots, letters and joins, in the middle of the width. */
function proofMapPicture(
  map: ProofMap,
  sheet: Sheet,
  { at, widthMm, heightMm, ends, font }: PictureOptions,
): { items: Item[]; heightMm: number; scale: number } {
  const { field } = sheet;
  const [w, h] = [field.x1 - field.x0, field.y1 - field.y0];
  const shown = [...map.placements, ...(map.further ? [map.further] : [])];
  const window = boxOf(shown.flatMap(({ at: p }) => [p, { x: p.x + w, y: p.y + h }]));
  const most = Math.min(widthMm / (window.x1 - window.x0), heightMm / (window.y1 - window.y0));
  const scale = 1 / (Math.ceil(10 / most) / 10);
  const view: View = { window, scale, at: { x: at.x + (widthMm - scale * (window.x1 - window.x0)) / 2, y: at.y } };
  const numerals = map.placements.map((p) => numeral(`${p.order}`, fieldBox(p, view, w, h), font, COLOURS.black));
  const names = map.joins.flatMap((join) => joinLabel(map, join, { ends, view, w, h, font }));
  const taken = [...numerals, ...names].flatMap((item) =>
    item.kind === 'text' ? [turnedCorners(textTurnedBox(item, font))] : [],
  );
  const items = [
    ...(map.further ? furtherItems(map.further, view, { w, h, font }) : []),
    ...map.placements.flatMap((p) => heldItems(sheet, p, view)),
    ...map.placements.map((p): Item => {
      return { kind: 'path', contours: [boxContour(fieldBox(p, view, w, h))], line: OUTLINE };
    }),
    ...map.meetings.map((m): Item => {
      return {
        kind: 'path',
        contours: [circleContour(viewPoint(view, m.at), RING_MM + 3)],
        line: { colour: COLOURS.vermillion, widthMm: 0.5 },
      };
    }),
    ...map.placements.flatMap((p) => dotLetters(sheet, p, view, { font, taken })),
    ...numerals,
    ...names,
  ];
  return { items, heightMm: scale * (window.y1 - window.y0), scale };
}

function fieldBox({ at }: Pick<ProofPlacement, 'at'>, view: View, w: number, h: number): Box {
  return viewBox(view, { x0: at.x, y0: at.y, x1: at.x + w, y1: at.y + h });
}

function furtherItems(
  p: ProofPlacement,
  view: View,
  { w, h, font }: { w: number; h: number; font: FontMetrics },
): Item[] {
  const box = fieldBox(p, view, w, h);
  return [{ kind: 'path', contours: [boxContour(box)], line: FURTHER }, numeral(`${p.order}`, box, font, '#8c8c8c')];
}

/** The held margin of a placement, and its hold line. */
function heldItems({ field, heldRight, heldBottom }: Sheet, { at }: ProofPlacement, view: View): Item[] {
  const by = { x: at.x - field.x0, y: at.y - field.y0 };
  const bands = [heldRight, heldBottom].filter((b): b is Box => b !== null);
  return bands.flatMap((b): Item[] => {
    const box = viewBox(view, { x0: b.x0 + by.x, y0: b.y0 + by.y, x1: b.x1 + by.x, y1: b.y1 + by.y });
    const inner =
      b === heldRight
        ? [
            { x: box.x0, y: box.y0 },
            { x: box.x0, y: box.y1 },
          ]
        : [
            { x: box.x0, y: box.y0 },
            { x: box.x1, y: box.y0 },
          ];
    return [
      { kind: 'clip', contours: [boxContour(box)], items: [{ kind: 'path', contours: hatch(box), line: HELD }] },
      { kind: 'path', contours: [polyline(inner, { closed: false })], line: HOLD },
    ];
  });
}

/**
 * Every dot with its letter inside its own placement, so that letters of dots that fall together stand around them; where that is too small for it, the letter is left to the table of what is laid
 * on what. What is written is added to `taken`.
 */
function dotLetters(
  { dots, field }: Sheet,
  { at }: ProofPlacement,
  view: View,
  { font, taken }: { font: FontMetrics; taken: (readonly Point[])[] },
): Item[] {
  const middle = boxMiddle(field);
  return dots.flatMap((dot): Item[] => {
    const place = viewPoint(view, { x: dot.at.x - field.x0 + at.x, y: dot.at.y - field.y0 + at.y });
    const em = emOfCap(LETTER_CAP_MM, font);
    const half = textWidthMm(dot.name, { sizeMm: em, bold: true }, font) / 2;
    const [sx, sy] = [Math.sign(middle.x - dot.at.x), Math.sign(Math.round(middle.y - dot.at.y))];
    // Halfway along a side only inwards; but beside the corners that may come to lie there.
    const letter = { x: place.x + sx * (half + 1.4), y: place.y + sy * (LETTER_CAP_MM / 2 + 1.2) };
    const box = {
      x0: letter.x - half - 0.4,
      y0: letter.y - LETTER_CAP_MM / 2 - 0.4,
      x1: letter.x + half + 0.4,
      y1: letter.y + LETTER_CAP_MM / 2 + 0.4,
    };
    const spot: Item = dot.lead
      ? { kind: 'path', contours: [circleContour(place, DOT_MM)], fill: COLOURS.black }
      : { kind: 'path', contours: [circleContour(place, SIGHT_MM)], line: SIGHT };
    const own = fieldBox({ at }, view, field.x1 - field.x0, field.y1 - field.y0);
    const corners = boxCorners(box);
    if (!boxWithin(box, own, FRAME_SLACK_MM) || taken.some((other) => touches(other, corners))) return [spot];
    taken.push(corners);
    return [
      spot,
      { kind: 'path', contours: [boxContour(box)], fill: PAPER },
      wordItem(letter, { text: dot.name, em, bold: true }, { font, colour: COLOURS.green }),
    ];
  });
}

function numeral(text: string, box: Box, font: FontMetrics, colour: string): TextItem {
  const cap = Math.min(ORDER_CAP_MM, (box.y1 - box.y0) / 3);
  const at = boxMiddle(box);
  return wordItem(at, { text, em: emOfCap(cap, font), bold: true }, { font, colour });
}

/** The names of the joins on the side that two placements share, where there is room for them. */
function joinLabel(
  map: ProofMap,
  join: ProofMapJoin,
  { ends, view, w, h, font }: { ends: SheetEnds; view: View; w: number; h: number; font: FontMetrics },
): Item[] {
  const own = joinsBetween(map, join, ends);
  if (own.length === 0) return [];
  const place = (order: number) => map.placements.find((p) => p.order === order) as ProofPlacement;
  const [a, b] = [place(join.to).at, place(join.from).at];
  const shared = {
    x0: Math.max(a.x, b.x),
    y0: Math.max(a.y, b.y),
    x1: Math.min(a.x, b.x) + w,
    y1: Math.min(a.y, b.y) + h,
  };
  const at = viewPoint(view, boxMiddle(shared));
  const level = shared.x1 - shared.x0 > shared.y1 - shared.y0;
  const text = nameRanges(own.map(({ name }) => name));
  const em = emOfCap(NAMES_CAP_MM, font);
  const wide = textWidthMm(text, { sizeMm: em, bold: true }, font);
  const room = view.scale * Math.max(shared.x1 - shared.x0, shared.y1 - shared.y0) - 2 * RING_MM - 8;
  if (wide > room) return [];
  const [hx, hy] = [wide / 2 + 0.8, capHeight(em, font) / 2 + 0.8];
  const box = level
    ? { x0: at.x - hx, y0: at.y - hy, x1: at.x + hx, y1: at.y + hy }
    : { x0: at.x - hy, y0: at.y - hx, x1: at.x + hy, y1: at.y + hx };
  return [
    { kind: 'path', contours: [boxContour(box)], fill: PAPER },
    wordItem(at, { text, em, bold: true, ...(level ? {} : { turn: -90 }) }, { font, colour: COLOURS.black }),
  ];
}
