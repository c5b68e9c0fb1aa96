import type { ClearSpace } from '../../draw/clear-space.js';
import { addWord, emOfCap, readable, type Wording, wordBox, wordFits, wordItem } from '../../draw/label-box.js';
import { COLOURS, lineStyle } from '../../draw/palette.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import type { WasteIndex } from '../../draw/waste-index.js';
import { moveBox } from '../../geometry/boxes.js';
import { polyline } from '../../geometry/contour.js';
import { distance } from '../../geometry/points.js';
import { segmentMiddle } from '../../geometry/segments.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import type { Sheet, StopMark } from '../../stencil/types.js';

export const STOP_WORD = 'stop';
export const NOT_YET = 'not yet';
/** Height of capitals, mm on the page. */
const STOP_CAPS_MM = [3, 2.4] as const;
const NOT_YET_CAPS_MM = [4, 3, 2.4] as const;
/** Free space around these words, mm on the page. */
const CLEARANCE_MM = 0.4;
/** Distances of "stop" from its bar, mm on the page, and places along it as shares of its length. */
const GAPS_MM = [1.2, 2, 3, 4.5];
const SHARES = [0, 0.15, -0.15, 0.3, -0.3, 0.45, -0.45, 0.6, -0.6];
/** A bar runs on past its outline by this, mm on the page, so that it shows where it ends. */
const BAR_OVER_MM = 1;
/** Ticks at the ends of a bar, mm on the page: at full size, and on a reduced picture. */
const TICK_MM = { full: 1.6, reduced: 0.9 } as const;
/** "not yet" stands about this often along the held margin, mm on the page: on every printer page at least. */
const NOT_YET_EVERY_MM = 55;
const NOT_YET_TRIES = 300;
/** "not yet" may also stand this far outside of the design, in the border, mm on the page. */
const NOT_YET_OUTSIDE_MM = 9;

export interface StopOptions {
  readonly font: FontMetrics;
  readonly scale: number;
}

/** Unit vectors of a stop: along its bar, and away from the first cut. Null for a stop of no length. */
function frame(
  stop: StopMark,
  sheet: Sheet,
  waste: WasteIndex,
): { along: Point; away: Point; lengthMm: number } | null {
  const { from, to } = stop;
  const lengthMm = distance(to, from);
  if (lengthMm < 1e-9) return null;
  const along = { x: (to.x - from.x) / lengthMm, y: (to.y - from.y) / lengthMm };
  const side = { x: -along.y, y: along.x };
  const opening = sheet.openings.find((o) => o.number === stop.number);
  const at = (d: number) => ({ x: (from.x + to.x) / 2 + side.x * d, y: (from.y + to.y) / 2 + side.y * d });
  const probe = Math.min(0.3, lengthMm / 3);
  const turned = opening !== undefined && waste.isIn(opening, at(probe), 'first');
  return { along, away: turned ? { x: -side.x, y: -side.y } : side, lengthMm };
}

/** A bar along each stop, with a short tick at either end that points away from the first cut. */
export function stopBars(sheet: Sheet, waste: WasteIndex, scale: number): Item[] {
  const tick = (scale < 1 ? TICK_MM.reduced : TICK_MM.full) / scale;
  const over = scale < 1 ? 0 : BAR_OVER_MM / scale;
  const contours = sheet.stops.flatMap((stop): Contour[] => {
    const found = frame(stop, sheet, waste);
    if (found === null) return [];
    const { along, away } = found;
    const ends = [
      { x: stop.from.x - along.x * over, y: stop.from.y - along.y * over },
      { x: stop.to.x + along.x * over, y: stop.to.y + along.y * over },
    ];
    const beyond = (p: Point) => ({ x: p.x + away.x * tick, y: p.y + away.y * tick });
    return [polyline([beyond(ends[0]), ends[0], ends[1], beyond(ends[1])], { closed: false })];
  });
  return contours.length > 0 ? [{ kind: 'path', contours, line: lineStyle('stop', { scale }) }] : [];
}

/**
 * The word "stop" at every bar, where it has room: beyond the bar, else before it in the waste that ends there; along the bar or at right angles to it.
 * What is placed is added to `space`.
 */
