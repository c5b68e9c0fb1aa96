import type { FontMetrics } from '../../draw/types.js';
import { boxAround, boxDistance, sharedBox } from '../../geometry/boxes.js';
import { contoursBox } from '../../geometry/contour.js';
import type { Box, Point } from '../../geometry/types.js';
import type { Sheet, SheetOpening } from '../../stencil/types.js';
import type { PaperNames } from '../sheet/paper-names.js';
import type { View } from '../sheet/view.js';
import type { ChangeMarks } from '../sheet/zone-picture.js';
import { type ZonePicture, type ZoneShare, zonePicture } from '../sheet/zone-picture.js';

/** Scales of zone pages, from true size up. */
const SCALES = [1, 1.5, 2, 3, 4, 5, 6, 8, 10, 15, 20] as const;
/** Smaller than true size only where a single opening does not fit the page, so that it is seen at all. */
const REDUCED = [1, 1 / 1.5, 1 / 2, 1 / 3, 1 / 5, 1 / 10] as const;
/** Free paper around the openings of a picture, so that numbers have room, mm on the page. */
const AROUND_MM = 10;
/** Around a tie or a weak place that a picture has to show, mm on the sheet. */
const AROUND_PLACE_MM = 3;
/** How much of its neighbours a zone shows where the page has room for it, mm on the sheet. */
const NEIGHBOURS_MM = 8;

