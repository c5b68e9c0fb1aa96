import { contourArea, contoursBox, polyline } from '../../geometry/contour.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import type { Dot } from '../../register/dots.js';
import { madeSheet } from '../../stencil/made-sheet.test-help.js';
import type { JudgedSheet, Measure, Sheet, SheetOpening } from '../../stencil/types.js';
import { inchFigure } from '../../units/format.js';

/** What a made-up sheet is like. */
export interface SampleOptions {
  /** About how many openings. */
  readonly count: number;
  readonly fieldWidthMm?: number;
  readonly fieldHeightMm?: number;
  readonly borderMm?: number;
  readonly trailingMm?: number;
}

const HELD_MM = 25.4;

/**
 * A made-up sheet of leaves for tests: leaves of many sizes stand in rows, those in the held margin are second cut, those on the hold line are
 * divided by it. The same options give the same sheet.
 */
export function sampleSheet(options: SampleOptions): JudgedSheet {
  const { count, fieldWidthMm = 420, fieldHeightMm = 560, borderMm = 40, trailingMm = 25 } = options;
  const field = { x0: borderMm, y0: borderMm, x1: borderMm + fieldWidthMm, y1: borderMm + fieldHeightMm };
  const heldRight = { ...field, x0: field.x1 - HELD_MM };
  const heldBottom = { ...field, y0: field.y1 - HELD_MM };
  const openings = leaves(field, count)
    .map((points) => divide(points, heldRight.x0, heldBottom.y0))
    .sort((a, b) => Number(a.first.length === 0) - Number(b.first.length === 0))
    .map(({ first, second }, k) => opening(k + 1, first, second));
  const dots = corners(field);
  return madeSheet({
    widthMm: field.x1 + trailingMm,
    heightMm: field.y1 + trailingMm,
    field,
    heldRight,
    heldBottom,
    dots,
    measures: measures(dots),
    openings,
    zones: [
      {
        letter: 'Z1',
        box: field,
        firstCut: openings.filter((o) => o.firstCut.length > 0).map((o) => o.number),
        secondCut: openings.filter((o) => o.secondCut.length > 0).map((o) => o.number),
      },
    ],
    stops: openings.flatMap((o) => stopsOf(o, heldRight.x0, heldBottom.y0)),
  });
}

/** Leaves on a grid of places, turned and sized by where they stand. */
function leaves(field: Box, count: number): Point[][] {
  const w = field.x1 - field.x0;
  const h = field.y1 - field.y0;
  const pitch = Math.sqrt((w * h) / count);
  const across = Math.max(1, Math.round(w / pitch));
  const down = Math.max(1, Math.round(count / across));
  const result: Point[][] = [];
  for (let k = 0; k < across * down; k++) {
    const centre = {
      x: field.x0 + ((k % across) + 0.5) * (w / across),
      y: field.y0 + (Math.floor(k / across) + 0.5) * (h / down),
    };
    const turn = k * 2.4;
    const length = 0.47 * Math.min(w / across, h / down) * (0.55 + 0.45 * Math.abs(Math.sin(k * 1.7)));
    const breadth = length * (0.06 + 0.5 * Math.abs(Math.cos(k * 0.9)));
    result.push(leaf(centre, length, breadth, turn));
  }
  return result;
}

function leaf(centre: Point, length: number, breadth: number, turn: number): Point[] {
  const parts = 24;
  return Array.from({ length: 2 * parts }, (_, k) => {
    const t = (k / parts) * Math.PI;
    const x = length * Math.cos(t);
    const y = breadth * Math.sin(t) * Math.abs(Math.sin(t / 2 + 0.3));
    return {
      x: centre.x + x * Math.cos(turn) - y * Math.sin(turn),
      y: centre.y + x * Math.sin(turn) + y * Math.cos(turn),
    };
  });
}

