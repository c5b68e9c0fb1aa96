import { moveBox } from '../geometry/boxes.js';
import { circleContour, polyline } from '../geometry/contour.js';
import type { Point } from '../geometry/types.js';
import type { Sheet, SheetOpening } from '../stencil/types.js';
import { type ClearSpace, NO_OWNER } from './clear-space.js';
import { addWord, edgeTowards, emOfCap, type Wording, wordBox, wordItem } from './label-box.js';
import { CLEARANCE_MM, numberText } from './number-inside.js';
import { COLOURS, GREY, lineStyle } from './palette.js';
import type { FontMetrics, Item } from './types.js';
import { numberedPart, type WasteIndex } from './waste-index.js';

/** A way to look for a place outside: directions, growth of the leader's length from try to try, the shortest leader, mm on the page. */
interface Search {
  readonly angles: number;
  readonly growth: number;
  readonly fromMm: number;
  readonly turn: number;
  readonly bold: boolean;
}

/** From the clearest to the last resort. */
const SEARCHES: readonly Search[] = [
  { angles: 16, growth: 1.3, fromMm: 2, turn: 0, bold: true },
  { angles: 48, growth: 1.12, fromMm: 1, turn: 0, bold: false },
  { angles: 48, growth: 1.12, fromMm: 1, turn: -90, bold: false },
];
/** Kept free along the edge of the paper, mm on the page. */
const EDGE_MM = 2;
/** Spots in the waste that a leader may start from, beside the widest. */
const ANCHORS = 6;

export interface LeaderOptions {
  readonly font: FontMetrics;
  /** At which the drawing is seen. */
  readonly scale: number;
  /** Longest leader, mm on the page; 0 for none. */
  readonly reachMm: number;
  /** Height of the digits, mm on the page. */
  readonly digitMm: number;
  readonly sheet: Sheet;
}

/** Words that stand on paper, the lines that lead from them to their openings, and the openings for which there was no place. */
export interface LeaderLabels {
  readonly labels: readonly Item[];
  readonly leaders: readonly Item[];
  readonly missing: readonly SheetOpening[];
}

/**
 * The number of every opening on free paper near it, with a leader to its waste that crosses no outline of another opening, no word and no other
 * leader. What is placed is added to `space`.
 */
export function numbersWithLeaders(
  openings: readonly SheetOpening[],
  where: { space: ClearSpace; waste: WasteIndex },
  options: LeaderOptions,
): LeaderLabels {
  return wordsWithLeaders(openings, (opening) => numberText(opening, options.sheet), where, options);
}

/** Like `numbersWithLeaders`, with words of the caller's. */
export function wordsWithLeaders(
  openings: readonly SheetOpening[],
  textOf: (opening: SheetOpening) => string,
  where: { space: ClearSpace; waste: WasteIndex },
  options: LeaderOptions,
): LeaderLabels {
  const labels: Item[] = [];
  const leaders: Item[] = [];
  let waiting = openings;
  const starts = new Map<SheetOpening, Point[]>();
  for (const search of SEARCHES) {
    waiting = waiting.filter((opening) => {
      const from = starts.get(opening) ?? anchors(opening, where.waste);
      starts.set(opening, from);
      const wording: Wording = {
        text: textOf(opening),
        em: emOfCap(options.digitMm, options.font) / options.scale,
        bold: search.bold,
        turn: search.turn,
      };
      for (const start of from) {
        const at = placeOutside(opening, { start, wording, search }, where, options);
        if (at === null) continue;
        leaders.push(...leaderItems(opening, { start, at, wording }, where.space, options));
        labels.push(wordItem(at, wording, { font: options.font, colour: COLOURS.black }));
        return false;
      }
      return true;
    });
  }
  return { labels, leaders, missing: waiting };
}

/** Where a leader may end in an opening's waste: its widest place, and for a large opening a few spots all over it. */
function anchors(opening: SheetOpening, waste: WasteIndex): Point[] {
  const { box, labelAt } = opening;
  const spots: Point[] = [];
  for (let k = 1; k <= 8 * ANCHORS && spots.length < ANCHORS; k++) {
    // Spread over the box in an even, repeatable order (multiples of the golden section).
    const p = {
      x: box.x0 + ((k * 0.618034) % 1) * (box.x1 - box.x0),
      y: box.y0 + ((k * 0.754878) % 1) * (box.y1 - box.y0),
    };
    if (waste.isIn(opening, p, numberedPart(opening))) spots.push(p);
  }
  return [labelAt, ...spots];
}

function placeOutside(
  opening: SheetOpening,
  { start, wording, search }: { start: Point; wording: Wording; search: Search },
  { space, waste }: { space: ClearSpace; waste: WasteIndex },
  { font, scale, reachMm, sheet }: LeaderOptions,
): Point | null {
  const own = wordBox({ x: 0, y: 0 }, wording, font);
  const room = wordBox({ x: 0, y: 0 }, wording, font, CLEARANCE_MM / scale);
  const edge = EDGE_MM / scale;
  for (let r = search.fromMm / scale; r <= reachMm / scale; r = r * search.growth + 0.3 / scale) {
    for (let k = 0; k < search.angles; k++) {
      // Up and to the right first.
      const angle = -Math.PI / 4 + (2 * Math.PI * k) / search.angles;
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
      // `r` is the length of the leader, up to the edge of the word.
      const half = Math.min(own.x1 / Math.max(1e-9, Math.abs(cos)), own.y1 / Math.max(1e-9, Math.abs(sin)));
      const at = { x: start.x + (r + half) * cos, y: start.y + (r + half) * sin };
      const box = moveBox(room, at);
      if (box.x0 < edge || box.y0 < edge || box.x1 > sheet.widthMm - edge || box.y1 > sheet.heightMm - edge) continue;
      if (!space.isClear(box)) continue;
      if (space.crossesOthers(start, edgeTowards(box, start), opening.number)) continue;
      if (waste.at(at) === null) return at;
    }
  }
  return null;
}

function leaderItems(
  opening: SheetOpening,
  { start, at, wording }: { start: Point; at: Point; wording: Wording },
  space: ClearSpace,
  { font, scale }: LeaderOptions,
): Item[] {
  const clear = CLEARANCE_MM / scale / 2;
  const end = edgeTowards(wordBox(at, wording, font, clear), start);
  addWord(space, at, wording, font, clear);
  space.addLine(start.x, start.y, end.x, end.y, NO_OWNER);
  const spot = Math.min(0.45 / scale, Math.max(0.2 / scale, opening.labelRoomMm / 2));
  const line = lineStyle('leader', { scale });
  return [
    { kind: 'path', contours: [polyline([start, end], { closed: false })], line },
    { kind: 'path', contours: [circleContour(start, spot)], fill: GREY },
  ];
}
