import {
  type Box,
  type Contour,
  type Ink,
  InputError,
  type Motif,
  type Notice,
  type Point,
  type Shape,
} from '@okuri/core';
import { boxWithin, counted, distance, said, translateContour } from '@okuri/core/inside';
import { type DarkArea, darkAreas, reachesInto } from '../trace/dark-areas.js';
import { SPECK_MM2 } from '../trace/trace-image.js';
import type { LeftOut, Trace } from '../types.js';
import type { FramedPicture } from './picture-frame.js';
import { sayMm } from './picture-scale.js';

/** What is drawn is black, whatever it was drawn with. */
export const TRACED_INK: Ink = '#000000';

/** Sides of a unit, mm: as for any other drawing that is read. */
const SIDE_MM = { min: 5, max: 3_000 } as const;

/** Places are kept to 0.1 µm, as the writers do, so that a motif and its file are the same. */
const PER_MM = 1e4;

/** Ink this near to the border of what is seen goes on beyond it, px. */
const BORDER_PX = 1.5;

/** What becomes of an area on the border that reaches less far than this into the frame, mm: the table around a sheet that does not lie flat. */
const FRINGE_MM = 3;

/** A dark area is the dot that was found there if its sides are its diameter to this factor. */
const DOT_SIZE_FACTOR = 1.6;

/** … or a part of it if it lies this near to its middle, diameters. */
const DOT_REACH = 0.6;

const SIDES = ['top', 'right', 'bottom', 'left'] as const;

export interface ScanMotifOptions {
  /** Limits that the trace was made with, mm². */
  readonly speckMm2?: number;
  readonly pinholeMm2?: number;
  /** What else has to be said of how the scan was read, in sentences that go on from "the scan": "it has 2 pages, …". */
  readonly remarks?: readonly string[];
}

/**
 * A trace as a motif: one shape for each connected dark area (so that spill is judged area by area), in one ink. Dots by which the scale was found, and
 * what lies around a sheet, are left out. Throws an `InputError` where nothing is left, or the frame is no size for a unit.
 */
export function motifFromTrace(trace: Trace, picture: FramedPicture, options: ScanMotifOptions = {}): Motif {
  const { frame, scale } = picture;
  checkSides(frame);
  const areas = darkAreas(trace.contours);
  const border = BORDER_PX / scale.pixelsPerMm;
  const isDot = (area: DarkArea) => picture.dots.some((dot) => matchesDot(area, dot));
  const touched = areas.map((area) => (isDot(area) ? [] : touchedSides(area, picture.seen, border)));
  const inner = {
    x0: frame.x0 + FRINGE_MM,
    y0: frame.y0 + FRINGE_MM,
    x1: frame.x1 - FRINGE_MM,
    y1: frame.y1 - FRINGE_MM,
  };
  const around = areas.map(
    (area, k) => touched[k].length > 0 && !reachesInto(area, inner) && !boxWithin(area.box, frame),
  );
  const kept = areas.filter((area, k) => !around[k] && !isDot(area));
  if (kept.length === 0) {
    throw new InputError(
      said(
        (voice) =>
          `Nothing is left of the drawing but specks, dots and what lies around it: scan it larger, or ${voice === 'command' ? 'say --speck with a smaller area' : 'make the limit for specks smaller'}.`,
      ),
    );
  }
  const by = { x: -frame.x0, y: -frame.y0 };
  const shapes = kept.map(
    ({ contours }, k): Shape => ({
      id: `path[${k + 1}]`,
      ink: TRACED_INK,
      contours: contours.map((contour) => rounded(translateContour(contour, by))),
      rule: 'nonzero',
      clips: [],
    }),
  );
  const runningOver = SIDES.filter((_, side) => touched.some((sides, k) => !around[k] && sides.includes(side)));
  const outside = around.filter(Boolean).length;
  const size = { widthMm: round(frame.x1 - frame.x0), heightMm: round(frame.y1 - frame.y0) };
  const notices = [
    notice(
      'scan-scale',
      `The scan's scale is from ${scale.words}: ${sayMm(size.widthMm)} × ${sayMm(size.heightMm)} mm.`,
    ),
    ...(options.remarks ?? []).map((remark) => notice('scan-read-as', `Of the scan: ${remark}.`)),
    ...leftOut('specks', trace.specks, options.speckMm2 ?? SPECK_MM2),
    ...leftOut('pinholes', trace.pinholes, options.pinholeMm2 ?? SPECK_MM2),
    ...(areas.some(isDot) ? [notice('scan-dots', 'The dots that gave the scale are left out of the drawing.')] : []),
    ...(outside > 0
      ? [
          notice(
            'scan-around',
            `What lies around the drawing and runs over the scan's edge is left out (${counted(outside, 'area')}).`,
          ),
        ]
      : []),
    ...(runningOver.length > 0 ? [edgeNotice(runningOver)] : []),
  ];
  return { frame: { ...size, from: 'page', assumedPpi: null }, shapes, notices };
}

