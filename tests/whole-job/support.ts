import { readFileSync } from 'node:fs';
import {
  boxContour,
  type Contour,
  circleContour,
  type Job,
  type JobFile,
  type JobResult,
  type Motif,
  type Point,
  polyline,
  readJob,
  runJob,
  type Shape,
} from '@okuri/core';
import { readSvg } from '@okuri/reader';
import fc from 'fast-check';

const INK = '#000000';
export const PAPER_COLOUR = '#ffffff';

const DEMO = new URL('../../fixtures/demo/', import.meta.url);

/** A job by what its file would say beside the motif; everything else is the default. */
export function jobOf(says: Partial<JobFile> = {}): Job {
  const file = { okuri: 1, motif: 'motif.svg', title: 'Test cloth', date: '2026-05-04', ...says };
  return readJob(JSON.stringify(file), { file: 'test.okuri.json' }).job;
}

/** Artwork for a unit of the given size, in mm. */
export function motifOf(shapes: readonly Shape[], widthMm: number, heightMm: number): Motif {
  return { frame: { widthMm, heightMm, from: 'page', assumedPpi: null }, shapes, notices: [] };
}

/** A whole job on shapes. */
export function runShapes(
  shapes: readonly Shape[],
  [widthMm, heightMm]: readonly [number, number],
  says: Partial<JobFile> = {},
): JobResult {
  return runJob(motifOf(shapes, widthMm, heightMm), jobOf(says));
}

/** The project's own demonstration job, with changes. */
export function demoJob(says: Partial<JobFile> = {}): { readonly motif: Motif; readonly job: Job } {
  const file = JSON.parse(readFileSync(new URL('demo.okuri.json', DEMO), 'utf8')) as JobFile;
  const { job } = readJob(JSON.stringify({ ...file, ...says }), { file: 'demo.okuri.json' });
  return { motif: readSvg(readFileSync(new URL('motif.svg', DEMO))), job };
}

export function fill(id: string, contours: readonly Contour[], ink: string = INK): Shape {
  return { id, ink, contours, rule: 'nonzero', clips: [] };
}

export function box(id: string, x0: number, y0: number, x1: number, y1: number): Shape {
  return fill(id, [boxContour({ x0, y0, x1, y1 })]);
}

export function disc(id: string, at: Point, radius: number, ink: string = INK): Shape {
  return fill(id, [circleContour(at, radius)], ink);
}

export function polygon(id: string, points: readonly (readonly [number, number])[]): Shape {
  return fill(id, [
    polyline(
      points.map(([x, y]) => ({ x, y })),
      { closed: true },
    ),
  ]);
}

/** A line drawn with a round pen. */
export function stroke(id: string, contours: readonly Contour[], width: number): Shape {
  return {
    id,
    ink: INK,
    contours,
    rule: 'nonzero',
    clips: [],
    stroke: {
      width,
      cap: 'butt',
      join: 'round',
      miterLimit: 4,
      dash: [],
      dashOffset: 0,
      pen: [1, 0, 0, 1, 0, 0],
    },
  };
}

/** Repeats as a job file says them: straight, and drops and bricks by all kinds of fractions. */
export const REPEATS: readonly Partial<JobFile>[] = [
  { repeat: 'straight' },
  ...(['drop', 'brick'] as const).flatMap((repeat) =>
    ['1/2', '1/3', '2/3', '2/5', '3/7', '11/12'].map((step) => ({ repeat, step })),
  ),
];

export const repeats = fc.constantFrom(...REPEATS);

/** Repeats with small denominators, where what is drawn grows with the denominator. */
export const shortRepeats = fc.constantFrom(...REPEATS.filter(({ step }) => step === undefined || !/7|12/.test(step)));

const part = fc.double({ min: 0, max: 1, noNaN: true });

/** Discs, bars under any angle, triangles and rings, anywhere on a unit of the given size and past its edges, with paper on top. */
export function artwork(widthMm: number, heightMm: number, most = 8): fc.Arbitrary<readonly Shape[]> {
  const one = fc
    .record({ kind: fc.constantFrom('disc', 'bar', 'triangle', 'ring'), x: part, y: part, r: part, turn: part })
    .map(({ kind, x, y, r, turn }): Shape => {
      const at = { x: x * widthMm, y: y * heightMm };
      const radius = 2 + r * 0.18 * Math.min(widthMm, heightMm);
      const angle = turn * 2 * Math.PI;
      const on = (u: number, v: number): readonly [number, number] => [
        at.x + u * Math.cos(angle) - v * Math.sin(angle),
        at.y + u * Math.sin(angle) + v * Math.cos(angle),
      ];
      if (kind === 'disc') return disc('disc', at, radius);
      if (kind === 'ring') return stroke('ring', [circleContour(at, radius)], 1 + r * 3);
      if (kind === 'triangle') return polygon('triangle', [on(-radius, -radius / 2), on(radius, 0), on(0, radius)]);
      const [u, v] = [2 * radius, 0.5 + radius / 5];
      return polygon('bar', [on(-u, -v), on(u, -v), on(u, v), on(-u, v)]);
    });
  return fc.array(fc.tuple(one, fc.integer({ min: 0, max: 5 })), { minLength: 1, maxLength: most }).map((list) =>
    // The lowest is always ink, so that there is something to cut.
    list.map(([shape, dice], k) => ({
      ...shape,
      id: `${shape.id}${k}`,
      ink: k > 0 && dice === 0 ? PAPER_COLOUR : INK,
    })),
  );
}

/** The sum of all openings' areas, mm². */
export function openAreaOf({ openings }: JobResult): number {
  return openings.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
}
