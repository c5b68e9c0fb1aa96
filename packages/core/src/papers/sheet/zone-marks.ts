import { type ClearSpace, SOFT } from '../../draw/clear-space.js';
import { addWord, emOfCap, type Wording, wordBox, wordFits, wordItem } from '../../draw/label-box.js';
import { lineStyle, ZONE_GREY } from '../../draw/palette.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import type { WasteIndex } from '../../draw/waste-index.js';
import { boxMiddle, growBox, moveBox } from '../../geometry/boxes.js';
import { polyline } from '../../geometry/contour.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import type { Sheet, Zone } from '../../stencil/types.js';

/** Height of a zone's letter, mm on the page. */
export const ZONE_LETTER_MM = 12;
/** Where nothing as large is free within the zone or beside it, mm on the page; the last is that of an opening's number. */
const SMALLER_MM = [9, 6.5, 5, 4] as const;
const LEAST_MM = 4;
/** How the least letter is turned where it finds no place level or upright, degrees. */
const SLANTS = [-45, 45, -20, 20, -70, 70];
/** Corner brackets of a zone: length, distance from its outline, width, mm on the page. */
const BRACKET = { longMm: 5, insetMm: 0.8, widthMm: 0.35 } as const;
/** Free space around a letter, mm on the page. */
const CLEARANCE_MM = 0.6;
/** Distance of places that are tried, mm on the page. */
const STEP_MM = 1;
/** A side of a zone lies on the edge of the design where it is nearer to it than this, mm. */
const EDGE_SLACK_MM = 1;

export interface ZoneOptions {
  readonly font: FontMetrics;
  readonly scale: number;
}

/** The outlines of all zones: thin dash and two points, and brackets in their corners, so that nobody takes them for a cut. */
export function zoneOutlines({ zones }: Sheet, scale: number): Item[] {
  if (zones.length === 0) return [];
  const line = lineStyle('zone', { scale });
  const { widthMm } = BRACKET;
  return [
    { kind: 'path', contours: zones.flatMap(({ box }) => sidesOf(box)), line },
    {
      kind: 'path',
      contours: zones.flatMap(({ box }) => brackets(box, scale)),
      line: { colour: ZONE_GREY, widthMm: widthMm / scale, join: 'miter' },
    },
  ];
}

/** Bars words from standing on zones' outlines; leaders may cross them. */
export function addZoneLines({ zones }: Sheet, space: ClearSpace): void {
  for (const { box } of zones) space.addContours(sidesOf(box), SOFT);
}

/** Each side once, so that the dashes of zones side by side do not fill each other's gaps: the left and the upper. */
function sidesOf({ x0, y0, x1, y1 }: Box): Contour[] {
  const line = (...points: Point[]) => polyline(points, { closed: false });
  return [line({ x: x0, y: y1 }, { x: x0, y: y0 }), line({ x: x0, y: y0 }, { x: x1, y: y0 })];
}

function brackets(box: Box, scale: number): Contour[] {
  const { x0, y0, x1, y1 } = growBox(box, -BRACKET.insetMm / scale);
  const long = Math.min(BRACKET.longMm / scale, (x1 - x0) / 4, (y1 - y0) / 4);
  const corner = (x: number, y: number, dx: number, dy: number) =>
    polyline(
      [
        { x: x + dx, y },
        { x, y },
        { x, y: y + dy },
      ],
      { closed: false },
    );
  return [
    corner(x0, y0, long, long),
    corner(x1, y0, -long, long),
    corner(x1, y1, -long, -long),
    corner(x0, y1, long, -long),
  ];
}

/**
 * The letter of every zone, 12 mm high: on free paper within it, else in the border beside it, else in a large waste; smaller within it where there is
 * no such place. Returns the letters that found none at all. What is placed is added to `space`.
 */