export function stopWords(
  sheet: Sheet,
  { space, waste }: { space: ClearSpace; waste: WasteIndex },
  { font, scale }: StopOptions,
): Item[] {
  const clear = CLEARANCE_MM / scale;
  return sheet.stops.flatMap((stop): Item[] => {
    const found = frame(stop, sheet, waste);
    if (found === null) return [];
    const { along, away, lengthMm } = found;
    const middle = segmentMiddle(stop);
    const barTurn = readable((Math.atan2(along.y, along.x) * 180) / Math.PI);
    for (const mm of STOP_CAPS_MM) {
      for (const side of [1, -1]) {
        for (const across of [false, true]) {
          const turn = across ? readable(barTurn + 90) : barTurn;
          const wording: Wording = {
            text: STOP_WORD,
            em: emOfCap(mm, font) / scale,
            bold: mm === STOP_CAPS_MM[0],
            turn,
          };
          const { x1, y1 } = wordBox({ x: 0, y: 0 }, { ...wording, turn: 0 }, font);
          const deep = across ? x1 : y1;
          const fits = wordFits(space, wording, font, clear);
          for (const gap of GAPS_MM) {
            for (const share of SHARES) {
              const d = side * (deep + gap / scale);
              const at = {
                x: middle.x + away.x * d + along.x * share * lengthMm,
                y: middle.y + away.y * d + along.y * share * lengthMm,
              };
              if (!onPaper(wordBox(at, wording, font, clear), sheet)) continue;
              if (!fits(at)) continue;
              if (side < 0 && waste.at(at)?.number !== stop.number) continue;
              addWord(space, at, wording, font, clear / 2);
              return [wordItem(at, wording, { font, colour: COLOURS.black })];
            }
          }
        }
      }
    }
    return [];
  });
}

/** "not yet" again and again along the held margin, where there is free paper or waste enough for it. What is placed is added to `space`. */
export function notYetWords(sheet: Sheet, space: ClearSpace, { font, scale }: StopOptions): Item[] {
  const out = NOT_YET_OUTSIDE_MM / scale;
  const right = sheet.heldRight && { ...sheet.heldRight, x1: Math.min(sheet.heldRight.x1 + out, sheet.widthMm - 1) };
  const bottom = sheet.heldBottom && {
    ...sheet.heldBottom,
    y1: Math.min(sheet.heldBottom.y1 + out, sheet.heightMm - 1),
  };
  return [right, bottom].flatMap((band) =>
    band ? sections(band, NOT_YET_EVERY_MM / scale).flatMap((box) => notYetIn(box, space, { font, scale })) : [],
  );
}

function sections(band: Box, everyMm: number): Box[] {
  const tall = band.y1 - band.y0 > band.x1 - band.x0;
  const long = tall ? band.y1 - band.y0 : band.x1 - band.x0;
  const count = Math.max(1, Math.round(long / everyMm));
  return Array.from({ length: count }, (_, k) =>
    tall
      ? { ...band, y0: band.y0 + (k * long) / count, y1: band.y0 + ((k + 1) * long) / count }
      : { ...band, x0: band.x0 + (k * long) / count, x1: band.x0 + ((k + 1) * long) / count },
  );
}

function notYetIn(box: Box, space: ClearSpace, { font, scale }: StopOptions): Item[] {
  for (const mm of NOT_YET_CAPS_MM) {
    for (const turn of [0, -90]) {
      const wording: Wording = { text: NOT_YET, em: emOfCap(mm, font) / scale, bold: mm === NOT_YET_CAPS_MM[0], turn };
      const room = wordBox({ x: 0, y: 0 }, wording, font, CLEARANCE_MM / scale);
      const wide = box.x1 - room.x1 - (box.x0 - room.x0);
      const high = box.y1 - room.y1 - (box.y0 - room.y0);
      if (wide < 0 || high < 0) continue;
      for (let k = 0; k < NOT_YET_TRIES; k++) {
        // Places spread over the section in an even, repeatable order (multiples of the golden section).
        const at = {
          x: box.x0 - room.x0 + ((0.5 + k * 0.618034) % 1) * wide,
          y: box.y0 - room.y0 + ((0.5 + k * 0.754878) % 1) * high,
        };
        if (!space.isClear(moveBox(room, at))) continue;
        addWord(space, at, wording, font, CLEARANCE_MM / scale / 2);
        return [wordItem(at, wording, { font, colour: COLOURS.black })];
      }
    }
  }
  return [];
}

function onPaper({ x0, y0, x1, y1 }: Box, { widthMm, heightMm }: Sheet): boolean {
  return x0 > 1 && y0 > 1 && x1 < widthMm - 1 && y1 < heightMm - 1;
}
