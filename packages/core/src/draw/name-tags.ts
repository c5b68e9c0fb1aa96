import { boxDistance, growBox, moveBox } from '../geometry/boxes.js';
import { boxContour, polyline } from '../geometry/contour.js';
import { SquareIndex } from '../geometry/square-index.js';
import type { Box, Point } from '../geometry/types.js';
import { type ClearSpace, NO_OWNER } from './clear-space.js';
import { addWord, edgeTowards, emOfCap, type Wording, wordBox, wordItem } from './label-box.js';
import { COLOURS, lineStyle, PAPER } from './palette.js';
import type { FontMetrics, Item } from './types.js';

/** Side of the squares in which places are found, mm: about a label. */
const CELL_MM = 10;
/** Free space between a name and any line, mm on the page. */
const CLEARANCE_MM = 0.45;
/** A name this near to its place needs no leader, mm on the page. */
const NEAR_MM = 2.2;
/** A name is nearer to its own place than to any other's by this, or has a leader, mm on the page. */
const APART_MM = 1.2;
const DIRECTIONS = 24;
const GROWTH = 1.25;
/** No opening has this number: a leader may cross no outline. */
const NOBODY = -2;

/** A name that belongs to a place. `starts` are places from which a leader may begin, the best first; `aroundMm` is left out around them, e.g. for a ring. */
export interface Tag {
  readonly text: string;
  readonly starts: readonly Point[];
  readonly aroundMm?: number;
}

/** Where names may stand. */
export interface LabelArea {
  readonly space: ClearSpace;
  readonly font: FontMetrics;
  /** Names stay in here. */
  readonly frame: Box;
  /** True where a place lies in waste: names stand on paper where they can. */
  readonly inWaste?: (p: Point) => boolean;
}

export interface TagOptions {
  /** Heights of capitals to try, mm on the page, the largest first. */
  readonly capsMm: readonly number[];
  /** Longest leader, mm on the page. */
  readonly reachMm: number;
  /** At which the drawing is seen, 1 by default: sizes are divided by it. */
  readonly scale?: number;
  /** A name farther from its place than this has a leader, mm on the page; 2.2 by default. */
  readonly nearMm?: number;
  /** White under the names, for pictures whose lines need not all be seen; none by default. */
  readonly plate?: boolean;
  /** No leader crosses an outline, even where a name has no place else. */
  readonly strictLeaders?: boolean;
}

export interface PlacedTags {
  readonly items: readonly Item[];
  /** Names that found no free place. */
  readonly missing: readonly string[];
}

/** How a place is looked for. */
interface TagTry {
  readonly capMm: number;
  readonly onPaper: boolean;
  /** Only where no leader is needed, as no other tag's place is nearby. */
  readonly alone: boolean;
  readonly overOutlines: boolean;
}

/**
 * Every name next to its place, on no line and on no other name, and not where it might belong to another's place; else with a thin leader, which crosses no
 * line where that can be had.
 * What is placed is added to the ground's `space`.
 */
export function placeTags(tags: readonly Tag[], ground: LabelArea, options: TagOptions): PlacedTags {
  const { capsMm } = options;
  const least = capsMm[capsMm.length - 1];
  const ways: TagTry[] = [
    ...[true, false].flatMap((onPaper) =>
      capsMm.flatMap((capMm) => [true, false].map((alone) => ({ capMm, onPaper, alone, overOutlines: false }))),
    ),
    ...(options.strictLeaders
      ? []
      : [true, false].map((onPaper) => ({ capMm: least, onPaper, alone: false, overOutlines: true }))),
  ];
  const places = new SquareIndex<{ tag: Tag; at: Point }>(CELL_MM);
  for (const tag of tags) for (const at of tag.starts) places.add({ tag, at }, at);
  const apartMm = APART_MM / (options.scale ?? 1);
  // Whether a word might as well belong to another place, from which it is hardly farther than from its own.
  const isDoubtful = (tag: Tag, box: Box): boolean => {
    const own = Math.min(...tag.starts.map((p) => boxDistance(box, p)));
    const wide = growBox(box, own + apartMm);
    return places.near(wide).some((other) => other.tag !== tag && boxDistance(box, other.at) < own + apartMm);
  };
  const items: Item[] = [];
  const missing: string[] = [];
  for (const tag of tags) {
    let placed: Item[] | null = null;
    for (const way of ways) {
      placed = placeTag(tag, way, { ...ground, isDoubtful }, options);
      if (placed !== null) break;
    }
    if (placed === null) missing.push(tag.text);
    else items.push(...placed);
  }
  return { items, missing };
}

function placeTag(
  tag: Tag,
  way: TagTry,
  ground: LabelArea & { readonly isDoubtful: (tag: Tag, box: Box) => boolean },
  options: TagOptions,
): Item[] | null {
  const { space, font, frame, inWaste, isDoubtful } = ground;
  const { scale = 1, reachMm, nearMm = NEAR_MM, plate = false } = options;
  const wording: Wording = { text: tag.text, em: emOfCap(way.capMm, font) / scale, bold: true };
  const own = wordBox({ x: 0, y: 0 }, wording, font);
  const room = wordBox({ x: 0, y: 0 }, wording, font, CLEARANCE_MM / scale);
  const around = tag.aroundMm ?? 0;
  const mostMm = (way.alone ? nearMm : reachMm) / scale;
  for (let r = 0.8 / scale; r <= mostMm; r = r * GROWTH + 0.4 / scale) {
    for (const start of tag.starts) {
      for (let k = 0; k < DIRECTIONS; k++) {
        // Up and to the right first.
        const angle = -Math.PI / 4 + (2 * Math.PI * k) / DIRECTIONS;
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
        // `r` is the length from the place to the edge of the word.
        const half = Math.min(own.x1 / Math.max(1e-9, Math.abs(cos)), own.y1 / Math.max(1e-9, Math.abs(sin)));
        const far = around + r + half;
        const at = { x: start.x + far * cos, y: start.y + far * sin };
        const box = moveBox(room, at);
        if (box.x0 < frame.x0 || box.y0 < frame.y0 || box.x1 > frame.x1 || box.y1 > frame.y1) continue;
        if (!space.isClear(box)) continue;
        if (way.onPaper && inWaste?.(at)) continue;
        const near = r <= nearMm / scale && !isDoubtful(tag, box);
        if (way.alone && !near) continue;
        const from = { x: start.x + around * cos, y: start.y + around * sin };
        const to = edgeTowards(box, start);
        if (!near && space.crossesOthers(from, to, NOBODY, { overOutlines: way.overOutlines })) continue;
        addWord(space, at, wording, font, CLEARANCE_MM / scale / 2);
        if (!near) space.addLine(from.x, from.y, to.x, to.y, NO_OWNER);
        return [
          ...(near
            ? []
            : [
                {
                  kind: 'path',
                  contours: [polyline([from, to], { closed: false })],
                  line: lineStyle('leader', { scale }),
                } as const,
              ]),
          ...(plate ? [plateUnder(box)] : []),
          wordItem(at, wording, { font, colour: COLOURS.black }),
        ];
      }
    }
  }
  return null;
}

function plateUnder(box: Box): Item {
  return { kind: 'path', contours: [boxContour(box)], fill: PAPER };
}