function divide(points: Point[], right: number, bottom: number): { first: Contour[]; second: Contour[] } {
  const left = clip(points, (p) => right - p.x);
  const first = clip(left, (p) => bottom - p.y);
  const beside = clip(points, (p) => p.x - right);
  const below = clip(left, (p) => p.y - bottom);
  const outlines = (list: Point[][]) => list.filter((p) => p.length > 2).map((p) => polyline(p, { closed: true }));
  return { first: outlines([first]), second: outlines([beside, below]) };
}

/** The part of a convex-enough outline where `inside` is positive (Sutherland and Hodgman, 1974). */
function clip(points: readonly Point[], inside: (p: Point) => number): Point[] {
  return points.flatMap((p, k) => {
    const o = points[(k + points.length - 1) % points.length];
    const a = inside(o);
    const b = inside(p);
    const cut = { x: o.x + ((p.x - o.x) * a) / (a - b), y: o.y + ((p.y - o.y) * a) / (a - b) };
    if (b > 0) return a > 0 ? [p] : [cut, p];
    return a > 0 ? [cut] : [];
  });
}

function opening(number: number, firstCut: Contour[], secondCut: Contour[]): SheetOpening {
  const all = [...firstCut, ...secondCut];
  const main = firstCut.length > 0 ? firstCut : secondCut;
  const { at, room } = roomiest(main[0]);
  return {
    number,
    openingId: `${number}`,
    firstCut,
    secondCut,
    areaMm2: all.reduce((sum, c) => sum + Math.abs(contourArea(c)), 0),
    box: contoursBox(all) as Box,
    labelAt: at,
    labelRoomMm: room,
    tool: 'knife',
    punchMm: null,
    cutLengthMm: 0,
    zone: 'Z1',
    done: false,
  };
}

/** The mean of the corners and its distance to the nearest of them: good for leaves. */
function roomiest({ coords }: Contour): { at: Point; room: number } {
  const points: Point[] = [];
  for (let k = 0; k + 7 < coords.length; k += 6) points.push({ x: coords[k], y: coords[k + 1] });
  const at = {
    x: points.reduce((s, p) => s + p.x, 0) / points.length,
    y: points.reduce((s, p) => s + p.y, 0) / points.length,
  };
  return { at, room: Math.min(...points.map((p) => Math.hypot(p.x - at.x, p.y - at.y))) };
}

function corners(field: Box): Dot[] {
  const { x0, y0, x1, y1 } = field;
  const middle = (y0 + y1) / 2;
  const places = [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: middle },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
    { x: x0, y: middle },
  ];
  return places.map((at, k) => ({ name: 'ABCDEF'[k], at, diameterMm: 1.2, lead: at.x === x0 }));
}

function measures(dots: readonly Dot[]): Measure[] {
  const pairs = [
    ['width', 0, 1],
    ['width', 4, 3],
    ['height', 0, 4],
    ['height', 1, 3],
    ['diagonal', 0, 3],
    ['diagonal', 1, 4],
    ['step', 0, 5],
    ['step', 1, 2],
  ] as const;
  return pairs.map(([what, a, b]) => {
    const mm = Math.hypot(dots[a].at.x - dots[b].at.x, dots[a].at.y - dots[b].at.y);
    const { text: inches, errorMm: inchErrorMm } = inchFigure(mm);
    return { what, from: dots[a].name, to: dots[b].name, mm, inches, inchErrorMm };
  });
}

function stopsOf({ number, firstCut }: SheetOpening, right: number, bottom: number): Sheet['stops'] {
  return firstCut.flatMap(({ coords }) => {
    const found = [];
    for (let k = 0; k + 7 < coords.length; k += 6) {
      const from = { x: coords[k], y: coords[k + 1] };
      const to = { x: coords[k + 6], y: coords[k + 7] };
      const on = (a: number, b: number, line: number) => Math.abs(a - line) < 1e-6 && Math.abs(b - line) < 1e-6;
      if (on(from.x, to.x, right) || on(from.y, to.y, bottom)) found.push({ number, from, to });
    }
    return found;
  });
}
