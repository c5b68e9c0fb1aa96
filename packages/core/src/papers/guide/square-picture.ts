import { ClearSpace, SOFT } from '../../draw/clear-space.js';
import { addWord, emOfCap, type Wording, wordBox, wordFits, wordItem } from '../../draw/label-box.js';
import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import { placeTags, type Tag } from '../../draw/name-tags.js';
import { COLOURS, GREY, PAPER } from '../../draw/palette.js';
import type { Item, LineStyle } from '../../draw/types.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import { between, distance } from '../../geometry/points.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import { ENDS, SPANS } from '../../register/spans.js';
import type { Span } from '../../register/types.js';
import { formatMm } from '../../units/format.js';
import { paperOutline } from '../sheet/cartoon.js';
import { scaleWords, type View, viewBox, viewContours, viewPoint } from '../sheet/view.js';
import { holeAt, holeLetter, type SquareWork } from './square-work.js';

/** Heights of the picture, mm on the page: it leaves room for what stands below it, but does not get smaller for that than the least. */
const HIGH_MM = { least: 66, most: 98 } as const;
/** Beside the paper, for names that find no room on it, mm. */
const BESIDE_MM = 20;
/** Half the length of an arc, mm on the page. */
const ARC_MM = 5.5;
const ARC_PARTS = 24;
const RING_MM = 1.3;
const CAP_MM = 2.6;
const ARROW_MM = 26;
const HEAD_MM = 2.6;

const LEAD: LineStyle = { colour: COLOURS.black, widthMm: 0.7, cap: 'butt' };
const SPAN: LineStyle = { colour: GREY, widthMm: 0.25, dashMm: [2.5, 1.2], cap: 'butt' };
const ARC: LineStyle = { colour: COLOURS.blue, widthMm: 0.45, cap: 'round' };
const DOT: LineStyle = { colour: COLOURS.black, widthMm: 0.4 };

/**
 * The sheet with its dots lettered in the order of punching, the six distances, the arcs that place them, and the grain of the paper. `belowMm` is kept free below, where
 * the picture does not get too small for that.
 */
export function squarePicture(pages: GuidePages, work: SquareWork, { belowMm = 0 }: { belowMm?: number } = {}): void {
  const { inHand } = work;
  const roomMm = pages.room - belowMm - 4 * LINE_MM - 6;
  const highMm = Math.min(HIGH_MM.most, Math.max(HIGH_MM.least, roomMm));
  const scale = Math.min((pages.width - 2 * BESIDE_MM) / inHand.widthMm, highMm / inHand.heightMm);
  const heightMm = scale * inHand.heightMm;
  pages.need(heightMm + 4 * LINE_MM + 6);
  // Arcs at the uppermost dots may reach over the paper's edge.
  pages.space(4);
  const view: View = {
    window: { x0: 0, y0: 0, x1: inHand.widthMm, y1: inHand.heightMm },
    scale,
    at: { x: pages.left + (pages.width - scale * inHand.widthMm) / 2, y: pages.y },
  };
  pages.add(...pictureItems(pages, work, view));
  pages.y += heightMm + 1.5;
  const wet = work.punch === 'wet' ? 'the soaked sheet' : work.inHand.register.dry ? 'the dry paper' : 'the sheet';
  pages.paragraph({
    text: `Drawn at ${scaleWords(scale)}: ${wet} from its face; lengths are those to measure, dot to dot. Heavy line: along the lead side. Dashes: distances. Blue arcs: strike two, each from its own dot, and punch where they cross. Full dot: prints. Open ring: for sighting. 1st, 2nd, …: the order of punching.`,
  });
}

function pictureItems(pages: GuidePages, work: SquareWork, view: View): Item[] {
  const { inHand, names, order } = work;
  const at = (hole: string): Point => viewPoint(view, holeAt(hole, work));
  const straight = (from: string, to: string): Contour => polyline([at(from), at(to)], { closed: false });
  const arcs = order.steps
    .filter(({ how }) => how === 'crossing')
    .flatMap(({ hole, distances }) => distances.map(({ from }) => arcThrough(at(hole), at(from))));
  const space = new ClearSpace();
  const spans = SPANS.map((span) => straight(...ENDS[span]));
  const rings = inHand.dots.map((dot) => circleContour(viewPoint(view, dot.at), RING_MM));
  space.addContours([...spans, ...arcs, ...rings, ...viewContours(view, [paperOutline(inHand)])], SOFT);
  const words = new ClearSpace();
  const lengths: { place: Point; wording: Wording }[] = [];
  const beside: Tag[] = [];
  for (const span of SPANS) {
    const { places, wording } = lengthPlaces(span, work, at, pages);
    const fits = wordFits(words, wording, pages.font, 0.4);
    const place = places.find(fits);
    if (place === undefined) beside.push({ text: wording.text, starts: places });
    else {
      lengths.push({ place, wording });
      addWord(words, place, wording, pages.font, 0.4);
      addWord(space, place, wording, pages.font, 0.6);
    }
  }
  const grain = grainItems(pages, work, viewBox(view, work.frame), { space, words });
  const tags = placeTags(
    order.steps.map(({ hole }, k) => ({
      text: `${holeLetter(hole, names)} (${ordinal(k + 1)})`,
      starts: [at(hole)],
      aroundMm: RING_MM,
    })),
    { space, font: pages.font, frame: wider(viewBox(view, view.window)) },
    { capsMm: [CAP_MM, 2.4], reachMm: 30, nearMm: 7 },
  );
  // Lengths that find no room on their lines on a small or narrow sheet stand beside it, with leaders.
  const led = placeTags(
    [...beside, ...grain.beside],
    { space, font: pages.font, frame: wider(viewBox(view, view.window)) },
    { capsMm: [2.4, 2], reachMm: 60, plate: true },
  );
  return [
    {
      kind: 'path',
      contours: viewContours(view, [paperOutline(inHand)]),
      line: { colour: GREY, widthMm: 0.4 },
      fill: PAPER,
    },
    { kind: 'path', contours: spans, line: SPAN },
    { kind: 'path', contours: [straight('upperLeft', 'upperRight')], line: LEAD },
    { kind: 'path', contours: arcs, line: ARC },
    ...lengths.flatMap(({ place, wording }): Item[] => [
      { kind: 'path', contours: [boxContour(wordBox(place, wording, pages.font, 0.5))], fill: PAPER },
      wordItem(place, wording, { font: pages.font, colour: COLOURS.black }),
    ]),
    ...inHand.dots.map(
      ({ lead }, k): Item => ({
        kind: 'path',
        contours: [rings[k]],
        line: DOT,
        fill: lead ? COLOURS.black : PAPER,
      }),
    ),
    ...grain.items,
    ...led.items,
    ...tags.items,
  ];
}

