import type { Box, Point } from '../geometry/types.js';
import type { Practice } from './types.js';

/** What a zone is about as wide and as high, mm: what one hand reaches, and what a page shows at true size. */
export const ZONE_MM = { width: 150, height: 200 } as const;
/** A zone may be this much larger than that, so that a sheet just over a multiple gets no row of slivers. */
const STRETCH = 1.05;
/** Most openings of the first cut in one zone: what one tick list takes. */
export const ZONE_OPENINGS = 40;
/** Zones are not halved below this, mm: labels never lie so near. */
const LEAST_ZONE_MM = 0.5;

/** A zone before openings are sorted into it. */
export interface ZoneBox {
  /** Z1, Z2, … in working order. */
  readonly letter: string;
  readonly box: Box;
}

/**
 * Divides the area that is worked (sheet mm) into zones of about 150 × 200 mm in working order: rows from the top, each from the left for a right
 * hand and from the right for a left one, so that the heel of the hand rests on uncut paper. A zone with more than 40 of the `places`
 * (one for each opening of the first cut) is halved across its longer side, again and again.
 */
export function layZones(area: Box, places: readonly Point[], hand: Practice['hand']): ZoneBox[] {
  const columns = Math.max(1, Math.ceil((area.x1 - area.x0) / (ZONE_MM.width * STRETCH)));
  const rows = Math.max(1, Math.ceil((area.y1 - area.y0) / (ZONE_MM.height * STRETCH)));
  const boxes: Box[] = [];
  for (let row = 0; row < rows; row++) {
    const [y0, y1] = [edge(area.y0, area.y1, row / rows), edge(area.y0, area.y1, (row + 1) / rows)];
    for (let k = 0; k < columns; k++) {
      const column = hand === 'right' ? k : columns - 1 - k;
      const [x0, x1] = [edge(area.x0, area.x1, column / columns), edge(area.x0, area.x1, (column + 1) / columns)];
      const box = { x0, y0, x1, y1 };
      boxes.push(
        ...halved(
          box,
          places.filter((p) => holds(box, p, area)),
          hand,
        ),
      );
    }
  }
  return boxes.map((box, k) => ({ letter: `Z${k + 1}`, box }));
}

/** The zone in which a place lies; places outside of all go to the nearest. At least one zone. */
export function zoneOf(zones: readonly ZoneBox[], at: Point): ZoneBox {
  let best = zones[0];
  let least = Infinity;
  for (const zone of zones) {
    const { x0, y0, x1, y1 } = zone.box;
    // The upper left sides belong to a zone, the others to its neighbours.
    if (at.x >= x0 && at.x < x1 && at.y >= y0 && at.y < y1) return zone;
    const off = Math.hypot(Math.max(x0 - at.x, 0, at.x - x1), Math.max(y0 - at.y, 0, at.y - y1));
    if (off < least) {
      least = off;
      best = zone;
    }
  }
  return best;
}

function halved(box: Box, places: readonly Point[], hand: Practice['hand']): Box[] {
  const [width, height] = [box.x1 - box.x0, box.y1 - box.y0];
  if (places.length <= ZONE_OPENINGS || Math.max(width, height) < 2 * LEAST_ZONE_MM) return [box];
  if (width > height) {
    const x = edge(box.x0, box.x1, 0.5);
    const parts = [
      halved(
        { ...box, x1: x },
        places.filter((p) => p.x < x),
        hand,
      ),
      halved(
        { ...box, x0: x },
        places.filter((p) => p.x >= x),
        hand,
      ),
    ];
    return (hand === 'right' ? parts : parts.reverse()).flat();
  }
  const y = edge(box.y0, box.y1, 0.5);
  return [
    ...halved(
      { ...box, y1: y },
      places.filter((p) => p.y < y),
      hand,
    ),
    ...halved(
      { ...box, y0: y },
      places.filter((p) => p.y >= y),
      hand,
    ),
  ];
}

/** Whether a place belongs to a box of the grid; those on the outer edge of the area to the box there. */
function holds(box: Box, at: Point, area: Box): boolean {
  const x = Math.min(Math.max(at.x, area.x0), area.x1);
  const y = Math.min(Math.max(at.y, area.y0), area.y1);
  return x >= box.x0 && (x < box.x1 || box.x1 === area.x1) && y >= box.y0 && (y < box.y1 || box.y1 === area.y1);
}

/** The same number for the same share, so that neighbours share their edge to the last bit. */
function edge(low: number, high: number, share: number): number {
  return share === 1 ? high : low + share * (high - low);
}
