import type { GridPath, GridPoint } from '../geometry/grid.js';
import type { CurveMarks } from '../geometry/marks.js';
import { distance } from '../geometry/points.js';
import { areaPaths, type GridArea, unionAreas } from '../geometry/polygons.js';
import type { Box } from '../geometry/types.js';
import { slightWhy } from '../repeat/slight.js';
import { beforeLine, farthestOnSide, type HoldLine, pastLine } from './hold-line.js';
import { type Bank, type BankPlace, followBank } from './stop-banks.js';
import { type Chord, cornerChords, crossesRings, insideRings, narrowestChord } from './stop-chords.js';
import { type CutName, matchRuns, other, type Piece, type Stop, type StopLine, straightParts } from './stop-runs.js';

/** A stop moves at most this far from the hold line, mm. */
export const STOP_REACH_MM = 10;
/** On the held side it moves by at most this share of the held margin, so that what crosses the seam stays held. */
const HELD_SHARE = 0.4;
/** A place past the line has to be nearer to it by this than one before it, mm: holding more paper is the safer of two like places. */
const LEAD_PREFERENCE_MM = 1;
/** Nearer to a tip than this the outline is the tip's own, mm. */
const TIP_MM = 1;
/** Chords are looked at in this many places to see that they stay within reach. */
const CHORD_PLACES = 16;

/** A connected part of the sheet's openings, cut at the hold line. */
export interface HeldPart<A extends GridArea = GridArea> {
  readonly first: readonly A[];
  readonly second: readonly A[];
}

export interface StopOptions {
  readonly line: HoldLine;
  /** What is cut at all, grid units: an opening that runs on past it has no tip there. */
  readonly reach: Box;
  /** Grid units a mm. */
  readonly scale: number;
  readonly book: CurveMarks;
}

/** A better place for a stop: a chord, or the end of a whole piece, which then goes to the other cut. */
interface Place {
  readonly stop: Stop;
  readonly side: CutName;
  readonly chord: Chord | null;
  /** Distance from the line, mm, and more where a place before the line is as good. */
  readonly cost: number;
}

/**
 * Moves the stops of a part that the hold line cut to where a knife can stop: the nearest corner or tip within 10 mm of the line, before it or past
 * it; where there is none, the narrowest place, if it is clearly narrower than the opening at the line. Otherwise a stop stays on the
 * line. Both cuts together cover the same area as before and share just the stop lines. A part that is all in one cut comes back as it is.
 */
export function placeStops<A extends GridArea>(
  part: HeldPart<A>,
  options: StopOptions,
): { first: readonly (A | GridArea)[]; second: readonly (A | GridArea)[]; stops: StopLine[] } {
  if (part.first.length === 0 || part.second.length === 0) return { ...part, stops: [] };
  const pieces = [...part.first.map((a) => pieceOf(a, 'first')), ...part.second.map((a) => pieceOf(a, 'second'))];
  const { stops, others } = matchRuns(pieces, options.line);
  const walls = new Set<GridPoint>();
  const moved: StopLine[] = [];
  const open = new Set(stops);
  const loose: Piece[] = [];
  for (const stop of stops) {
    if (!open.has(stop)) continue;
    for (const place of placesFor(stop, { open, stops, walls, options })) {
      const done = place.chord ? cutAlong(place, place.chord, walls, options) : turnOver(place.stop.pieces[place.side]);
      if (done === null) continue;
      if (place.chord) {
        open.delete(stop);
        moved.push({ from: done.from, to: done.to });
        loose.push(done.piece);
      } else {
        for (const one of stops) if (one.pieces[place.side] === place.stop.pieces[place.side]) open.delete(one);
      }
      break;
    }
  }
  const kept = [...[...open].map(({ runs }) => runs.first), ...others];
  const onLine = kept.flatMap(straightParts);
  if (open.size === stops.length) return { ...part, stops: onLine };
  const glued = (side: CutName): GridArea[] =>
    unionAreas(
      areaPaths([...pieces, ...loose].filter((p) => p.side === side).map(({ outer, holes }) => ({ outer, holes }))),
      { book: options.book },
    );
  return { first: glued('first'), second: glued('second'), stops: [...moved, ...onLine] };
}

function pieceOf(area: GridArea, side: CutName): Piece {
  return { side, outer: [...area.outer], holes: [...area.holes] };
}

