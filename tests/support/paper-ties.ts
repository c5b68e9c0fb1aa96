import {
  acceptTies,
  type Contour,
  type Job,
  type JobResult,
  type Lattice,
  type Motif,
  type Point,
  readJob,
  runJob,
  type SuggestedTies,
  suggestTies,
  type TieKind,
} from '@okuri/core';
import { judgedSheets, latticePoint, type NarrowPlace, nearestStep, writtenTies } from '@okuri/core/inside';
import { ringOf } from './flatten.js';

// A job before its suggested ties are accepted and after: what may have changed, and what must not.

/** Widths are compared with this much slack, mm. */
export const SLACK_MM = 0.01;
/** An end of a narrow place within this of an outline of the drawing lies on it, mm. */
const ON_OUTLINE_MM = 0.01;
/** Outlines are looked at as chords this long, mm: on an arc of 1 mm they are off by 0.0013 mm, and less on wider ones. */
const CHORD_MM = 0.1;
const MOST_CHORDS = 2000;
/** Places on copies of the unit are the same within this, mm. */
const SAME_MM = 0.02;

/** What a job file may say. */
export type Says = Readonly<Record<string, unknown>>;

/** A job by what its file would say; bare treated paper, so that necks are 2.0 mm and slits 0.8 mm. */
export function bareJob(says: Says): Job {
  const file = { okuri: 1, motif: 'motif.svg', title: 'Ties', date: '2026-05-04', gauze: false, ...says };
  return readJob(JSON.stringify(file), { file: 'ties.okuri.json' }).job;
}

/** A motif before and after all suggested ties went into its job file, as the command writes them. */
export interface Accepted {
  readonly before: JobResult;
  readonly found: readonly SuggestedTies[];
  readonly after: JobResult;
}

export function acceptAll(motif: Motif, says: Says, kind: TieKind | null = null): Accepted {
  const job = bareJob(says);
  const before = runJob(motif, job);
  const found = suggestTies(before);
  const none = found.every(({ suggested }) => suggested.length === 0);
  const { ties } = none ? job : acceptTies(job, found, { ids: 'all', stencil: null, kind });
  const after = runJob(motif, bareJob({ ...says, ties: writtenTies(ties) }));
  return { before, found, after };
}

/** What a motif's ties spoil: a sentence each. */
export function faultsOf({ before, found, after }: Accepted): string[] {
  return [
    ...newNarrowPlaces(before, after),
    ...looseIslands(before, found, after),
    ...after.findings.filter(({ code }) => code === 'tie-astray').map(({ message }) => message),
    ...(meetsOf(before) === meetsOf(after) ? [] : [`joins that meet: ${meetsOf(before)}, then ${meetsOf(after)}`]),
  ];
}

function meetsOf({ joins }: JobResult): string {
  return `${joins.filter(({ state }) => state === 'meets').length} of ${joins.length}`;
}

/**
 * Narrow places that came with the ties: narrower than asked for by more than the slack, with an end that is not on an outline of the drawing.
 * Where both ends are on outlines of the drawing, it was as narrow before.
 */
function newNarrowPlaces(before: JobResult, after: JobResult): string[] {
  return after.strength.flatMap((paper, k) => {
    const off = outlineDistance(before.cutOut[k].map(({ contour }) => contour));
    const isNew = ({ from, to }: NarrowPlace): boolean => Math.max(off(from), off(to)) > ON_OUTLINE_MM;
    const said = (what: string, limitMm: number, places: readonly NarrowPlace[]): string[] =>
      places
        .filter((place) => place.widthMm < limitMm - SLACK_MM && isNew(place))
        .map(({ widthMm, atMm }) => `new ${what} of ${widthMm.toFixed(3)} mm at ${placeText(atMm)}`);
    return [...said('neck', paper.rules.neckMm, paper.necks), ...said('slit', paper.rules.slitMm, paper.slits)];
  });
}

/** Islands that are still there though nothing was said of them. */
function looseIslands(before: JobResult, found: readonly SuggestedTies[], after: JobResult): string[] {
  return judgedSheets(after).flatMap(({ field, paper }, k) =>
    paper.islands
      .filter(({ at }) => {
        const onField = { x: at.x - field.x0, y: at.y - field.y0 };
        return !found[k].impossible.some(({ atMm }) => isSame(onField, atMm, before.lattice));
      })
      .map(({ at, areaMm2 }) => `an island of ${areaMm2.toFixed(1)} mm² is loose at ${placeText(at)}`),
  );
}

function isSame(a: Point, b: Point, lattice: Lattice): boolean {
  const { step } = nearestStep(lattice, { x: a.x - b.x, y: a.y - b.y });
  const v = latticePoint(lattice, step);
  return Math.hypot(a.x - b.x - v.x, a.y - b.y - v.y) < SAME_MM;
}

function placeText({ x, y }: Point): string {
  return `${x.toFixed(2)}, ${y.toFixed(2)}`;
}

/** Side of the squares in which chords are looked up, mm. */
const SQUARE_MM = 2;
/** Farther than this is far, mm. */
const FAR_MM = 0.1;

/** The distance of places from outlines, mm, up to `FAR_MM`: by plain chords of the cubics, and no part of the engine. */
export function outlineDistance(contours: readonly Contour[]): (at: Point) => number {
  const chords: (readonly [number, number, number, number])[] = [];
  const squares = new Map<string, number[]>();
  const square = (v: number): number => Math.floor(v / SQUARE_MM);
  for (const { coords } of contours) {
    for (let o = 0; o + 7 < coords.length; o += 6) {
      const cubic = { closed: false, coords: coords.subarray(o, o + 8) };
      const parts = Math.min(MOST_CHORDS, Math.max(4, Math.ceil(lengthOf(cubic.coords) / CHORD_MM)));
      const ring = ringOf(cubic, parts);
      for (let k = 1; k < ring.length; k++) {
        const [[x0, y0], [x1, y1]] = [ring[k - 1], ring[k]];
        chords.push([x0, y0, x1, y1]);
        const [left, right] = [Math.min(x0, x1) - FAR_MM, Math.max(x0, x1) + FAR_MM];
        const [top, bottom] = [Math.min(y0, y1) - FAR_MM, Math.max(y0, y1) + FAR_MM];
        for (let i = square(left); i <= square(right); i++) {
          for (let j = square(top); j <= square(bottom); j++) {
            const key = `${i} ${j}`;
            const list = squares.get(key);
            if (list) list.push(chords.length - 1);
            else squares.set(key, [chords.length - 1]);
          }
        }
      }
    }
  }
  return ({ x, y }) => {
    let least = FAR_MM;
    for (const k of squares.get(`${square(x)} ${square(y)}`) ?? []) {
      const [x0, y0, x1, y1] = chords[k];
      const [dx, dy] = [x1 - x0, y1 - y0];
      const t = Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy || 1)));
      least = Math.min(least, Math.hypot(x0 + t * dx - x, y0 + t * dy - y));
    }
    return least;
  };
}

function lengthOf(q: Float64Array): number {
  return (
    Math.hypot(q[2] - q[0], q[3] - q[1]) + Math.hypot(q[4] - q[2], q[5] - q[3]) + Math.hypot(q[6] - q[4], q[7] - q[5])
  );
}