/** What a page holds for a picture, mm. */
export interface Room {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A picture of a zone or of a part of it, at the page's origin. */
export interface ZonePart {
  readonly share: ZoneShare;
  readonly view: View;
  readonly picture: ZonePicture;
}

interface PartOptions {
  readonly room: Room;
  readonly font: FontMetrics;
  readonly changes: ChangeMarks;
  readonly names: PaperNames;
  readonly allOrNothing?: boolean;
}

/**
 * The pictures that show every number of a zone legibly: one at true size where that will do, else one enlarged, else the zone in halves, each in turn so. Only a single opening
 * that is larger than the page is drawn smaller.
 */
export function zoneParts(sheet: Sheet, share: ZoneShare, options: PartOptions): ZonePart[] {
  const openings = sheet.openings.filter((o) => share.firstCut.has(o.number) || share.secondCut.has(o.number));
  const { weak, ties } = options.names;
  const places = [
    ...weak.filter(({ zone }) => zone === share.zone.letter).map(({ neck }) => neck.atMm),
    ...ties.filter(({ zone }) => zone === share.zone.letter).map(({ at }) => at),
  ];
  return openings.length === 0 ? [] : partsOf(sheet, share, { openings, places }, options);
}

function partsOf(sheet: Sheet, share: ZoneShare, content: Content, options: PartOptions): ZonePart[] {
  const { openings } = content;
  let best: ZonePart | null = null;
  for (const scale of SCALES) {
    const window = windowAt(sheet, share, content, { scale, room: options.room });
    if (window === null) break;
    const allOrNothing = share.firstCut.size + share.secondCut.size > 1;
    const part = partAt(sheet, share, { window, scale }, { ...options, allOrNothing });
    if (part.picture.missing.length === 0) return [part];
    if (best === null || part.picture.missing.length < best.picture.missing.length) best = part;
  }
  const cuts = share.firstCut.size + share.secondCut.size;
  if (cuts > 1) {
    const parted = share.firstCut.size > 0 && share.secondCut.size > 0;
    const two = parted ? byCut(share) : halves(share, openings);
    const owns = two.map((half) => openings.filter((o) => half.firstCut.has(o.number) || half.secondCut.has(o.number)));
    // Each place is shown with the openings that it is nearest to.
    const far = owns.map((own) => content.places.map((p) => Math.min(...own.map((o) => boxDistance(o.box, p)))));
    return two.flatMap((half, k) => {
      const places = content.places.filter((_, n) => (k === 0 ? far[0][n] <= far[1][n] : far[0][n] > far[1][n]));
      return partsOf(sheet, half, { openings: owns[k], places }, options);
    });
  }
  if (best !== null) return [closeUp(sheet, share, openings[0], options) ?? best];
  for (const scale of REDUCED.slice(1)) {
    const window = windowAt(sheet, share, content, { scale, room: options.room });
    if (window !== null) return [partAt(sheet, share, { window, scale }, options)];
  }
  const window = around(openings[0].labelAt, options.room, 1);
  return [partAt(sheet, share, { window, scale: 1 }, options)];
}

/** What a picture has to show: openings, and places of the paper beside them. */
interface Content {
  readonly openings: readonly SheetOpening[];
  readonly places: readonly Point[];
}

/** A single opening whose number finds no place while all of it is seen: the place of its label, larger. */
function closeUp(sheet: Sheet, share: ZoneShare, opening: SheetOpening, options: PartOptions): ZonePart | null {
  for (const scale of SCALES.slice(1)) {
    const part = partAt(sheet, share, { window: around(opening.labelAt, options.room, scale), scale }, options);
    if (part.picture.missing.length === 0) return part;
  }
  return null;
}

function around(at: { x: number; y: number }, room: Room, scale: number): Box {
  const [w, h] = [room.widthMm / scale / 2, room.heightMm / scale / 2];
  return { x0: at.x - w, y0: at.y - h, x1: at.x + w, y1: at.y + h };
}

function partAt(
  sheet: Sheet,
  share: ZoneShare,
  { window, scale }: { window: Box; scale: number },
  { font, changes, names, allOrNothing = false }: PartOptions,
): ZonePart {
  const view = { window, scale, at: { x: 0, y: 0 } };
  return { share, view, picture: zonePicture(sheet, share, view, { font, changes, names, allOrNothing }) };
}

/**
 * What of the sheet to show: the openings whole where they fit, at least what of them lies in the zone; then as much of the zone and of its neighbours as the page has room
 * for. Null where not even that fits at this scale.
 */
function windowAt(
  sheet: Sheet,
  share: ZoneShare,
  { openings, places }: Content,
  { scale, room }: { scale: number; room: Room },
): Box | null {
  const most = { x: room.widthMm / scale, y: room.heightMm / scale };
  const paper = { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm };
  const zone = share.zone.box;
  const cuts = openings.flatMap((o) => ownBoxes(o, share));
  const marked = places.map(({ x, y }) => {
    return { x0: x - AROUND_PLACE_MM, y0: y - AROUND_PLACE_MM, x1: x + AROUND_PLACE_MM, y1: y + AROUND_PLACE_MM };
  });
  const inZone = boxAround([...cuts.map((c) => sharedBox(c, zone) ?? c), ...marked]) as Box;
  const whole = boxAround(cuts) as Box;
  const pad = AROUND_MM / scale;
  const padded = (b: Box): Box => ({ x0: b.x0 - pad, y0: b.y0 - pad, x1: b.x1 + pad, y1: b.y1 + pad });
  if (!fits(inZone, most)) return null;
  let window = inZone;
  const onPaper = (b: Box) => sharedBox(b, paper) ?? b;
  const more = NEIGHBOURS_MM;
  const wider = { x0: zone.x0 - more, y0: zone.y0 - more, x1: zone.x1 + more, y1: zone.y1 + more };
  // Enlarged, the picture is of these openings; at true size it is of the zone.
  const wishes =
    scale > 1 ? [padded(inZone), whole, padded(whole)] : [padded(inZone), zone, whole, wider, padded(whole)];
  for (const wish of wishes) window = growTowards(window, onPaper(wish), most);
  return window;
}

/** Boxes of what is cut of an opening by a share of a zone's lists. */
function ownBoxes(opening: SheetOpening, share: ZoneShare): Box[] {
  const lists = [
    ...(share.firstCut.has(opening.number) ? [opening.firstCut] : []),
    ...(share.secondCut.has(opening.number) ? [opening.secondCut] : []),
  ];
  return lists.map(contoursBox).filter((b): b is Box => b !== null);
}

function fits(b: Box, most: { x: number; y: number }): boolean {
  return b.x1 - b.x0 <= most.x && b.y1 - b.y0 <= most.y;
}

/** `box` grown towards `wish` on either side as far as `most` allows, as evenly as can be. */
function growTowards(box: Box, wish: Box, most: { x: number; y: number }): Box {
  const [x0, x1] = growAlong(box.x0, box.x1, wish.x0, wish.x1, most.x);
  const [y0, y1] = growAlong(box.y0, box.y1, wish.y0, wish.y1, most.y);
  return { x0, y0, x1, y1 };
}

function growAlong(from: number, to: number, low: number, high: number, most: number): [number, number] {
  const before = Math.max(0, from - low);
  const after = Math.max(0, high - to);
  const room = Math.max(0, most - (to - from));
  if (before + after <= room) return [from - before, to + after];
  const even = room / 2;
  const less = before < even ? before : after < even ? room - after : even;
  return [from - less, to + (room - less)];
}

/** What is cut before the proof, and what is cut after it. */
function byCut(share: ZoneShare): [ZoneShare, ZoneShare] {
  return [
    { ...share, secondCut: new Set() },
    { ...share, firstCut: new Set() },
  ];
}

/** A share in two, along the longer side of what it holds; each half keeps the cutting order. */
function halves(share: ZoneShare, openings: readonly SheetOpening[]): [ZoneShare, ZoneShare] {
  const centres = openings.map((o) => {
    const box = boxAround(ownBoxes(o, share)) ?? o.box;
    const seen = sharedBox(box, share.zone.box) ?? box;
    return { number: o.number, x: (seen.x0 + seen.x1) / 2, y: (seen.y0 + seen.y1) / 2 };
  });
  const span = (key: 'x' | 'y') => Math.max(...centres.map((c) => c[key])) - Math.min(...centres.map((c) => c[key]));
  const key = span('x') > span('y') ? 'x' : 'y';
  centres.sort((a, b) => a[key] - b[key] || a.number - b.number);
  const first = new Set(centres.slice(0, Math.ceil(centres.length / 2)).map((c) => c.number));
  const part = (keep: (n: number) => boolean): ZoneShare => ({
    zone: share.zone,
    firstCut: new Set([...share.firstCut].filter(keep)),
    secondCut: new Set([...share.secondCut].filter(keep)),
  });
  return [part((n) => first.has(n)), part((n) => !first.has(n))];
}