interface Search {
  readonly open: ReadonlySet<Stop>;
  readonly stops: readonly Stop[];
  readonly walls: ReadonlySet<GridPoint>;
  readonly options: StopOptions;
}

/** Better places for a stop, best first: corners and tips by their distance, then the narrowest. */
function placesFor(stop: Stop, search: Search): Place[] {
  const { scale } = search.options;
  const { nodes } = stop.runs.first;
  const [a, b] = [nodes[0], nodes[nodes.length - 1]];
  const lineLength = distance(a, b);
  const sharp: Place[] = [];
  const narrow: (Place & { length: number })[] = [];
  for (const side of ['first', 'second'] as const) {
    const penalty = side === 'second' ? LEAD_PREFERENCE_MM : 0;
    const place = (chord: Chord | null, off: number): Place => ({ stop, side, chord, cost: off / scale + penalty });
    const tip = tipOff(stop, side, search);
    if (tip !== null) sharp.push(place(null, tip));
    const banks = banksOf(stop, side, search);
    sharp.push(...cornerChords(banks, lineLength, scale).map((chord) => place(chord, chord.off)));
    const neck = tip === null && !banks.some((bank) => bank.met) ? narrowestChord(banks, lineLength, scale) : null;
    if (neck) narrow.push({ ...place(neck, neck.off), length: neck.length });
  }
  sharp.sort((p, q) => p.cost - q.cost);
  narrow.sort((p, q) => p.length * (10 + p.cost) - q.length * (10 + q.cost));
  return [...sharp, ...narrow];
}

function limitOf(side: CutName, { line, reach, scale }: StopOptions): number {
  const full = STOP_REACH_MM * scale;
  if (side === 'first') return full;
  const below = reach.y1 - line.bottom;
  const held = line.right === null ? below : Math.min(below, reach.x1 - line.right);
  return Math.min(full, HELD_SHARE * held);
}

function offOf(side: CutName, line: HoldLine): (p: GridPoint) => number {
  return side === 'first' ? (p) => beforeLine(p, line) : (p) => pastLine(p, line);
}

function onReach(p: GridPoint, reach: Box): boolean {
  return p.x <= reach.x0 || p.y <= reach.y0 || p.x >= reach.x1 || p.y >= reach.y1;
}

/** How far from the line a piece ends, where it ends by its own outline within the limit and all its stops can go; else null. */
function tipOff(stop: Stop, side: CutName, { open, stops, options, walls }: Search): number | null {
  const piece = stop.pieces[side];
  if (stops.some((one) => one.pieces[side] === piece && !open.has(one))) return null;
  const limit = limitOf(side, options);
  const off = offOf(side, options.line);
  let farthest = 0;
  let before = piece.outer[piece.outer.length - 1];
  for (const p of piece.outer) {
    const o = Math.max(off(p), side === 'first' ? farthestOnSide(before, p, options.line) : 0);
    if (o > limit || onReach(p, options.reach) || walls.has(p)) return null;
    farthest = Math.max(farthest, o);
    before = p;
  }
  return farthest;
}

/** The outline on both sides of a stop: back from where its run begins in the ring, and on from where it ends. */
function banksOf(stop: Stop, side: CutName, { stops, walls, options }: Search): [Bank, Bank] {
  const ring = stop.pieces[side].outer;
  const { nodes } = stop.runs[side];
  const ends = new Set(
    stops.filter((one) => one.pieces[side] === stop.pieces[side]).flatMap((o) => o.runs[side].nodes),
  );
  const [a, b] = [ring.indexOf(nodes[0]), ring.indexOf(nodes[nodes.length - 1])];
  const follow = (start: number, goal: number, direction: 1 | -1): Bank =>
    followBank(ring, start, goal, direction, {
      scale: options.scale,
      limit: limitOf(side, options),
      off: offOf(side, options.line),
      isWall: (p) => walls.has(p) || ends.has(p) || onReach(p, options.reach),
    });
  const banks: [Bank, Bank] = [follow(a, b, -1), follow(b, a, 1)];
  return banks[0].met ? [beforeTip(banks[0], options.scale), beforeTip(banks[1], options.scale)] : banks;
}

/** A bank that comes round to the other end of the stop, up to a little before its farthest place. */
function beforeTip({ places, met }: Bank, scale: number): Bank {
  const tip = places.reduce((a, b) => (b.off > a.off ? b : a));
  const end = places.indexOf(tip);
  const clear = places.findIndex((p, k) => k >= end || distance(p, tip) < TIP_MM * scale);
  return { places: places.slice(0, clear), met };
}

