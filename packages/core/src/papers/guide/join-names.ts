import { ClearSpace, NO_OWNER } from '../../draw/clear-space.js';
import { emOfCap } from '../../draw/label-box.js';
import { COLOURS, GREY } from '../../draw/palette.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { boxWithin, growBox } from '../../geometry/boxes.js';
import { polyline } from '../../geometry/contour.js';
import { distance } from '../../geometry/points.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import { numberBox } from '../sheet/numbers.js';
import { insideSides, outlinesOf, type StraightSide } from '../sheet/outlines.js';
import { FRAME_SLACK_MM } from '../sheet/view.js';

const CAP_MM = 3;
const CLEARANCE_MM = 0.5;
const REACH_MM = 32;
const DIRECTIONS = 36;
const LEAST_LEADER_MM = 1.5;
/** How far from the seam it is looked for the waste of a side, mm on the page. */
const PROBES_MM = [0.6, 1.2, 2, 3.5, 6] as const;

/** A number of one side of a join. All on the page, mm. */
export interface SideName {
  readonly text: string;
  /** Away from the seam, into this side: a unit vector. */
  readonly into: Point;
}

/**
 * The numbers of both sides of a join, each on its own side of the seam: in the waste that it names where there is room, else on paper with a leader. A number without a
 * place is left out; the sentence above the picture has it.
 */
export function joinNames(
  contours: readonly Contour[],
  { crossing, seam, frame, font }: { crossing: Point; seam: Contour; frame: Box; font: FontMetrics },
  names: readonly SideName[],
): Item[] {
  const space = new ClearSpace();
  space.addContours(contours, 1);
  space.addContours([seam], NO_OWNER);
  // The ring around the crossing stays free.
  space.addBox(growBox({ x0: crossing.x, y0: crossing.y, x1: crossing.x, y1: crossing.y }, 1.8), 1);
  const sides = outlinesOf(contours, frame).sides();
  return names.flatMap(({ text, into }) => {
    const target = wasteNear(sides, crossing, into);
    if (target === null) return [];
    for (const most of [0, 1]) {
      const placed = place(text, { target, sides, frame, font, space, most });
      if (placed) return placed;
    }
    return [];
  });
}

/** A place in the waste on one side of the seam, close to the crossing. */
function wasteNear(sides: readonly StraightSide[], at: Point, into: Point): Point | null {
  const along = { x: -into.y, y: into.x };
  for (const deep of PROBES_MM) {
    for (const far of PROBES_MM) {
      for (const way of [1, -1]) {
        const p = {
          x: at.x + deep * into.x + way * far * along.x,
          y: at.y + deep * into.y + way * far * along.y,
        };
        if (insideSides(sides, p)) return p;
      }
    }
  }
  return null;
}

function place(
  text: string,
  {
    target,
    sides,
    frame,
    font,
    space,
    most,
  }: {
    target: Point;
    sides: readonly StraightSide[];
    frame: Box;
    font: FontMetrics;
    space: ClearSpace;
    most: number;
  },
): Item[] | null {
  const unit = growBox(numberBox({ x: 0, y: 0 }, text, CAP_MM, font), CLEARANCE_MM);
  for (let r = 1.5; r <= REACH_MM; r *= 1.1) {
    for (let k = 0; k < DIRECTIONS; k++) {
      const angle = -Math.PI / 4 + (2 * Math.PI * k) / DIRECTIONS;
      const at = { x: target.x + r * Math.cos(angle), y: target.y + r * Math.sin(angle) };
      const box = { x0: at.x + unit.x0, y0: at.y + unit.y0, x1: at.x + unit.x1, y1: at.y + unit.y1 };
      if (!boxWithin(box, frame, FRAME_SLACK_MM) || !space.isClear(box)) continue;
      if (space.crossesOthers(target, at, 1) || crossings(sides, target, at) > most) continue;
      const label: Item = {
        kind: 'text',
        text,
        x: at.x,
        y: at.y + CAP_MM / 2,
        sizeMm: emOfCap(CAP_MM, font),
        anchor: 'middle',
        bold: true,
        colour: COLOURS.black,
      };
      if (most === 0) {
        space.addBox(box, NO_OWNER);
        return [label];
      }
      const length = distance(at, target);
      const back = Math.hypot(unit.x1, unit.y1) + 0.2;
      if (length < back + LEAST_LEADER_MM) continue;
      const end = {
        x: at.x - (back / length) * (at.x - target.x),
        y: at.y - (back / length) * (at.y - target.y),
      };
      space.addBox(box, NO_OWNER);
      const leader = polyline([target, end], { closed: false });
      return [{ kind: 'path', contours: [leader], line: { colour: GREY, widthMm: 0.2 } }, label];
    }
  }
  return null;
}

/** How many outlines a straight line crosses. */
export function crossings(sides: readonly StraightSide[], a: Point, b: Point): number {
  const turn = (px: number, py: number, qx: number, qy: number, rx: number, ry: number) =>
    (qx - px) * (ry - py) - (qy - py) * (rx - px) > 0;
  return sides.filter(
    ({ x0, y0, x1, y1 }) =>
      turn(x0, y0, x1, y1, a.x, a.y) !== turn(x0, y0, x1, y1, b.x, b.y) &&
      turn(a.x, a.y, b.x, b.y, x0, y0) !== turn(a.x, a.y, b.x, b.y, x1, y1),
  ).length;
}
