import { moveBox } from '../geometry/boxes.js';
import type { Box, Point } from '../geometry/types.js';
import type { Dot } from '../register/dots.js';
import { type NextSheets, sheetDots } from '../register/dots.js';
import type { Lattice, Repeat } from '../repeat/types.js';
import { type SeatedSheet, type SeatGround, seatGround } from './seat-ground.js';
import type { DotSeat } from './types.js';

export interface SeatOptions {
  /** How the sheets step on the cloth: the repeat of their field. */
  readonly lattice: Lattice;
  readonly sides: NextSheets;
  /** Paper that has to stay between a dot and an opening, mm. */
  readonly tieWidthMm: number;
  readonly diameterMm: number;
  readonly sightMm: number;
}

/** Where the dots of a cloth's sheets go. */
export interface SeatedDots {
  readonly seat: DotSeat;
  /** How far the frame of the dots moved, mm; nothing for the corners and for the selvedges, where it only widens. */
  readonly movedMm: Point;
  readonly dots: readonly Dot[];
  /** How much the dots show, from 0 (a tie's width from the tip of an opening, not moved) up; null where they were not judged. */
  readonly score: number | null;
}

/** Dots in the selvedge stand this far outside the field at least, mm: within the quarter inch of cloth that is lost along its edges. */
export const SELVEDGE_MM = 5;

/** Places are tried on a grid of this, mm. */
const GRID_MM = 1;
/** Dots stay this far from the edge of the paper, mm: a ring, its letter, and paper enough to hold. */
const EDGE_MM = 10;
/** The clipped corner of the paper and the edge beside it, as far along the sum of both coordinates, mm. */
const CLIPPED_SUM_MM = 34;
/** The frame of the dots moves no farther than this each way, mm. */
const MOVE_MAX_MM = 30;
/** A dot this much farther than a tie's width from the nearest opening stands alone on plain ground, mm. */
const ALONE_MM = 12;
/** What a dot beside a smooth stretch of outline costs more than one beside a tip; a dot alone on plain ground costs 1. */
const SMOOTH_COST = 0.25;
/** What moving the frame by `MOVE_MAX_MM` costs: among places that show alike the nearest to the corners is taken. */
const MOVE_COST = 0.1;
/** Scores nearer than this are one, and lengths too, mm: rounding. */
const SAME_SCORE = 1e-9;

/**
 * Where the dots of sheets that print one cloth show least, the same for all of them.
 *
 * With one column on the cloth (no brick) they go out into the selvedges beside the field, `SELVEDGE_MM` or a tie's width clear of it. Else
 * the whole frame of dots is moved as one, so that every step's pairs stay pairs: on a grid of 1 mm, never so far that a dot
 * comes near the edge of the paper. A place counts only where every dot, its rim a tie's width away, is clear of every opening of every sheet and
 * of its neighbours on the cloth. Its score is the mean over the dots that print of: the share of `ALONE_MM` by which the dot stands farther than a tie's
 * width from the nearest outline, and `SMOOTH_COST` unless that place of the outline is a tip; plus `MOVE_COST` for moving by `MOVE_MAX_MM`. The
 * lowest wins; among equals the least move, then the upper one, then the left one. Where no place counts the dots stay on the corners.
 */
export function seatDots(sheets: readonly SeatedSheet[], options: SeatOptions): SeatedDots {
  const { lattice, sides } = options;
  const [sheet] = sheets;
  if (sheet === undefined) throw new RangeError('got no sheet, expected those of a job');
  const corners = {
    seat: 'corners',
    movedMm: { x: 0, y: 0 },
    dots: dotsOn(sheet.field, options),
    score: null,
  } as const;
  const ground = seatGround(sheets, { lattice, sides, reachMm: options.tieWidthMm + ALONE_MM + options.sightMm });
  if (ground === null) return corners;
  if (!sides.right && lattice.repeat.kind !== 'brick') {
    const out = intoSelvedges(sheet, options, ground);
    if (out !== null) return out;
  }
  const places = movesOf(sheet)
    .flatMap((movedMm) => {
      const dots = dotsOn(moveBox(sheet.field, movedMm), options);
      if (!dots.every((dot) => isOnPaper(dot.at, sheet))) return [];
      const score = scoreOf(dots, movedMm, ground, options);
      return score === null ? [] : [{ movedMm, dots, score }];
    })
    // A stable sort: moves come shortest first. Whole numbers, so that rounding chooses nothing.
    .sort((a, b) => Math.round(a.score / SAME_SCORE) - Math.round(b.score / SAME_SCORE));
  // Whether a place lies inside an opening is costly to tell, so it is asked of the best ones first.
  const best = places.find(({ dots }) => dots.every(({ at }) => !ground.isInside(at)));
  if (best === undefined) return corners;
  const stays = best.movedMm.x === 0 && best.movedMm.y === 0;
  return { seat: stays ? 'corners' : 'openings', ...best };
}

