import type { Point, Severity } from '@okuri/core';
import { SquareIndex } from '@okuri/core/inside';
import { traceSeverity } from './severity-shape';
import { drawName, twoTone } from './two-tone';

/** A place of the sheet as it is marked, px of the window. */
export interface PlaceMark {
  readonly name: string;
  readonly severity: Severity;
  readonly at: Point;
  readonly across: readonly [Point, Point] | null;
  readonly chosen: boolean;
}

/** A mark with its name in it takes up this much, px; one for which there is no room is so small. */
const NAMED = { wide: 30, high: 24 } as const;
const SMALL_PX = 5;
const SMALL_NOTE_PX = 3;
const RING_PX = 20;
/** With more marks than these in sight what is merely good to know bears no name. */
const MOST_NOTES_NAMED = 30;

/**
 * Which marks have room for their names, the first ones first: a sheet may have more places than a window holds. The chosen one always has.
 */
export function withRoom(marks: readonly PlaceMark[]): boolean[] {
  const taken = new SquareIndex<Point>(1);
  const chosen = marks.findIndex((mark) => mark.chosen);
  const order = marks.map((_, k) => k);
  if (chosen > 0) order.unshift(...order.splice(chosen, 1));
  const room: boolean[] = marks.map(() => false);
  const many = marks.length > MOST_NOTES_NAMED;
  for (const k of order) {
    if (many && marks[k].severity === 'note' && !marks[k].chosen) continue;
    const { x, y } = marks[k].at;
    const named = { x: x / NAMED.wide, y: y / NAMED.high };
    if (taken.around(named).some((p) => Math.abs(p.x - named.x) < 1 && Math.abs(p.y - named.y) < 1)) continue;
    room[k] = true;
    taken.add(named, named);
  }
  return room;
}

/** Marks over a sheet: the shape says how grave it is (square, triangle, lozenge, disc, as in the list), the name what it is. */
export function drawPlaces(context: CanvasRenderingContext2D, marks: readonly PlaceMark[]): void {
  const room = withRoom(marks);
  // The worst lie on top.
  for (let k = marks.length - 1; k >= 0; k--) {
    if (!room[k]) drawShape(context, marks[k], marks[k].severity === 'note' ? SMALL_NOTE_PX : SMALL_PX);
  }
  for (let k = marks.length - 1; k >= 0; k--) {
    if (!room[k]) continue;
    const mark = marks[k];
    if (mark.across !== null && mark.chosen) {
      context.beginPath();
      context.moveTo(mark.across[0].x, mark.across[0].y);
      context.lineTo(mark.across[1].x, mark.across[1].y);
      twoTone(context, [], 3);
    }
    if (mark.chosen) {
      context.beginPath();
      context.arc(mark.at.x, mark.at.y, RING_PX, 0, 2 * Math.PI);
      twoTone(context, [], 2);
    }
    // Beside the place, so that the place itself is seen.
    const aside = mark.chosen ? RING_PX + 14 : 0;
    const at = { x: mark.at.x + aside, y: mark.at.y - aside };
    drawShape(context, { ...mark, at: { x: at.x, y: at.y - 14 } }, 7);
    drawName(context, mark.name, at.x, at.y + 2, mark.chosen);
  }
}

function drawShape(
  context: CanvasRenderingContext2D,
  { severity, at }: Pick<PlaceMark, 'severity' | 'at'>,
  r: number,
): void {
  traceSeverity(context, severity, at, r);
  context.fillStyle = severity === 'stop' || severity === 'fix' ? '#000000' : '#ffffff';
  context.fill();
  context.lineWidth = 1.5;
  context.setLineDash([]);
  context.strokeStyle = severity === 'stop' || severity === 'fix' ? '#ffffff' : '#000000';
  context.stroke();
}