/** A short arc around `centre` through `hole`. */
function arcThrough(hole: Point, centre: Point): Contour {
  const radius = distance(hole, centre);
  const middle = Math.atan2(hole.y - centre.y, hole.x - centre.x);
  const half = Math.min(ARC_MM / radius, Math.PI / 4);
  const points = Array.from({ length: ARC_PARTS + 1 }, (_, k) => {
    const angle = middle + half * ((2 * k) / ARC_PARTS - 1);
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
  });
  return polyline(points, { closed: false });
}

/** A length, and the places for it on its line: the farthest first from the dots that stand on it and from where the diagonals cross. */
function lengthPlaces(
  span: Span,
  { order, targets }: SquareWork,
  at: (hole: string) => Point,
  { font }: GuidePages,
): { places: Point[]; wording: Wording } {
  const [from, to] = ENDS[span].map(at);
  const diagonal = span === 'falling' || span === 'rising';
  const mm = diagonal
    ? Math.hypot(targets.widthMm, targets.heightMm)
    : span === 'top' || span === 'bottom'
      ? targets.widthMm
      : targets.heightMm;
  const upright = span === 'left' || span === 'right';
  const wording = { text: formatMm(mm, 1), em: emOfCap(2.4, font), bold: false, ...(upright ? { turn: -90 } : {}) };
  const holes = order.steps.map(({ hole }) => at(hole));
  const taken = diagonal ? [between(from, to, 0.5)] : [];
  // The places of arcs and names lie around the dots.
  const room = (p: Point) => Math.min(...[...holes, ...taken].map((q) => distance(p, q)));
  const shares = diagonal ? [0.28, 0.35, 0.72] : [0.5, 0.4, 0.6, 0.3, 0.7, 0.25, 0.75];
  // The rising diagonal begins below: both lengths stand in the upper half.
  const along = span === 'rising' ? shares.map((s) => 1 - s) : shares;
  const places = along.map((s) => between(from, to, s));
  const best = places.reduce((a, b) => (room(b) > room(a) + 0.5 ? b : a));
  return { places: [best, ...places.filter((p) => p !== best)], wording };
}

/** An arrow with two heads and its word, between the diagonals; words alone where the grain is not known. On a sheet that is too small for the word it is led to from beside. */
function grainItems(
  { font }: GuidePages,
  { sheet }: SquareWork,
  frame: Box,
  { space, words }: { space: ClearSpace; words: ClearSpace },
): { items: Item[]; beside: Tag[] } {
  const { grain } = sheet.practice;
  const [w, h] = [frame.x1 - frame.x0, frame.y1 - frame.y0];
  const wording: Wording = {
    text: grain === null ? 'grain: ask' : 'grain',
    em: emOfCap(2.4, font),
    bold: true,
  };
  const upright = grain === 'upright';
  const long = Math.min(ARROW_MM, upright ? 0.2 * h : 0.3 * w);
  const middle = upright
    ? { x: frame.x0 + 0.74 * w, y: frame.y0 + 0.5 * h }
    : { x: frame.x0 + 0.5 * w, y: frame.y0 + 0.76 * h };
  const along = (u: number, v: number): Point =>
    upright ? { x: middle.x + v, y: middle.y + u } : { x: middle.x + u, y: middle.y + v };
  const word = grain === null ? middle : upright ? { x: middle.x, y: middle.y + long / 2 + 3 } : along(0, 3.5);
  const clear = wordFits(words, wording, font, 0.4)(word);
  if (clear) addWord(space, word, wording, font, 1);
  const items = clear ? [wordItem(word, wording, { font, colour: COLOURS.black })] : [];
  const beside = clear ? [] : [{ text: wording.text, starts: [middle] }];
  if (grain === null) return { items, beside };
  const head = (u: number, back: number): Contour =>
    polyline([along(u + back, -HEAD_MM / 2), along(u, 0), along(u + back, HEAD_MM / 2)], { closed: false });
  const contours = [
    polyline([along(-long / 2, 0), along(long / 2, 0)], { closed: false }),
    head(-long / 2, HEAD_MM),
    head(long / 2, -HEAD_MM),
  ];
  space.addContours(contours, SOFT);
  const arrow: Item = { kind: 'path', contours, line: { colour: COLOURS.black, widthMm: 0.35 } };
  return { items: [arrow, ...items], beside };
}

function wider({ x0, y0, x1, y1 }: Box): Box {
  return { x0: x0 - BESIDE_MM, y0, x1: x1 + BESIDE_MM, y1 };
}

function ordinal(n: number): string {
  return `${n}${['st', 'nd', 'rd'][n - 1] ?? 'th'}`;
}