function edgeNotice(sides: readonly string[]): Notice {
  return {
    ...notice(
      'scan-edge',
      `Ink runs over the edge of what the scan shows (${sides.join(', ')}) and ends there in a straight line: scan a wider part if the drawing goes on, or keep a smaller part of it.`,
    ),
    severity: 'look',
  };
}

function leftOut(what: 'specks' | 'pinholes', { count, areaMm2 }: LeftOut, limitMm2: number): Notice[] {
  if (count === 0) return [];
  const [one, done] = what === 'specks' ? ['speck', 'left out'] : ['pinhole', 'filled'];
  const name = count === 1 ? one : what;
  const words = `${count} ${name} under ${sayMm(limitMm2)} mm² ${count === 1 ? 'was' : 'were'} ${done} (${sayMm(areaMm2)} mm² in all).`;
  return [notice(`scan-${what}`, words)];
}

function notice(code: string, message: string): Notice {
  return { code, severity: 'note', message, element: 'the scan' };
}

/** Whether an area is a dot, or what the border of the part that is kept leaves of one. */
function matchesDot({ box }: DarkArea, { atMm, diameterMm }: FramedPicture['dots'][number]): boolean {
  const reach = DOT_REACH * diameterMm;
  if (boxWithin(box, { x0: atMm.x - reach, y0: atMm.y - reach, x1: atMm.x + reach, y1: atMm.y + reach })) return true;
  const sides = [box.x1 - box.x0, box.y1 - box.y0];
  const away = Math.hypot((box.x0 + box.x1) / 2 - atMm.x, (box.y0 + box.y1) / 2 - atMm.y);
  return (
    away < diameterMm / 2 &&
    sides.every((side) => side < DOT_SIZE_FACTOR * diameterMm && side > diameterMm / DOT_SIZE_FACTOR)
  );
}

/** Which of four sides an area touches with a node of its outline. */
function touchedSides({ contours }: DarkArea, corners: readonly Point[], reachMm: number): number[] {
  return SIDES.flatMap((_, side) => {
    const [a, b] = [corners[side], corners[(side + 1) % 4]];
    const length = distance(b, a);
    const near = ({ coords }: Contour) => {
      for (let k = 0; k < coords.length; k += 6) {
        const off = ((b.x - a.x) * (coords[k + 1] - a.y) - (b.y - a.y) * (coords[k] - a.x)) / length;
        if (Math.abs(off) < reachMm) return true;
      }
      return false;
    };
    return contours.some(near) ? [side] : [];
  });
}

function checkSides({ x0, y0, x1, y1 }: Box): void {
  const [width, height] = [x1 - x0, y1 - y0];
  const { min, max } = SIDE_MM;
  if (Math.min(width, height) >= min && Math.max(width, height) <= max) return;
  throw new InputError(
    `The drawing would be ${sayMm(width)} × ${sayMm(height)} mm, and sides of a unit are ${min} to ${max} mm: check the resolution or the distances.`,
  );
}

function round(mm: number): number {
  return Math.round(mm * PER_MM) / PER_MM;
}

function rounded({ closed, coords }: Contour): Contour {
  return { closed, coords: coords.map(round) };
}