/** The dots on a frame. */
function dotsOn(frame: Box, { lattice, sides, diameterMm, sightMm }: SeatOptions): Dot[] {
  const repeat: Repeat = lattice.repeat;
  return sheetDots(frame, repeat, { diameterMm, sightMm, sides });
}

/** The corner dots moved out to both sides; null where the border is too narrow or an opening reaches there. */
function intoSelvedges(sheet: SeatedSheet, options: SeatOptions, ground: SeatGround): SeatedDots | null {
  const { field } = sheet;
  const radius = Math.max(options.diameterMm, options.sightMm) / 2;
  // Openings run past the lead side by the lap.
  const outMm = Math.max(SELVEDGE_MM, Math.ceil(options.tieWidthMm + radius + sheet.lapMm));
  const dots = dotsOn({ ...field, x0: field.x0 - outMm, x1: field.x1 + outMm }, options);
  const clear = dots.every(
    (dot) =>
      isOnPaper(dot.at, sheet) && roomOf(dot, ground) >= options.tieWidthMm - SAME_SCORE && !ground.isInside(dot.at),
  );
  return clear ? { seat: 'selvedge', movedMm: { x: 0, y: 0 }, dots, score: null } : null;
}

/** Moves of the frame, the shortest first, the upper and then the left one among equals. */
function movesOf({ field, widthMm, heightMm }: SeatedSheet): Point[] {
  const steps = (before: number, after: number): number[] => {
    const low = -Math.floor(Math.min(MOVE_MAX_MM, Math.max(0, before - EDGE_MM)) / GRID_MM);
    const high = Math.floor(Math.min(MOVE_MAX_MM, Math.max(0, after - EDGE_MM)) / GRID_MM);
    return Array.from({ length: high - low + 1 }, (_, k) => (low + k) * GRID_MM);
  };
  const across = steps(field.x0, widthMm - field.x1);
  return steps(field.y0, heightMm - field.y1)
    .flatMap((y) => across.map((x) => ({ x, y })))
    .sort((a, b) => a.x * a.x + a.y * a.y - (b.x * b.x + b.y * b.y) || a.y - b.y || a.x - b.x);
}

function isOnPaper({ x, y }: Point, { widthMm, heightMm }: SeatedSheet): boolean {
  const inside = x >= EDGE_MM && y >= EDGE_MM && x <= widthMm - EDGE_MM && y <= heightMm - EDGE_MM;
  return inside && x + y >= CLIPPED_SUM_MM;
}

/** How much dots show; null where one is not clear of an opening. */
function scoreOf(dots: readonly Dot[], moved: Point, ground: SeatGround, { tieWidthMm }: SeatOptions): number | null {
  let sum = 0;
  let printed = 0;
  for (const dot of dots) {
    const near = ground.nearest(dot.at);
    const room = near.mm - dot.diameterMm / 2 - tieWidthMm;
    if (room < -SAME_SCORE) return null;
    if (!dot.lead) continue;
    sum += Math.min(1, Math.max(0, room) / ALONE_MM + (near.tip ? 0 : SMOOTH_COST));
    printed++;
  }
  return sum / printed + (MOVE_COST * Math.hypot(moved.x, moved.y)) / MOVE_MAX_MM;
}

function roomOf(dot: Dot, ground: SeatGround): number {
  return ground.nearest(dot.at).mm - dot.diameterMm / 2;
}
