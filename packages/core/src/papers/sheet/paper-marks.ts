import { type ClearSpace, SOFT } from '../../draw/clear-space.js';
import type { Tag } from '../../draw/name-tags.js';
import { lineStyle } from '../../draw/palette.js';
import type { Item } from '../../draw/types.js';
import { boxesOverlap, boxHolds } from '../../geometry/boxes.js';
import { circleContour } from '../../geometry/contour.js';
import type { Contour } from '../../geometry/types.js';
import type { NamedNeck, NamedTie, PaperNames } from './paper-names.js';
import { addTies, tieItems, tieStarts } from './tie-marks.js';
import { type View, viewContours, viewPoint } from './view.js';

/** Ring around a weak place, mm on the page: at least this, and so much wider than the place itself, but never larger than a thumb. */
const RING_MM = 3;
const SMALL_RING_MM = 2;
/** Pictures at this scale and below have small rings. */
const SMALL_SCALE = 0.5;
const RING_MORE_MM = 1.2;
const RING_MOST_MM = 9;
/** Between a ring and the leader to its name, mm on the page. */
const RING_FREE_MM = 0.4;

/** What of a sheet's paper a view shows, ready to be drawn on the page. */
export interface PaperMarks {
  /** White ties and their bars: to be drawn below cut lines. */
  readonly ties: readonly Item[];
  /** Rings around weak places: above cut lines. */
  readonly rings: readonly Item[];
  /** Names to be placed, weak places first. */
  readonly tags: readonly Tag[];
  /** Bars words from what is drawn. */
  readonly addTo: (space: ClearSpace) => void;
}

/** The ties and weak places that a view shows. Page mm. */
export function paperMarks(names: PaperNames, view: View): PaperMarks {
  const ties = names.ties.filter(({ box }) => boxesOverlap(box, view.window));
  const weak = names.weak.filter(({ neck }) => boxHolds(view.window, neck.atMm));
  const rings = weakRings(weak, view);
  const named = ties.filter(({ at }) => boxHolds(view.window, at));
  return {
    ties: onPage(tieItems(ties, view.scale), view),
    rings: rings.length > 0 ? [{ kind: 'path', contours: rings, line: lineStyle('weak') }] : [],
    tags: [...weakTags(weak, view), ...named.map((tie) => tieTag(tie, view))],
    addTo: (space) => {
      addTies(ties, space, { scale: view.scale, place: (contours) => viewContours(view, contours) });
      space.addContours(rings, SOFT);
    },
  };
}

/** A ring around each weak place. Page mm. */
export function weakRings(weak: readonly NamedNeck[], view: View): Contour[] {
  return weak.map((one) => circleContour(viewPoint(view, one.neck.atMm), ringMm(one, view)));
}

export function weakTags(weak: readonly NamedNeck[], view: View): Tag[] {
  return weak.map((one) => ({
    text: one.name,
    starts: [viewPoint(view, one.neck.atMm)],
    aroundMm: ringMm(one, view) + RING_FREE_MM,
  }));
}

function ringMm({ neck }: NamedNeck, view: View): number {
  return Math.min(
    RING_MOST_MM,
    Math.max(view.scale <= SMALL_SCALE ? SMALL_RING_MM : RING_MM, (view.scale * neck.widthMm) / 2 + RING_MORE_MM),
  );
}

/** The name of a tie, to be placed beside it. Page mm. */
export function tieTag({ name, tie }: NamedTie, view: View): Tag {
  return { text: name, starts: tieStarts(tie, view.scale).map((p) => viewPoint(view, p)) };
}

/** Paths that are drawn for a scale, in sheet mm, as they stand on the page. */
function onPage(items: readonly Item[], view: View): Item[] {
  return items.map((item) => {
    if (item.kind !== 'path') return item;
    const contours = viewContours(view, item.contours);
    if (item.line === undefined) return { ...item, contours };
    return { ...item, contours, line: { ...item.line, widthMm: item.line.widthMm * view.scale } };
  });
}
