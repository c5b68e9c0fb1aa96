import type { ClearSpace } from '../../draw/clear-space.js';
import { wordsWithLeaders } from '../../draw/number-leaders.js';
import { lineStyle } from '../../draw/palette.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import type { WasteIndex } from '../../draw/waste-index.js';
import { polyline } from '../../geometry/contour.js';
import { distance } from '../../geometry/points.js';
import type { Sheet, SheetOpening } from '../../stencil/types.js';

/** Holes of one size nearer to each other than this share one mark of their size, mm on the page. */
const GROUP_MM = 30;
/** The cross in a hole reaches this share of its radius. */
const CROSS_SHARE = 0.7;

export interface PunchOptions {
  readonly font: FontMetrics;
  readonly scale: number;
  readonly reachMm: number;
  readonly digitMm: number;
}

/** True for an opening that is punched in the first cut. */
export function isPunched({ tool, punchMm, firstCut }: SheetOpening): boolean {
  return tool === 'punch' && punchMm !== null && firstCut.length > 0;
}

/** `ø3`: the punch's diameter, mm. */
export function punchWords({ punchMm }: SheetOpening): string {
  return `ø${Number((punchMm ?? 0).toFixed(2))}`;
}

/** A cross in the middle of every hole that is punched: what to centre the punch on, and what tells it from a hole that is cut. */
export function punchCrosses(openings: readonly SheetOpening[], scale: number): Item[] {
  const contours = openings.filter(isPunched).flatMap(({ box, punchMm }) => {
    const x = (box.x0 + box.x1) / 2;
    const y = (box.y0 + box.y1) / 2;
    const r = CROSS_SHARE * ((punchMm as number) / 2);
    const line = (dx: number, dy: number) =>
      polyline(
        [
          { x: x - dx, y: y - dy },
          { x: x + dx, y: y + dy },
        ],
        { closed: false },
      );
    return [line(r, 0), line(0, r)];
  });
  return contours.length > 0 ? [{ kind: 'path', contours, line: lineStyle('punch', { scale }) }] : [];
}

/**
 * The punch's size beside one hole of every group of like holes, with a leader, where there is free paper: an assistant changes the punch once and goes
 * from hole to hole, so one mark does for those nearby. What is placed is added to `space`.
 */
export function punchSizes(
  sheet: Sheet,
  where: { space: ClearSpace; waste: WasteIndex },
  { font, scale, reachMm, digitMm }: PunchOptions,
): { labels: readonly Item[]; leaders: readonly Item[] } {
  const labels: Item[] = [];
  const leaders: Item[] = [];
  const marked: SheetOpening[] = [];
  const holes = sheet.openings.filter(isPunched);
  const near = (a: SheetOpening, b: SheetOpening) =>
    a.punchMm === b.punchMm && distance(a.labelAt, b.labelAt) < GROUP_MM / scale;
  for (const hole of holes) {
    if (marked.some((other) => near(hole, other))) continue;
    const placed = wordsWithLeaders([hole], punchWords, where, { font, scale, reachMm, digitMm, sheet });
    if (placed.missing.length > 0) continue;
    marked.push(hole);
    labels.push(...placed.labels);
    leaders.push(...placed.leaders);
  }
  return { labels, leaders };
}