/** The whole piece goes to the other cut. */
function turnOver(piece: Piece): { from: GridPoint; to: GridPoint; piece: Piece } {
  piece.side = other(piece.side);
  return { from: piece.outer[0], to: piece.outer[0], piece };
}

/** Cuts what lies between a chord and the line off a piece, for the other cut; null where the chord leaves the opening or its reach. */
function cutAlong(
  { stop, side }: Place,
  { from, to }: Chord,
  walls: Set<GridPoint>,
  options: StopOptions,
): { from: GridPoint; to: GridPoint; piece: Piece } | null {
  const piece = stop.pieces[side];
  const [p, q] = [cornerAt(from), cornerAt(to)];
  const rings = [piece.outer, ...piece.holes];
  const middle = { x: (p.x + q.x) / 2 + 0.1, y: (p.y + q.y) / 2 + 0.1 };
  if (crossesRings(p, q, rings) || !insideRings(middle, rings)) return null;
  const limit = limitOf(side, options) + 1;
  const off = offOf(side, options.line);
  for (let i = 1; i < CHORD_PLACES; i++) {
    const t = i / CHORD_PLACES;
    if (off({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) }) > limit) return null;
  }
  const ring = [...piece.outer];
  insertCorner(ring, from, p, q, options.book);
  insertCorner(ring, to, q, p, options.book);
  const [at, end] = [ring.indexOf(p), ring.indexOf(q)];
  // Onward from the chord's one end round the stop to its other end lies what is cut off.
  const near = around(ring, at, end);
  const rest = around(ring, end, at);
  const { nodes } = stop.runs[side];
  if (near.length < 3 || rest.length < 3 || !near.includes(nodes[0]) || !near.includes(nodes[nodes.length - 1])) {
    return null;
  }
  // What is left before the chord has to be something that a blade can cut.
  if (slightWhy([rest], { sx: options.scale, sy: options.scale }) !== null) return null;
  const cutOff: Piece = { side: other(side), outer: alignedTo(near, stop, side), holes: [] };
  const stay: GridPath[] = [];
  for (const hole of piece.holes) (insideRings(hole[0], [near]) ? cutOff.holes : stay).push(hole);
  piece.outer = rest;
  piece.holes = stay;
  walls.add(p).add(q);
  return { from: p, to: q, piece: cutOff };
}

function cornerAt(place: BankPlace): GridPoint {
  if (place.after === place.before) return place.after;
  const at = { x: Math.round(place.x), y: Math.round(place.y), z: 0 };
  // A place that rounds to a corner is that corner.
  return [place.after, place.before].find((c) => c.x === at.x && c.y === at.y) ?? at;
}

/** Puts the end of a chord into the ring where it is not a corner of it yet, marked with the curve that it lies on. */
function insertCorner(ring: GridPath, place: BankPlace, at: GridPoint, end: GridPoint, book: CurveMarks): void {
  if (at === place.after || at === place.before) return;
  book.markCut(place.after, place.before, { ...at, z: 0 }, { ...end, z: 0 }, at);
  const next = ring.indexOf(place.before);
  // The side may have been divided by the chord's other end.
  const prior = ring[(next + ring.length - 1) % ring.length];
  const further = prior !== place.after && distance(prior, place.before) < distance(at, place.before);
  ring.splice(further ? ring.indexOf(prior) : next, 0, at);
}

/** The corners of a ring from one index on to another, both included. */
function around(ring: GridPath, from: number, to: number): GridPath {
  return from <= to ? ring.slice(from, to + 1) : [...ring.slice(from), ...ring.slice(0, to + 1)];
}

/** The ends of the stop moved onto those of its other side, a rounding away, so that both join without a nick. */
function alignedTo(ring: GridPath, stop: Stop, side: CutName): GridPath {
  const own = stop.runs[side].nodes;
  const others = stop.runs[other(side)].nodes;
  const [first, last] = [own[0], own[own.length - 1]];
  return ring.map((p) => {
    if (p === first) return { ...p, x: others[others.length - 1].x, y: others[others.length - 1].y };
    if (p === last) return { ...p, x: others[0].x, y: others[0].y };
    return p;
  });
}