export function zoneLetters(
  sheet: Sheet,
  { space, waste }: { space: ClearSpace; waste: WasteIndex },
  { font, scale }: ZoneOptions,
): { items: Item[]; missing: string[] } {
  const items: Item[] = [];
  const missing: string[] = [];
  const where = { space, waste };
  for (const zone of sheet.zones) {
    const wording = (mm: number, turn: number): Wording => {
      return { text: zone.letter, em: emOfCap(mm, font) / scale, bold: false, turn };
    };
    const inside = (mm: number, turn: number, onPaper: boolean) =>
      placeIn(zone, wording(mm, turn), where, { font, scale, onPaper });
    const ways: (() => Placed | null)[] = [
      () => inside(ZONE_LETTER_MM, 0, true),
      () => placeBeside(zone, wording(ZONE_LETTER_MM, 0), sheet, space, { font, scale }),
      () => inside(ZONE_LETTER_MM, 0, false),
      ...[true, false].flatMap((onPaper) =>
        SMALLER_MM.flatMap((mm) => [0, -90].map((turn) => () => inside(mm, turn, onPaper))),
      ),
      ...[true, false].flatMap((onPaper) => SLANTS.map((turn) => () => inside(LEAST_MM, turn, onPaper))),
    ];
    const placed = firstOf(ways);
    if (placed === null) {
      missing.push(zone.letter);
      continue;
    }
    addWord(space, placed.at, placed.wording, font, CLEARANCE_MM / scale / 2);
    items.push(wordItem(placed.at, placed.wording, { font, colour: ZONE_GREY }));
  }
  return { items, missing };
}

interface Placed {
  readonly at: Point;
  readonly wording: Wording;
}

function firstOf(ways: readonly (() => Placed | null)[]): Placed | null {
  for (const way of ways) {
    const placed = way();
    if (placed !== null) return placed;
  }
  return null;
}

/** The free place in a zone that is nearest to its upper left corner, on paper or in a waste. */
function placeIn(
  { box }: Zone,
  wording: Wording,
  { space, waste }: { space: ClearSpace; waste: WasteIndex },
  { font, scale, onPaper }: ZoneOptions & { readonly onPaper: boolean },
): Placed | null {
  const room = wordBox({ x: 0, y: 0 }, wording, font, CLEARANCE_MM / scale);
  const step = STEP_MM / scale;
  const fits = wordFits(space, wording, font, CLEARANCE_MM / scale);
  let best: Placed | null = null;
  let least = Infinity;
  for (let x = box.x0 - room.x0; x + room.x1 <= box.x1; x += step) {
    for (let y = box.y0 - room.y0; y + room.y1 <= box.y1; y += step) {
      const far = x - box.x0 + y - box.y0;
      if (far >= least || !fits({ x, y })) continue;
      if ((waste.at({ x, y }) === null) !== onPaper) continue;
      best = { at: { x, y }, wording };
      least = far;
    }
  }
  return best;
}

/** A place in the border of the sheet next to a zone that lies along the edge of the design, sliding along its side. */
function placeBeside(
  { box }: Zone,
  wording: Wording,
  { field, widthMm, heightMm }: Sheet,
  space: ClearSpace,
  { font, scale }: ZoneOptions,
): Placed | null {
  const room = wordBox({ x: 0, y: 0 }, wording, font, CLEARANCE_MM / scale);
  const step = STEP_MM / scale;
  const free = (at: Point) => {
    const { x0, y0, x1, y1 } = moveBox(room, at);
    return x0 > step && y0 > step && x1 < widthMm - step && y1 < heightMm - step && space.isClear({ x0, y0, x1, y1 });
  };
  const middle = boxMiddle(box);
  const sides = [
    { on: box.x0 - field.x0, out: { x: -1, y: 0 } },
    { on: box.y0 - field.y0, out: { x: 0, y: -1 } },
    { on: field.x1 - box.x1, out: { x: 1, y: 0 } },
    { on: field.y1 - box.y1, out: { x: 0, y: 1 } },
  ].filter(({ on }) => on < EDGE_SLACK_MM);
  for (const { out } of sides) {
    const half = out.x === 0 ? box.x1 - middle.x : box.y1 - middle.y;
    const depth = out.x === 0 ? box.y1 - middle.y + room.y1 : box.x1 - middle.x + room.x1;
    for (let away = step; away < 25 / scale; away += step) {
      for (let k = 0; k * step < half; k++) {
        for (const along of k === 0 ? [0] : [-k * step, k * step]) {
          const at = {
            x: middle.x + out.x * (depth + away) + (out.x === 0 ? along : 0),
            y: middle.y + out.y * (depth + away) + (out.y === 0 ? along : 0),
          };
          if (free(at)) return { at, wording };
        }
      }
    }
  }
  return null;
}
